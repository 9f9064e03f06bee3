"""The gas-side figures against every handbook row about contents, endurance, withdrawal, flame, nozzle and vapour.

Units are converted by the pint library, so that a slip in the project's own table of units would show.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pint
import pytest
import yaml
from support.written import written

from rigcheck.physics import (
    choked_flow,
    combustion,
    contents,
    dissolved,
    endurance,
    nozzle,
    real_gas,
    vapour_pressure,
)
from rigcheck.physics.contents import BASE_STATES
from rigcheck.physics.gas_properties import GAS_CONSTANT, GASES, Gas

HERE = Path(__file__).parent
TABLES = HERE.parents[1] / "rules" / "tables" / "nozzles.yaml"
ROWS: list[dict[str, Any]] = yaml.safe_load((HERE / "data" / "handbook.yaml").read_text(encoding="utf-8"))
NOZZLES = nozzle.read_tables(yaml.safe_load(TABLES.read_text(encoding="utf-8")))
UNITS = pint.UnitRegistry()
AIR = 101_325.0
AT_15 = BASE_STATES["15 degC, 1.01325 bar"]
AT_70F = BASE_STATES["70 degF, 14.696 psi"]
OXYGEN, ACETYLENE, PROPANE = GASES["oxygen"], GASES["acetylene"], GASES["propane"]

Values = dict[str, Any]


def si(number: float, unit: str) -> float:
    """Return a number in base units (K, Pa, m, kg, s, mol), by pint."""
    if unit in ("1", "vol/vol", "vol %", "J/(mol*K)"):
        return number
    spelled = re.sub(r"([A-Za-z])([23])\b", r"\1**\2", unit.replace("%", "percent"))
    return float(UNITS.Quantity(number, spelled).to_base_units().magnitude)


def plain(value: Any) -> Any:
    """Return a value of a row in base units: a number, a (least, greatest) pair, or the word that it is."""
    if not isinstance(value, dict):
        return value
    if "min" in value:
        return si(value["min"], value["unit"]), si(value["max"], value["unit"])
    return si(value["value"], value["unit"])


def compressibility(gas: Gas, pressure_abs: float, temperature: float) -> float:
    """Return Z = p M/(rho R T), by the density that the product counts with."""
    density = dense(gas, pressure_abs, temperature)
    return pressure_abs * gas.molar_mass / (density * GAS_CONSTANT * temperature)


def dense(gas: Gas, pressure_abs: float, temperature: float) -> float:
    found = real_gas.gas_density(gas=gas, pressure_abs=pressure_abs, temperature=temperature)
    assert found is not None
    return found


def oxygen_density(given: Values) -> Values:
    state = {"gas": OXYGEN, "pressure_abs": given["pressure_abs"], "temperature": given["temperature"]}
    return {"density": real_gas.gas_density(**state), "compressibility_Z": compressibility(**state)}


def oxygen_cylinder_content(given: Values) -> Values:
    if set(given) == {"content_at_70F_1atm"}:
        return {"gas_mass": given["content_at_70F_1atm"] * dense(OXYGEN, *AT_70F[:0:-1])}
    temperature, pressure = given["temperature"], given["pressure_gauge"] + AIR
    capacity = given.get("water_volume") or _oxygen_capacity(given)
    mass = capacity * dense(OXYGEN, pressure, temperature)
    return {
        "water_volume": capacity,
        "gas_mass": mass,
        "content": contents.standard_volume(gas=OXYGEN, mass=mass, base=AT_70F),
        "content_15C_1atm": contents.standard_volume(gas=OXYGEN, mass=mass, base=AT_15),
    }


def _oxygen_capacity(given: Values) -> float:
    volume = given.get("full_content") or given["content_at_70F_1atm"]
    mass = float(volume) * dense(OXYGEN, *AT_70F[:0:-1])
    pressure = given.get("full_pressure_gauge", given["pressure_gauge"]) + AIR
    return mass / dense(OXYGEN, pressure, given["temperature"])


def oxygen_pressure_vs_temperature(given: Values) -> Values:
    key = next(name for name in given if name.startswith("pressure_gauge_at_"))
    number, scale = re.fullmatch(r"pressure_gauge_at_(\d+)([CF])", key).groups()  # type: ignore[union-attr]
    known: Values = {
        "pressure_abs": given[key] + AIR,
        "temperature": si(float(number), f"deg{scale}"),
        "new_temperature": given["temperature"],
    }
    return {"pressure_gauge": contents.settled_pressure(gas=OXYGEN, **known) - AIR}


@pytest.mark.outside("endurance.endurance", by="Reference equation of state for oxygen")
def oxygen_duration(given: Values) -> Values:
    now, left = (
        dense(OXYGEN, given[key] + AIR, given["temperature"]) for key in ("pressure_gauge", "stop_pressure_gauge")
    )
    mass = given["water_volume"] * (now - left)
    usable = contents.standard_volume(gas=OXYGEN, mass=mass, base=AT_15)
    return {"usable": usable, "duration": endurance.endurance(usable=usable, flow=given["flow_15C_1atm"])}


FRACTIONS = {"fifth": 5, "seventh": 7, "tenth": 10, "fifteenth": 15}


def acetylene_withdrawal(given: Values) -> Values:
    if "demand" in given:
        found, _ = written("cylinders_to_couple", q=given["demand"], m=1.0, V=given["content_each"], s=1 / 7)
        return {"cylinders_one_seventh": found}
    part = FRACTIONS[given["rule"].split()[1].rstrip(",")]
    each, _ = written("hourly_share", 1, q=1.0, V=given["content"])  # 1/h of a flow of 1 m3/s
    return {"max_draw": 1 / part / each}


def acetylene_content(given: Values) -> Values:
    if "acetone" in given:
        volumes = dissolved.solubility_in_acetone(temperature=given.get("temperature", 288.15))
        assert volumes is not None
        return {"dissolved": volumes * given["acetone"] * given["partial_pressure_abs"] / AIR}
    if "gross" in given:
        mass = contents.content_by_weight(gross_mass=given["gross"], tare_mass=given["tare"])
        return {"content": mass * given["factor"]}
    state = {"pressure_abs": given.get("pressure_abs", AIR), "temperature": given["temperature"]}
    density = real_gas.gas_density(gas=ACETYLENE, **state)
    return {
        "density": density,
        "compressibility_Z": compressibility(ACETYLENE, **state),
        "specific_volume": 1 / density,
        "ft3_per_lb": 1 / density,
        "volume": given.get("mass", 0.0) / density,
        "gas_mass": given.get("content", 0.0) * density,
    }


def acetylene_pressure_vs_temperature(given: Values) -> Values:
    """Warm or cool a full cylinder; or warm the fullest lawful one and let it cool again, back to the filling limit."""
    if "pressure_gauge_at_70F" in given:
        found = dissolved.acetylene_pressure_at(
            pressure_abs=given["pressure_gauge_at_70F"] + AIR,
            temperature=si(70, "degF"),
            new_temperature=given["temperature"],
        )
        return {"pressure_gauge": found - AIR}
    full = si(16, "kgf/cm2") + AIR
    warm = dissolved.acetylene_pressure_at(
        pressure_abs=full, temperature=given["temperature"], new_temperature=given["temperature"] + 20
    )
    again = dissolved.acetylene_pressure_at(
        pressure_abs=warm, temperature=given["temperature"] + 20, new_temperature=given["temperature"]
    )
    return {"max_pressure_gauge": again - AIR, "max_pressure_bar": again - AIR}


def propane_vapour_pressure(given: Values) -> Values:
    pressure = vapour_pressure.propane_vapour_pressure(temperature=given["temperature"])
    return {"vapour_pressure_abs": pressure, "vapour_pressure_gauge": pressure - AIR}


def propane_gas_volume(given: Values) -> Values:
    base = contents.BaseState("as the row says", given["temperature"], given["pressure_abs"])
    return {"volume": contents.standard_volume(gas=PROPANE, mass=given["mass"], base=base)}


def propane_vaporisation(given: Values) -> Values:
    return {"latent_heat": vapour_pressure.propane_latent_heat(temperature=given["temperature"])}


def _fuel(given: Values) -> str:
    return "methylacetylene-mix" if given["fuel"].startswith("MPS") else str(given["fuel"])


def heat_of_combustion(given: Values) -> Values:
    fuel = _fuel(given)
    return {
        "gross_heat": combustion.gross_heat(fuel=fuel),
        "gross_heat_vol_15C_1atm_ideal": combustion.gross_heat(fuel=fuel) * AIR / (GAS_CONSTANT * AT_15.temperature),
    }


def oxygen_fuel_ratio(given: Values) -> Values:
    fuel = _fuel(given)
    if given["flame"].startswith("complete combustion"):
        return {"oxygen_per_fuel": combustion.oxygen_to_burn(fuel=fuel)}
    return {"oxygen_per_fuel": combustion.torch_ratio(fuel=fuel, flame="preheat")}


@pytest.mark.outside(
    "nozzle.rows_for_size",
    "nozzle.rows_for_thickness",
    "nozzle.published_span",
    by="National Instructional Media Institute",
)
def cutting_table(given: Values) -> Values:
    fuel, wanted = given.get("fuel", "acetylene"), "from memory" if "material" in given else "published"
    if "cutting_orifice" in given:
        size = f"{given['cutting_orifice'] * 1e3:.1f} mm"
        found = nozzle.rows_for_size(rows=NOZZLES, size=size, gas=fuel, process="cutting")
        assert found is not None
        return {
            "plate_thickness": found[0].thickness,
            "cutting_oxygen_pressure_gauge": found[0].cutting_oxygen_pressure,
        }
    rows = nozzle.rows_for_thickness(rows=NOZZLES, thickness=given["plate_thickness"], gas=fuel, process="cutting")
    assert rows is not None
    rows = tuple(row for row in rows if row.standing == wanted and row.bore and not (row.size and "/" in row.size))
    bore = nozzle.published_span(rows=rows, column="bore")
    assert bore is not None
    return {
        "cutting_orifice": bore[0] if bore[0] == bore[1] else bore,
        "cutting_oxygen_pressure_gauge": nozzle.published_span(rows=rows, column="cutting_oxygen_pressure"),
        "speed": nozzle.published_span(rows=rows, column="speed"),
        "cutting_oxygen": nozzle.published_span(rows=rows, column="cutting_oxygen_flow"),
        "acetylene": nozzle.published_span(rows=rows, column="fuel_flow"),
        "propane": _propane_flow(given["plate_thickness"]),
    }


def _propane_flow(thickness: float) -> Any:
    rows = nozzle.rows_for_thickness(rows=NOZZLES, thickness=thickness, gas="propane", process="cutting")
    return nozzle.published_span(rows=rows or (), column="fuel_flow")


@pytest.mark.outside("nozzle.rows_for_thickness", "nozzle.published_span", by="Sheet and Plate Metal Work")
def cutting_rules(given: Values) -> Values:
    if "oxygen_purity_from" in given:
        return {"speed_change": _change("cutting_speed_share", given),
                "cutting_oxygen_change": _change("cutting_oxygen_share", given)}  # fmt: skip
    rows = nozzle.rows_for_thickness(
        rows=NOZZLES, thickness=given["plate_thickness"], gas="acetylene", process="cutting"
    )
    published = [row for row in rows or () if row.standing == "published"]
    speed = nozzle.published_span(rows=published, column="speed")
    assert speed is not None and speed[0] == speed[1]
    return {"speed": speed[0]}


def _change(figure: str, given: Values) -> float:
    after, before = (written(figure, p=given[f"oxygen_purity_{end}"])[0] for end in ("to", "from"))
    return after / before - 1


@pytest.mark.outside("choked_flow.critical_pressure_ratio", by="Cengel & Boles, Thermodynamics")
def choked(given: Values) -> Values:
    ratio = {"heat_capacity_ratio": given["gamma"]}
    if "stagnation_pressure" in given:
        return {"critical_pressure": given["stagnation_pressure"] * choked_flow.critical_pressure_ratio(**ratio)}
    if "gas_constant" not in given:
        return {
            "critical_temperature": given["stagnation_temperature"]
            * choked_flow.critical_pressure_ratio(**ratio) ** ((given["gamma"] - 1) / given["gamma"])
        }
    air = given.get("atmosphere", AIR)
    mass_flow = choked_flow.bore_mass_flow(
        bore=given.get("orifice") or given["hole"],
        pressure_abs=given["pressure_gauge"] + air,
        back_pressure_abs=air,
        temperature=given["stagnation_temperature"],
        gas_constant=given["gas_constant"],
        discharge_coefficient=given["discharge_coefficient"],
        **ratio,
    )
    volume = contents.standard_volume(gas=OXYGEN, mass=mass_flow, base=AT_15)
    return {"mass_flow": mass_flow, "volume_flow_15C_1atm": volume, "volume_flow_ft3h_15C_1atm": volume}


FIGURES: dict[str, Callable[[Values], Values]] = {
    "oxygen_density": oxygen_density,
    "oxygen_cylinder_content": oxygen_cylinder_content,
    "oxygen_pressure_vs_temperature": oxygen_pressure_vs_temperature,
    "oxygen_duration": oxygen_duration,
    "acetylene_withdrawal": acetylene_withdrawal,
    "acetylene_content": acetylene_content,
    "acetylene_pressure_vs_temperature": acetylene_pressure_vs_temperature,
    "propane_vapour_pressure": propane_vapour_pressure,
    "propane_gas_volume": propane_gas_volume,
    "propane_vaporisation": propane_vaporisation,
    "heat_of_combustion": heat_of_combustion,
    "oxygen_fuel_ratio": oxygen_fuel_ratio,
    "cutting_table": cutting_table,
    "cutting_rules": cutting_rules,
    "choked_flow": choked,
}

NO_FIGURE = {
    "factor",  # content by a factor of the cylinder's size: real gas is counted instead
    "section",  # how much of the acetylene stands beside the oxygen: the nozzle tables say it
}
"""Inputs of rows that no figure works out."""


def ours(row: dict[str, Any]) -> bool:
    given = row["inputs"]
    return not (
        set(given) & NO_FIGURE
        or given.get("model") == "ideal gas"
        or (row["quantity"] == "cutting_rules" and "material" in given)  # at which temperature steel catches
    )


OURS = [row for row in ROWS if row["quantity"] in FIGURES and ours(row)]
GATING = [row for row in OURS if row["gate"]]
SHOWN = [row for row in OURS if not row["gate"]]


def compared(row: dict[str, Any]) -> Iterator[tuple[str, float, float]]:
    """Yield key, found and expected for each number that the row expects; a pair counts as two."""
    found = FIGURES[row["quantity"]]({name: plain(value) for name, value in row["inputs"].items()})
    wanted = {key: value for key, value in row["expected"].items() if key in found}
    assert wanted, f"no figure speaks for {row['id']}"
    for key, value in wanted.items():
        expected, got = plain(value), found[key]
        assert got is not None, f"{row['id']}: {key} is unknown"
        pairs = zip(got, expected, strict=True) if isinstance(expected, tuple) else [(got, expected)]
        for one, other in pairs:
            yield key, float(one), float(other)


@pytest.mark.parametrize("row", GATING, ids=[row["id"] for row in GATING])
def test_a_figure_agrees_with_the_handbook_row(row: dict[str, Any]) -> None:
    tolerance = row["tolerance"]
    margin = si(tolerance["abs"], tolerance["unit"]) if "unit" in tolerance else tolerance.get("abs", 0.0)
    if tolerance.get("unit") == "degF":
        margin = tolerance["abs"] * 5 / 9
    for key, found, expected in compared(row):
        allowed = margin + tolerance.get("rel", 0.0) * abs(expected)
        assert abs(found - expected) <= allowed + 1e-9 * abs(expected), (row["id"], key, found, expected)


def test_rows_that_do_not_gate_are_computed_and_shown(capsys: pytest.CaptureFixture[str]) -> None:
    lines = [
        f"{row['id']}: {key} {found:.5g}, row {expected:.5g}" for row in SHOWN for key, found, expected in compared(row)
    ]
    with capsys.disabled():
        print("\n" + "\n".join(lines))
    assert len({line.split(":")[0] for line in lines}) == len(SHOWN)


def test_every_quantity_of_the_gas_side_has_rows() -> None:
    assert {row["quantity"] for row in GATING} == set(FIGURES)
