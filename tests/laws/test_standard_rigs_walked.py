"""Each standard rig, asked of somebody who looks well where nothing is wrong, leaves nothing open that can be DANGER.

From the standard rig and from its bare parts. The law is ours; what is right in such a rig stands in demo rigs.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from support.simulated_people import Round, bare, knows_all, sound, walked

import rigcheck
from rigcheck.rules.pack import Pack

_TEMPLATES = sorted((rigcheck.configs_folder() / "templates").glob("*.yaml"))
_FEW = {("oxygen-lance", "its bare parts")}  # leads, a manifold, and no torch of the usual sort
_CASES = [
    pytest.param(
        path,
        way,
        marks=() if (path.stem, way) in _FEW else pytest.mark.whole,
        id=f"{path.stem}, from {way}",
    )
    for path in _TEMPLATES
    for way in ("the standard rig", "its bare parts")
]


@pytest.mark.parametrize(("path", "way"), _CASES)
def test_who_looks_well_where_nothing_is_wrong_leaves_no_danger_open(path: Path, way: str, pack: Pack) -> None:
    text = path.read_text(encoding="utf-8")
    truth = Round(text.encode(), pack, text=sound(text.encode(), pack)).judged().known.filled
    presumed = f"rig: a set\nlocal_code: general\nstandard_rig: {path}\n".encode()
    went = Round(bare(text) if way == "its bare parts" else presumed, pack, only="danger")
    end = walked(went, knows_all(truth), finds=False)
    assert end.left.get("danger", 0) == 0
    assert [one for one in end.findings if one.signal == "danger"] == []
