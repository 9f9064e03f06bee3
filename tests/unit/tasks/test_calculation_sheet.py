"""What a sheet says of a figure beside its working: who says it, what it follows from, which ends go together."""

from __future__ import annotations

from datetime import date

import pytest
from support.in_full import text_in_full
from support.small_sheets import calculated

from rigcheck.judge.judged import Judged, judge
from rigcheck.quantity.interval import Interval
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack
from rigcheck.tasks.calculation_sheet import Calculated, calculation_of, figure_values

RIG = """\
rig: small
job: {{process: cutting, hours_per_day: 8 h, duty_share: 50 %}}
site: {{ambient_temperature: 15 degC}}
lines:
  - gas: oxygen
    consumption: 2 to 4 m3/h
    supply_content: {content}
    parts:
      - cylinder: {{water_capacity: 50 L, pressure: 182 bar, temperature: 18 degC, working_pressure: 200 bar}}
      - regulator: {{set_pressure: 4 bar}}
torch: {{}}
"""


def figure(name: str, content: str, pack: Pack) -> Calculated:
    made = calculated(RIG.format(content=content), pack)
    return next(one for one in made.figures if one.name == name and one.key[0] == "lines[0]")


def test_a_figure_that_somebody_stated_too_shows_both_and_the_value_that_counts(pack: Pack) -> None:
    found = figure("content", "9.3 to 9.8 m3", pack)
    assert [said.split(" (")[0] for said in found.statements] == ["9.3 to 9.8 m3", "9.564 m3"]
    assert found.agree
    assert isinstance(found.value, Interval) and found.value.lo == pytest.approx(9.564, abs=0.001)


def test_what_follows_from_statements_that_do_not_agree_says_so(pack: Pack) -> None:
    content, share = (figure(name, "5 m3", pack) for name in ("content", "hourly share"))
    assert not content.agree
    assert isinstance(content.value, Interval) and (content.value.lo, content.value.hi) == pytest.approx(
        (5.0, 9.564), abs=0.001
    )
    assert share.contested == (("lines[0]", "content"),)
    assert figure("hourly share", "9.5 m3", pack).contested == ()


def test_ends_that_belong_together_are_named(pack: Pack) -> None:
    # By hand: s = q/V is least where least is drawn from most; 2/9.8 = 20.4 %, 4/9.3 = 43 %.
    share = figure("hourly share", "9.3 to 9.8 m3", pack)
    assert share.ends == {"q": "least"}  # the content that counts is the closer one, a point
    endurance = figure("endurance", "9.3 to 9.8 m3", pack)
    assert endurance.ends == {"usable": "least", "flow": "greatest"}


def test_the_figure_that_breaks_a_rule_decides_before_those_that_hold(pack: Pack) -> None:
    made = calculated(RIG.format(content="9.5 m3"), pack)
    verdicts = [one.decides.verdict for one in made.deciding if one.decides is not None]
    order = ["broken", "unproven", "holds"]
    assert verdicts == sorted(verdicts, key=order.index)
    assert {"broken", "unproven"} & {*verdicts}


@pytest.mark.parametrize("name", ["wharf-crane-rail", "boiler-house-heating"])
def test_values_alone_are_those_of_the_sheet_in_its_order(name: str, pack: Pack) -> None:
    def judged() -> Judged:
        rig = load_rig(text_in_full(name).encode(), "rig.yaml", pack.vocabulary)
        return judge(rig, pack, day=date(2026, 11, 25).toordinal())

    sheet = [
        (one.thing.path, figure.name, figure.measure, figure.value)
        for one in calculation_of(judged()).things
        for figure in one.figures
    ]
    values = [(one.thing.path, one.name, one.measure, one.value) for one in figure_values(judged())]
    assert values == sheet and len(sheet) > 50
