"""What is asked of a judged rig: since when something is not known that was seen once."""

from __future__ import annotations

from datetime import date

from support.simulated_people import Round

from rigcheck.asking.open_facts import open_rig
from rigcheck.judge.inspection import explain
from rigcheck.judge.judged import judge
from rigcheck.rules.pack import Pack

_RIG = b"rig: r\nlines: [{gas: propane, parts: [cylinder, regulator, hose]}]\ntorch: {form: heating}\n"
_LOOK = "look: rig.yaml\nday: 2026-11-20\nby: fitter\nseen: [{thing: 'lines[0].parts[0]', upright: yes}]\n"
_WHERE = ("lines[0].parts[0]", "upright")


def test_a_report_says_since_when_a_fact_is_not_known_and_a_walk_offers_no_earlier_sight(pack: Pack) -> None:
    rig = Round(_RIG, pack, text=_LOOK).rig()
    judged = {day: judge(rig, pack, day=date(2026, 11, day).toordinal(), purpose="use") for day in (20, 28)}
    asked = {day: {(one.at.path, one.fact): one.ask for one in explain(judged[day]).questions} for day in judged}
    assert _WHERE not in asked[20]
    assert "Last seen 2026-11-20 by fitter: yes; that is too long ago to go by." in asked[28][_WHERE]
    assert "2026" not in open_rig(judged[28]).facts[_WHERE].ask


def test_a_rule_that_a_kind_sharpens_waits_as_gravely_as_it_is_for_that_kind(pack: Pack) -> None:
    rule = "parts/part_is_within_its_last_day"
    kinds = {"arrester": "", "regulator": "", "hose": ""}
    for order in (list(kinds), list(kinds)[::-1]):
        text = f"rig: r\nlines: [{{gas: acetylene, parts: [cylinder, {', '.join(order)}]}}]\ntorch: {{}}\n"
        asked = explain(judge(Round(text.encode(), pack, text=_LOOK).rig(), pack, day=739945)).questions
        for one in asked:
            found = [waits.signal for waits in one.waiting if waits.rule == rule]
            if found and one.kind in kinds:
                sharper = pack.rules[rule].sharper.get(one.kind, pack.rules[rule])
                assert found == [sharper.signal], one.kind
                kinds[one.kind] = found[0]
    assert len(set(kinds.values())) > 1
