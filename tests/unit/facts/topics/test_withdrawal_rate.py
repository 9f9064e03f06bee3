"""How hard cylinders are drawn: acetylene by shares, oxygen let in fast."""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI
from support.small_rigs import is_unknown, one, point, span, wanted, worked

from rigcheck.rules.pack import Pack

FOOT = 0.3048**3
HOUR = 3600.0


def acetylene(line: str, cylinders: int = 1) -> str:
    branches = "".join("            - parts: [cylinder]\n" for _ in range(cylinders))
    head = f"rig: small\nlines:\n  - gas: acetylene\n    {line}\n    parts:\n"
    return f"{head}      - manifold:\n          branches:\n{branches}"


EXAMPLE = "consumption: 100 ft3/h\n    supply_content: 225 ft3\n    draw: intermittent"


def test_the_share_drawn_an_hour_is_demand_over_content(pack: Pack) -> None:
    line = one(worked(acetylene(EXAMPLE), pack), "line")
    assert point(line, "hourly_share") == pytest.approx(100 / 225)


def test_a_quarter_cylinder_an_hour_takes_four_at_a_seventh(pack: Pack) -> None:
    # US Army Ordnance subcourse OD0017 p. 106: a cylinder of 225 cu ft gives 32.14 cu ft an hour at one seventh.
    assert point(one(worked(acetylene(EXAMPLE), pack), "line"), "cylinders_to_couple") == 4


def test_without_pauses_the_smaller_share_counts(pack: Pack) -> None:
    # 225 cu ft / 15 = 15 cu ft an hour from each: seven for 100.
    text = acetylene(EXAMPLE.replace("intermittent", "continuous"))
    assert point(one(worked(text, pack), "line"), "cylinders_to_couple") == 7


def test_coupled_cylinders_share_the_demand(pack: Pack) -> None:
    line = one(worked(acetylene(EXAMPLE, cylinders=3), pack), "line")
    assert point(line, "demand_per_cylinder") * HOUR / FOOT == pytest.approx(100 / 3)


def test_a_bank_that_is_only_counted_shares_it_too(pack: Pack) -> None:
    head = "rig: small\nlines:\n  - gas: acetylene\n    consumption: 100 ft3/h\n    parts:\n"
    text = head + "      - manifold: {cylinder_count: 4}\n"
    line = one(worked(text, pack), "line")
    assert point(line, "demand_per_cylinder") * HOUR / FOOT == pytest.approx(25)


def test_an_interval_of_the_content_comes_out_as_one_of_the_share(pack: Pack) -> None:
    text = acetylene("consumption: 1 m3/h\n    supply_content: 5 ± 1 m3")
    assert span(one(worked(text, pack), "line"), "hourly_share") == pytest.approx((1 / 6, 1 / 4))


def test_a_share_that_is_stated_stands_beside_what_flow_and_content_come_to(pack: Pack) -> None:
    worked_out = point(one(worked(acetylene(EXAMPLE), pack), "line"), "hourly_share")
    text = acetylene(f"withdrawal_share: 9 %/h\n    {EXAMPLE}")
    found = span(one(worked(text, pack), "line"), "hourly_share")
    assert found == pytest.approx((min(0.09, worked_out), max(0.09, worked_out)))


def test_the_share_is_asked_for_by_its_parts(pack: Pack) -> None:
    text = "rig: small\nlines:\n  - gas: acetylene\n    parts: [cylinder]\ntorch: {nozzle: {}}\n"
    assert wanted(one(worked(text, pack), "line"), "hourly_share") == ["nozzle.fuel_flow", "cylinder.contents_mass"]


def oxygen(pressure: str) -> str:
    return (
        f"rig: small\nsite: {{ambient_temperature: 20 degC}}\nlines:\n  - gas: oxygen\n    parts:\n"
        f"      - cylinder: {{pressure: {pressure}}}\n"
    )


def test_oxygen_let_in_fast_is_hotter_than_any_seat_stands(pack: Pack) -> None:
    # ASTM G88 (from memory): from 20 degC and 1 atm to 1000 psi absolute, about 706 degC with k = 1.40.
    cylinder = one(worked(oxygen("1000 psi abs"), pack), "cylinder")
    low, high = span(cylinder, "compression_temperature")
    assert high - 273.15 == pytest.approx(706, abs=15)
    # CoolProp's reference equation along its isentrope, from 1 atm: colder than the ideal gas, and inside the range.
    entropy = PropsSI("S", "P", 101_325.0, "T", 293.15, "Oxygen")
    assert low < PropsSI("T", "P", 6.894757e6, "S", entropy, "Oxygen") < high


def test_no_temperature_is_given_past_the_range_of_the_figure(pack: Pack) -> None:
    assert is_unknown(one(worked(oxygen("500 bar"), pack), "cylinder"), "compression_temperature")


def test_only_oxygen_is_worked_out_so(pack: Pack) -> None:
    text = oxygen("10 bar").replace("gas: oxygen", "gas: acetylene")
    assert is_unknown(one(worked(text, pack), "cylinder"), "compression_temperature")
