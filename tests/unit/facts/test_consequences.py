"""What follows from stated facts: it spares questions, and finds statements that contradict it."""

from __future__ import annotations

from datetime import date

from rigcheck.judge.inspection import inspect_rig
from rigcheck.judge.judged import Judged, judge
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import MISSING, Thing
from rigcheck.rules.pack import Pack

DAY = date(2026, 11, 25).toordinal()
RIG = """
rig: one that says little
site: {{place: {place}, closed_in: no}}
workpiece: {{form: open-plate}}
lines:
  - gas: oxygen
    parts:
      - cylinder: {{pressure: {pressure}}}
      - regulator
      - arrester: {{tested: 2020-05-01}}
      - hose
torch: {{}}
"""


def judged(pack: Pack, place: str = "open-air", pressure: str = "150 bar", text: str = RIG) -> Judged:
    rig = load_rig(text.format(place=place, pressure=pressure).encode(), "small.yaml", pack.vocabulary)
    return judge(rig, pack, day=DAY)


def one(found: Judged, kind: str) -> Thing:
    return next(found.known.filled.of_kind(kind))


def asked(found: Judged) -> set[str]:
    inspection = inspect_rig(found.rig, found.rules.pack, day=DAY)
    return {f"{question.kind}.{question.fact}" for question in inspection.questions}


def test_the_open_air_changes_by_itself_and_nobody_is_asked_for_it(pack: Pack) -> None:
    found = judged(pack)
    assert one(found, "site").facts["ventilation"] == "open-air"
    assert "site.ventilation" not in asked(found)
    assert "site.ventilation" in asked(judged(pack, place="workshop"))


def test_what_does_not_follow_stays_unknown(pack: Pack) -> None:
    assert one(judged(pack, place="workshop"), "site").facts.get("ventilation", MISSING) is MISSING


def test_a_flat_plate_has_held_nothing_and_a_cylinder_in_its_line_is_connected(pack: Pack) -> None:
    found = judged(pack)
    assert one(found, "workpiece").facts["last_held"] == "nothing"
    assert one(found, "cylinder").facts["connected"] is True
    assert one(found, "cylinder").facts["empty"] is False


def test_a_part_is_at_least_as_old_as_its_last_test(pack: Pack) -> None:
    age = one(judged(pack), "arrester").facts["age"]
    assert age.lo > 78.0  # months since May 2020
    assert age.text.startswith("at least 6.5")
    rules = {finding.rule for finding in inspect_rig(judged(pack).rig, pack, day=DAY).findings}
    assert any("arrester" in rule and "service_life" in rule for rule in rules)


def test_what_is_written_against_what_follows_is_in_dispute(pack: Pack) -> None:
    text = RIG.replace("pressure: {pressure}", "pressure: {pressure}, connected: no")
    cylinder = one(judged(pack, text=text), "cylinder")
    assert [witness.basis for witness in cylinder.disputes["connected"]] == ["written", "follows"]


def test_the_rig_itself_is_left_as_it_was_written(pack: Pack) -> None:
    found = judged(pack)
    assert "ventilation" not in next(found.rig.of_kind("site")).facts
    assert found.rig.root.facts is not found.known.root.facts
