"""A lawful but unusual rig comes out clean: no finding above a notice, and no question that nobody can answer."""

from __future__ import annotations

from datetime import date

import pytest
from support.in_full import sites_in_full
from support.lawful_rigs import LAWFUL, rig_text

import rigcheck
from rigcheck.rules.limits import LOCAL_CODES
from rigcheck.rules.pack import Pack

_DAY = date(2026, 11, 25).toordinal()
_CASES = [(name, code) for name, (codes, _) in LAWFUL.items() for code in codes]


def _told(text: str, name: str, code: str, pack: Pack) -> list[tuple[str, ...]]:
    rig = rigcheck.load_rig(text.encode(), f"{name}.yaml", pack.vocabulary)
    inspection = rigcheck.inspect_rig(rig, pack, day=_DAY, local_code=code)
    found = [(one.signal, one.rule, one.thing, str(one.found)) for one in inspection.findings]
    asked = [(q.thing, q.fact, q.ask, *(w.rule for w in q.waiting)) for q in inspection.questions]
    return [*(one for one in found if one[0] != "notice"), *asked]


@pytest.mark.parametrize(("name", "code"), _CASES)
def test_a_lawful_rig_comes_out_clean(name: str, code: str, pack: Pack) -> None:
    assert _told(rig_text(name, code), name, code, pack) == []


@pytest.mark.parametrize("code", LOCAL_CODES)
def test_no_standard_rig_asks_for_a_figure_that_nobody_can_work_out(code: str, pack: Pack) -> None:
    asked = {}
    for path in sorted((rigcheck.configs_folder() / "templates").glob("*.yaml")):
        rig = rigcheck.load_rig(path.read_bytes(), path.name, pack.vocabulary)
        questions = rigcheck.inspect_rig(rig, pack, day=_DAY, local_code=code).questions
        asked[path.stem] = [(q.thing, q.fact) for q in questions if "cannot be worked out" in q.ask]
    assert len(asked) > 8
    assert {name: found for name, found in asked.items() if found} == {}


@pytest.mark.parametrize("code", ["general", "uk", "eu"])
def test_a_torch_in_free_air_comes_out_clean(code: str, pack: Pack) -> None:
    path = sites_in_full() / "pipe-loft-brazing.yaml"
    assert _told(path.read_text(encoding="utf-8"), path.stem, code, pack) == []
