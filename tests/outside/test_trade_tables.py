"""The gas-side figures against tables and rules of the gas trade, none of which they were fitted to."""

from __future__ import annotations

from itertools import product
from math import pi

import pytest

from rigcheck.physics import contents, cutting, dissolved, liquefied, nozzle, real_gas, vaporisation, vapour_pressure
from rigcheck.physics.gas_properties import GASES

FAHRENHEIT = 5.0 / 9.0
BTU_PER_POUND = 21_591.0  # gross heat of propane as the trade's own sheet gives it
BTU_AN_HOUR = 0.45359237 / BTU_PER_POUND / 3600.0  # kg/s of propane for 1 Btu/h
INCH, FOOT3, ATMOSPHERE, PSI = 0.0254, 0.3048**3, 101325.0, 6894.757


def kelvin(fahrenheit: float) -> float:
    """Return a temperature in K."""
    return (fahrenheit + 459.67) * FAHRENHEIT


# Propane trade's table of a 100 lb cylinder's greatest continuous draw, Btu/h, by pounds left and air in degF,
# as reprinted in an installation guide for gas-engine generators (2011), appendix on gas fuel systems, figure 1.
AIR = (0.0, 20.0, 40.0, 60.0, 70.0)
DRAW = {
    100: (113_000, 167_000, 214_000, 277_000, 300_000),
    80: (94_000, 137_000, 180_000, 214_000, 236_000),
    60: (75_000, 109_000, 140_000, 176_000, 192_000),
    40: (55_000, 79_000, 105_000, 131_000, 141_000),
    20: (36_000, 51_000, 68_000, 83_000, 92_000),
    10: (28_000, 38_000, 49_000, 60_000, 66_000),
}


def hundred_pound_draw(pounds: float, fahrenheit: float) -> float:
    """Return the model's draw, kg/s: shell 15 in across (common practice), liquid down to its boiling point in air."""
    density = vapour_pressure.propane_liquid_density(temperature=288.15)
    boiling = liquefied.boiling_temperature(liquid="propane", pressure_abs=ATMOSPHERE)
    assert density is not None and boiling is not None
    area = vaporisation.wetted_area_upright(diameter=15 * INCH, liquid_volume=pounds * 0.45359237 / density)
    found = vaporisation.sustained_draw(
        liquid="propane",
        wetted_area=area or 0.0,
        heat_transfer_coefficient=11.0,
        air_temperature=kelvin(fahrenheit),
        liquid_temperature=boiling,
    )
    assert found is not None
    return found


@pytest.mark.outside(
    "vaporisation.sustained_draw", "vaporisation.wetted_area_upright", by="propane trade's table of a 100 lb cylinder"
)
@pytest.mark.parametrize(("pounds", "column"), list(product(DRAW, range(len(AIR)))))
def test_sustained_draw_follows_the_table_of_a_hundred_pound_cylinder(pounds: int, column: int) -> None:
    """One coefficient of heat serves the whole table; nearly empty, the domed base makes the model low."""
    table = DRAW[pounds][column] * BTU_AN_HOUR
    assert hundred_pound_draw(pounds, AIR[column]) == pytest.approx(table, rel=0.12 if pounds >= 40 else 0.30)


# The trade's rule for lying tanks, from the same guide: D x L x K Btu/h at 0 degF air, the liquid at -20 degF.
@pytest.mark.outside("vaporisation.wetted_area_lying", by="propane trade's rule for lying tanks")
@pytest.mark.parametrize(("filling", "k"), [(0.6, 100), (0.5, 90), (0.4, 80), (0.3, 70), (0.2, 60), (0.1, 45)])
def test_wetted_area_follows_the_tank_rule(filling: float, k: float) -> None:
    """The K of the rule is the wetted share of the wall: compared with the half-full tank, long against its ends."""
    long_tank = {"diameter": 1.0, "length": 50.0}
    area = vaporisation.wetted_area_lying(filling=filling, **long_tank)
    half = vaporisation.wetted_area_lying(filling=0.5, **long_tank)
    assert area is not None and half is not None
    assert area / half == pytest.approx(k / 90.0, rel=0.10)


def test_still_air_spans_the_coefficients_of_both_trade_tables() -> None:
    rule = 100.0 * BTU_AN_HOUR / INCH**2  # kg/s for a tank of 1 m by 1 m, 60 % full
    latent = vapour_pressure.propane_latent_heat(temperature=kelvin(-20))
    area = vaporisation.wetted_area_lying(diameter=1.0, length=100.0, filling=0.6)
    assert latent is not None and area is not None
    coefficient = rule * latent / (area / 100.0 * 20 * FAHRENHEIT)
    low, high = vaporisation.STILL_AIR
    assert low <= 11.0 <= coefficient <= high


def test_a_pressure_table_of_the_trade_agrees_within_its_rounding() -> None:
    """Propane trade's information sheet: 28, 122 and 190 psi gauge at 0, 70 and 100 degF; sold propane is not pure."""
    for fahrenheit, gauge in ((0.0, 28.0), (70.0, 122.0), (100.0, 190.0)):
        found = vapour_pressure.propane_vapour_pressure(temperature=kelvin(fahrenheit))
        assert found is not None
        assert found - ATMOSPHERE == pytest.approx(gauge * PSI, rel=0.18)


def test_half_pressure_is_half_a_cylinder_as_the_handbook_says() -> None:
    """An oxy-acetylene handbook: 244 cu ft at 2200 psi and 70 degF; 122 cu ft at 1100 psi."""
    full, half = (
        real_gas.gas_density(gas=GASES["oxygen"], pressure_abs=p * PSI + ATMOSPHERE, temperature=kelvin(70))
        for p in (2200, 1100)
    )
    assert full is not None and half is not None
    assert half / full == pytest.approx(0.5, rel=0.02)


@pytest.mark.outside("dissolved.acetylene_share_left", by="oxy-acetylene handbook")
def test_acetylene_pressure_speaks_for_half_a_cylinder_as_the_handbook_says() -> None:
    """The same handbook: at 125 psi gauge and 70 degF an acetylene cylinder (full at 250 psi) is about half full."""
    share = dissolved.acetylene_share_left(
        pressure_abs=125 * PSI + ATMOSPHERE,
        temperature=kelvin(70),
        full_pressure_abs=250 * PSI + ATMOSPHERE,
        full_temperature=kelvin(70),
    )
    assert share == pytest.approx(0.5, rel=dissolved.ROUGHNESS)


@pytest.mark.outside("dissolved.solubility_in_acetone", by="content of a 50 L cylinder, from memory")
def test_a_dissolved_cylinder_holds_about_what_the_trade_sells_it_as() -> None:
    """A 50 L cylinder with 16 kg of acetone holds about 8 kg at 15 degC and 17 bar gauge (from memory)."""
    volumes = dissolved.solubility_in_acetone(temperature=288.15)
    density = real_gas.gas_density(gas=GASES["acetylene"], pressure_abs=ATMOSPHERE, temperature=288.15)
    assert volumes is not None and density is not None
    assert 16.0 / 795.0 * volumes * 18e5 / ATMOSPHERE * density == pytest.approx(8.0, rel=0.3)


# Handbook table for cutting mild steel (from memory): bore 1.5 mm or so passes 110 to 160 cu ft/h on one-inch plate.
@pytest.mark.outside("cutting.cutting_oxygen_flow", by="handbook table for cutting, from memory")
@pytest.mark.parametrize("bar", [2.8, 3.5])
def test_the_cutting_jet_passes_what_the_handbook_gives_for_its_bore(bar: float) -> None:
    flow = cutting.cutting_oxygen_flow(
        bore=1.5e-3,
        pressure_gauge=bar * 1e5,
        atmosphere=ATMOSPHERE,
        temperature=293.15,
        discharge_coefficient=0.9,
        base=contents.BASE_STATES["70 degF, 14.696 psi"],
    )
    assert flow is not None
    assert 110 <= flow / FOOT3 * 3600 <= 200


@pytest.mark.outside("nozzle.bore_suits", by="NIMI, CITS Welder, Trade Practical")
def test_the_published_example_for_ten_millimetre_plate() -> None:
    """National Instructional Media Institute, CITS Welder, Trade Practical, p. 28: 1.2 mm orifice at 1.6 kgf/cm2."""
    from pathlib import Path

    import yaml

    path = Path(__file__).parents[2] / "rules" / "tables" / "nozzles.yaml"
    rows = nozzle.read_tables(yaml.safe_load(path.read_text(encoding="utf-8")))
    plate = {"thickness": 0.010, "gas": "acetylene", "process": "cutting"}
    assert nozzle.bore_suits(rows=rows, bore=1.2e-3, **plate) is True
    assert nozzle.bore_suits(rows=rows, bore=3.2e-3, **plate) is False
    found = nozzle.rows_for_thickness(rows=rows, **plate) or ()
    spans = [row.cutting_oxygen_pressure for row in found if row.bore == (1.2e-3, 1.2e-3)]
    assert any(span and span[0] <= 1.6 * 98066.5 <= span[1] for span in spans)


def test_circle_segment_closes_at_half() -> None:
    """Geometry: half of a lying cylinder's round wall and half of each end are wet when it is half full."""
    area = vaporisation.wetted_area_lying(diameter=0.6, length=1.5, filling=0.5)
    assert area == pytest.approx(pi * 0.6 * 1.5 / 2 + pi * 0.6**2 / 4)
