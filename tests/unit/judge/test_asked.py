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
