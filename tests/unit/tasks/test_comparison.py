"""Departures of one description from another, and the rules that they touch."""

from __future__ import annotations

from collections import Counter
from datetime import date

import pytest
from support.in_full import sites_in_full

from rigcheck.judge.inspection import inspect_rig
from rigcheck.report.compare.departures_text import departure_lines
from rigcheck.report.text.layout import plain_text
from rigcheck.rig.loader import load_rig
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import SIGNALS
from rigcheck.tasks.comparison import compare_rigs
from rigcheck.tasks.departures import Comparison, Departure

DAY = date(2026, 11, 25).toordinal()
TEMPLATES = sorted((configs_folder() / "templates").glob("*.yaml"))
TEMPLATE = configs_folder() / "templates" / "oxy-propane-cutting.yaml"
SMALL = """\
rig: Set
trolley: {tilt: 5 deg}
lines:
  - gas: propane
    parts:
      - cylinder: {upright: true}
      - regulator: {set_pressure: 0.3 bar, inlet_gauge: {full_scale: 40 bar}}
      - arrester: {gases: [propane]}
      - hose: {bore: 8 mm, colour: orange, made: 2024-03}
      - joint: {leak_test: tight}
  - gas: oxygen
    parts: [cylinder, regulator, arrester, hose, arrester]
torch: {form: cutting, nozzle: {size: 1}}
"""


def compared(pack: Pack, before: str, after: str, code: str = "") -> Comparison:
    rigs = (load_rig(t.encode(), n, pack.vocabulary) for t, n in ((before, "a.yaml"), (after, "b.yaml")))
    return compare_rigs(*rigs, pack, day=DAY, local_code=code)


def changed(pack: Pack, was: str, now: str, text: str = SMALL) -> Comparison:
    assert was in text
    return compared(pack, text, text.replace(was, now, 1))


def only(comparison: Comparison) -> Departure:
    (departure,) = comparison.departures
    return departure


def turned(comparison: Comparison) -> set[tuple[str, str, str, str]]:
    own = {turn for d in comparison.departures for touched in d.touched for turn in touched.turns}
    return {(t.rule.name, t.thing, t.before, t.after) for t in (*own, *comparison.other_turns)}


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.stem)
def test_a_rig_does_not_depart_from_itself(pack: Pack, path: object) -> None:
    text = path.read_text(encoding="utf-8")  # type: ignore[attr-defined]
    comparison = compared(pack, text, text)
    assert comparison.same and not comparison.other_turns and not comparison.filled_in


@pytest.mark.parametrize(
    ("was", "now"),
    [
        ("bore: 8 mm", "bore: 0.8 cm"),
        ("set_pressure: 0.3 bar", "set_pressure: 30 kPa"),
        ("upright: true", "upright: yes"),
        ("colour: orange", "colour: Orange"),
        ("rig: Set", "rig: Another name"),
        ("rig: Set", "# a remark\nrig: Set"),
        ("{tilt: 5 deg}", "\n  tilt: 5 deg\n  track_width: unknown"),
        ("torch:", "site: {}\ntorch:"),
    ],
)
def test_another_spelling_is_no_difference(pack: Pack, was: str, now: str) -> None:
    assert changed(pack, was, now).same


def test_a_changed_fact_has_both_values_as_written_and_both_places(pack: Pack) -> None:
    one = only(changed(pack, "bore: 8 mm", "bore: 1/4 in"))
    assert (one.how, one.thing, one.line, one.fact) == ("changed", "propane hose", "propane line", "bore")
    assert one.before and one.after
    assert (one.before.value, str(one.before.place)) == ("8 mm", "a.yaml:9:22")
    assert (one.after.value, str(one.after.place)) == ("1/4 in", "b.yaml:9:22")


def test_a_fact_that_one_does_not_state_is_told_as_such(pack: Pack) -> None:
    gone = only(changed(pack, "colour: orange, ", ""))
    assert (gone.how, gone.fact, gone.after) == ("no longer stated", "colour", None)
    new = only(changed(pack, "bore: 8 mm", "bore: 8 mm, length: 10 m"))
    assert (new.how, new.fact, new.before) == ("stated", "length", None)


@pytest.mark.parametrize(
    ("was", "now", "thing", "fact"),
    [
        ("full_scale: 40 bar", "full_scale: 16 bar", "propane regulator, inlet gauge", "full scale"),
        ("size: 1", "size: 2", "torch, nozzle", "size"),
        ("leak_test: tight", "leak_test: leaks", "propane joint, hose to torch", "leak test"),
        ("tilt: 5 deg", "tilt: 30 deg", "trolley", "tilt"),
        ("form: cutting", "form: welding", "torch", "form"),
    ],
)
def test_what_is_inside_a_part_and_around_the_rig_is_compared(
    pack: Pack, was: str, now: str, thing: str, fact: str
) -> None:
    one = only(changed(pack, was, now))
    assert (one.thing, one.fact) == (thing, fact)


def test_an_added_and_a_missing_part_are_told_with_their_place_in_the_flow(pack: Pack) -> None:
    missing = only(changed(pack, "hose, arrester]", "hose]"))
    assert (missing.how, missing.thing, missing.before and missing.before.value) == (
        "missing",
        "oxygen arrester 2",
        "after the oxygen hose",
    )
    added = only(changed(pack, "hose, arrester]", "hose, joiner, arrester]"))
    assert (added.how, added.thing, added.after and added.after.value) == (
        "added",
        "oxygen joiner",
        "after the oxygen hose",
    )


def test_a_missing_arrester_turns_the_rule_that_wants_one(pack: Pack) -> None:
    text = TEMPLATE.read_text(encoding="utf-8")
    start = text.index("      - arrester:\n          gases: [oxygen]", text.index("gases: [oxygen]") + 400)
    shorter = text[:start] + text[text.index("# --- The torch ---") :]
    comparison = compared(pack, text, shorter)
    one = only(comparison)
    assert (one.how, one.thing) == ("missing", "oxygen arrester 2")
    assert ("arresters/arrester_at_every_torch_inlet", "torch", "holds", "broken") in turned(comparison)


def test_a_moved_part_is_told_from_where_to_where(pack: Pack) -> None:
    comparison = changed(
        pack, "[cylinder, regulator, arrester, hose, arrester]", "[cylinder, arrester, regulator, hose, arrester]"
    )
    one = only(comparison)
    assert one.how == "moved" and one.before and one.after and one.before.value != one.after.value


def test_a_line_of_another_gas_is_another_line(pack: Pack) -> None:
    found = changed(pack, "- gas: propane", "- gas: acetylene").departures
    assert {(one.how, one.thing, one.inside) for one in found} >= {
        ("missing", "propane line", 4),
        ("added", "acetylene line", 4),
    }


def test_a_difference_names_the_rules_that_speak_of_it(pack: Pack) -> None:
    comparison = changed(pack, "colour: orange", "colour: red")
    rules = {touched.rule.name for touched in only(comparison).touched}
    assert "hoses/propane_hose_is_orange" in rules
    assert not rules & {"hoses/oxygen_hose_is_blue", "trolley/trolley_stands_upright"}


def test_a_day_leads_to_the_rules_on_the_time_since(pack: Pack) -> None:
    comparison = changed(pack, "made: 2024-03", "made: 2014-03")
    touched = {touched.rule.name: touched.turns for touched in only(comparison).touched}
    (turn,) = touched["hoses/hose_within_service_life"]
    assert turn.after == "broken"


def test_facts_that_were_left_open_are_no_departures(pack: Pack) -> None:
    before = SMALL + "on_site: [hose.kinked, hose.length]\n"
    comparison = compared(pack, before, SMALL.replace("bore: 8 mm", "bore: 8 mm, kinked: yes"))
    assert comparison.same
    assert [(one.thing, one.fact) for one in comparison.filled_in] == [("propane hose", "kinked")]
    assert comparison.still_open == 3  # of the oxygen hose both, of the propane hose its length


def test_every_verdict_that_turned_is_told_once(pack: Pack) -> None:
    """Against two whole inspections: no broken rule appears or goes without being told."""
    sites = sites_in_full()
    before, after = (
        (sites / name).read_text(encoding="utf-8") for name in ("plate-shop-cutting.yaml", "wharf-crane-rail.yaml")
    )
    comparison = compared(pack, before, after)
    findings = [
        {f.rule for f in inspect_rig(load_rig(text.encode(), "x.yaml", pack.vocabulary), pack, day=DAY).findings}
        for text in (before, after)
    ]
    filled = {turn.rule.name for d in comparison.filled_in for t in d.touched for turn in t.turns}
    told = {rule for rule, *_ in turned(comparison)} | filled
    assert findings[0] ^ findings[1] <= told


def test_each_is_judged_under_its_own_code_unless_one_is_given(pack: Pack) -> None:
    before, after = (f"local_code: {code}\n{SMALL}" for code in ("uk", "us"))
    assert compared(pack, before, after).codes == ("uk", "us")
    assert compared(pack, before, after, code="za").codes == ("za", "za")


# --- what matters first ---

FULL = sites_in_full() / "tool-room-welding.yaml"


def test_what_is_broken_now_comes_first_the_gravest_of_it_before_all_and_each_rig_says_how_it_stands(
    pack: Pack,
) -> None:
    was = FULL.read_text(encoding="utf-8")
    now = was.replace("secured: trolley-bracket", "secured: none", 1).replace("tilt: 6 ± 1 deg", "tilt: 26 deg", 1)
    assert now != was
    found = compared(pack, was, now)
    assert found.stands[0].state == "nothing found against it" and found.stands[0].findings == {}
    assert found.stands[1].state == "on hold"
    now_broken = [turn for turn in found.turns if turn.after == "broken"]
    assert found.stands[1].findings == Counter(turn.rule.signal for turn in now_broken)
    assert [SIGNALS.index(turn.rule.signal) for turn in now_broken] == sorted(
        SIGNALS.index(turn.rule.signal) for turn in now_broken
    )
    assert "cylinders/cylinder_is_secured" in {turn.rule.name for turn in now_broken}
    broken = [turn.after == "broken" for turn in found.turns]
    assert broken == sorted(broken, reverse=True) and len(broken) > 1
    text = plain_text(departure_lines(found, 80))
    assert text.index("on hold: ") < text.index("What turned") < text.index("cylinders/cylinder_is_secured")
    assert text.index("cylinders/cylinder_is_secured") < text.index("Torch, trolley, people and place")


def test_figures_that_rules_read_and_that_moved_are_told_with_both_values(pack: Pack) -> None:
    was = FULL.read_text(encoding="utf-8")
    length = next(one for one in was.split("length: ")[1:])[:4].strip()
    found = compared(pack, was, was.replace(f"length: {length}", "length: 40 m", 1))
    told = {(one.thing, one.figure): (one.before, one.after) for one in found.moved}
    assert any("hose" in thing or "line" in thing for thing, _ in told)
    assert all(before != after for before, after in told.values())
    assert found.moved == tuple(sorted(found.moved, key=lambda one: SIGNALS.index(one.signal)))
    assert compared(pack, was, was).moved == ()
