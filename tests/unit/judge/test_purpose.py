"""What a rig is judged for: what passes in a day or a job does not count in a standard rig, nor undated in use."""

from __future__ import annotations

from collections import Counter
from datetime import date
from pathlib import Path

import pytest
from support.in_full import text_in_full

from rigcheck.facts.known import Purpose, is_fleeting
from rigcheck.judge.inspection import explain
from rigcheck.judge.judged import judge
from rigcheck.rig.loader import load_rig
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack

_TEMPLATES = sorted((configs_folder() / "templates").glob("*.yaml"))
_DAY = date(2026, 11, 25).toordinal()
_RIG = """\
rig: one length of hose
{head}lines:
  - gas: oxygen
    parts:
      - hose: {{cover: sound, kinked: no}}
"""


def _verdicts(text: str, pack: Pack, purpose: Purpose, day: int = _DAY) -> Counter[str]:
    judged = judge(load_rig(text.encode(), "rig.yaml", pack.vocabulary), pack, day=day, purpose=purpose)
    return Counter(explain(judged).verdicts)


@pytest.mark.parametrize("template", _TEMPLATES, ids=lambda path: path.stem)
def test_a_standard_rig_has_the_same_verdicts_on_whatever_day(template: Path, pack: Pack) -> None:
    text = template.read_text(encoding="utf-8")
    now, later = (_verdicts(text, pack, "standard", day) for day in (_DAY, _DAY + 4000))
    assert now == later
    assert now["not judged"] > 0


@pytest.mark.parametrize("site", ["wharf-crane-rail", "boiler-house-heating"])
def test_a_rig_full_of_days_judged_as_a_standard_rig_says_the_same_on_whatever_day(site: str, pack: Pack) -> None:
    def told(day: int, purpose: Purpose = "standard") -> tuple[object, ...]:
        rig = load_rig(text_in_full(site).encode(), "rig.yaml", pack.vocabulary)
        found = explain(judge(rig, pack, day=day, purpose=purpose))
        findings = {(one.rule, one.thing, one.found_words) for one in found.findings}
        return findings, {(one.thing, one.fact, one.ask) for one in found.questions}, dict(found.verdicts)

    assert told(_DAY) == told(_DAY + 1) == told(_DAY + 400) == told(_DAY + 4000)
    assert told(_DAY, "commissioning") != told(_DAY + 400, "commissioning")


def test_a_standard_rig_is_not_asked_for_what_does_not_last(pack: Pack) -> None:
    data = _TEMPLATES[0].read_bytes()
    judged = judge(load_rig(data, "rig.yaml", pack.vocabulary), pack, day=_DAY, purpose="standard")
    questions = explain(judged).questions
    assert questions
    kinds = pack.vocabulary.kinds
    assert [one.fact for one in questions if is_fleeting(kinds[one.kind], one.fact)] == []


@pytest.mark.parametrize(
    ("head", "purpose", "counts"),
    [
        ("", "commissioning", True),
        ("", "use", False),
        ("seen: 2026-11-25\n", "use", True),
        ("seen: 2026-11-24\n", "use", False),
    ],
)
def test_in_use_what_lasts_for_a_day_counts_only_where_it_was_seen_in_it(
    head: str, purpose: Purpose, counts: bool, pack: Pack
) -> None:
    rig = load_rig(_RIG.format(head=head).encode(), "rig.yaml", pack.vocabulary)
    judged = judge(rig, pack, day=_DAY, purpose=purpose)
    asked = {one.fact for one in explain(judged).questions if one.kind == "hose"}
    assert ("kinked" not in asked) == counts
    assert "cover" not in asked
