"""Published and library-computed values for hoses, leaks, air, stability and distances, against the figures.

Each row of `data/handbook.yaml` names its own source.
A row with `gate: false` (recalled, historic or rough) is reported and never fails.
Units are turned into SI by pint, so the oracle shares no factor with the product.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pint
import pytest
import yaml
from scipy.optimize import brentq
from support.written import written

from rigcheck.physics import (
    air,
    flammability,
    gas_properties,
    hose_flow,
    isothermal_flow,
    leak,
    stability,
    welding_air,
)

HERE = Path(__file__).parent
ROWS = yaml.safe_load((HERE / "data" / "handbook.yaml").read_text(encoding="utf-8"))
LIMITS = {
    code: yaml.safe_load((HERE.parents[1] / "rules" / "limits" / f"{code}.yaml").read_text(encoding="utf-8"))["limits"]
    for code in ("general", "us", "uk", "eu")
}
HOODS = welding_air.read_hood_steps(
    yaml.safe_load((HERE.parents[1] / "rules" / "tables" / "hoods.yaml").read_text(encoding="utf-8"))
)
UNITS = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
MILLIMETRE_OF_WATER = 9.80665
SPECIAL = {
    "1": 1.0,
    "%": 0.01,
    "vol %": 0.01,
    "% of LFL": 0.01,
    "ppm": 1e-6,
    "lb/lbmol": 1e-3,
    "mm H2O": MILLIMETRE_OF_WATER,
    "in H2O": 25.4 * MILLIMETRE_OF_WATER,
    "kgf/cm2": 98066.5,
}


def si(value: float, unit: str) -> float:
    if unit in SPECIAL:
        return float(value) * SPECIAL[unit]
    spelled = re.sub(r"([a-zA-Z])(\d)", r"\1**\2", unit)
    return float(UNITS.Quantity(float(value), spelled).to_base_units().magnitude)


class Row:
    """One row, its inputs and expected values by name in SI."""

    def __init__(self, data: dict[str, Any]) -> None:
        self.data, self.name, self.quantity = data, data["id"], data["quantity"]
        self.words, self.expected = data["inputs"], data["expected"]

    def __call__(self, key: str) -> float:
        return self.read(self.words[key])

    def has(self, *keys: str) -> bool:
        return all(key in self.words for key in keys)

    @staticmethod
    def read(entry: Any) -> float:
        return si(entry["value"], entry["unit"]) if isinstance(entry, dict) else float(entry)

    def slack(self, key: str) -> float:
        tolerance, expected = self.data["tolerance"], self.expected[key]
        if "rel" in tolerance:
            return tolerance["rel"] * abs(self.read(expected))
        unit = tolerance.get("unit", "1")
        at_zero = si(0.0, unit)
        return abs(si(tolerance["abs"], unit) - at_zero) + 1e-9 * abs(self.read(expected))


Found = dict[str, float | bool | None]


def hose(row: Row) -> Found:
    gas = gas_properties.GASES[row.words["gas"]]
    density = gas_properties.density(gas=gas, pressure_abs=101325.0, temperature=288.15)
    assert density is not None
    viscosity = gas_properties.viscosity(gas=gas, temperature=row("temperature"))
    assert viscosity is not None
    stream = isothermal_flow.Stream(
        mass_flow=row("flow_15C_1atm") * density,
        temperature=row("temperature"),
        molar_mass=gas.molar_mass,
        compressibility=1.0,  # the rows say: ideal gas
        viscosity=viscosity,
    )
    size = hose_flow.Hose(bore=row("bore"), length=row("length"), roughness=row("roughness"), loss_coefficient=0.0)
    outlet = row("outlet_pressure_abs")
    inlet = hose_flow.hose_inlet_pressure_abs(stream=stream, hose=size, outlet_pressure_abs=outlet)
    assert inlet is not None
    return {"mass_flow": stream.mass_flow, "inlet_pressure_abs": inlet, "pressure_drop": inlet - outlet}


def pipe(row: Row) -> Found:
    if row.has("velocity_in"):
        return natural_gas_main(row)
    if row.has("density"):
        return pipe_by_density(row)
    return {}


@pytest.mark.outside(
    "isothermal_flow.outlet_pressure_abs", "isothermal_flow.lost_heads", by="Massoud, Engineering Thermofluids"
)
def natural_gas_main(row: Row) -> Found:
    bore, molar_mass, warmth = row("bore"), row("molar_mass"), row("temperature")
    density = row("inlet_pressure_abs") * molar_mass / (gas_properties.GAS_CONSTANT * warmth)
    flow = density * row("velocity_in") * math.pi / 4 * bore**2
    stream = isothermal_flow.Stream(
        mass_flow=flow, temperature=warmth, molar_mass=molar_mass, compressibility=1.0, viscosity=1e-5
    )
    choking = isothermal_flow.choking_pressure_abs(stream=stream, bore=bore)
    heads = isothermal_flow.lost_heads(
        friction=row("darcy_friction"), length=row("length"), bore=bore, loss_coefficient=0.0
    )
    assert choking is not None and heads is not None
    outlet = isothermal_flow.outlet_pressure_abs(
        inlet_pressure_abs=row("inlet_pressure_abs"), choking_pressure_abs=choking, heads=heads
    )
    assert outlet is not None
    return {
        "mass_flow": flow,
        "outlet_pressure_abs": outlet,
        "pressure_drop": row("inlet_pressure_abs") - outlet,
    }


@pytest.mark.outside("isothermal_flow.inlet_pressure_abs", by="fluids.isothermal_gas")
def pipe_by_density(row: Row) -> Found:
    heads = isothermal_flow.lost_heads(
        friction=row("darcy_friction"), length=row("length"), bore=row("bore"), loss_coefficient=0.0
    )
    assert heads is not None
    inlet = row("inlet_pressure_abs")
    outlet = row("outlet_pressure_abs")

    def missing(choking: float) -> float:
        found = isothermal_flow.inlet_pressure_abs(
            outlet_pressure_abs=outlet, choking_pressure_abs=choking, heads=heads
        )
        assert found is not None
        return found - inlet

    choking = float(brentq(missing, 0.0, 0.999 * outlet, xtol=1e-9))
    # c = m/A sqrt(p/rho), since p/rho is Z R T/M.
    return {"mass_flow": math.pi / 4 * row("bore") ** 2 * choking / math.sqrt(inlet / row("density"))}


@pytest.mark.outside("leak.charge_volume", by="Isothermal decay")
def decay(row: Row) -> Found:
    if row.has("p1_abs"):
        return vacuum_decay(row)
    if row.has("temperature_1"):
        start = row("pressure_abs")
        change = brentq(lambda lost: lost_by(start, start + lost, row), -0.5 * start, 0.5 * start)
        return {"pressure_change": change}
    if not row.has("bore"):
        return {}
    volume = leak.charge_volume(bore=row("bore"), length=row("length"))
    assert volume is not None
    base = row("standard_pressure")
    if row.has("leak_std"):
        return {"volume": volume, "pressure_drop": row("leak_std") / drop_by_one(volume, row("time"), base)}
    start = 5e5 + row("pressure_drop")
    lost = leak.leak_from_decay(
        volume=volume,
        start_pressure_abs=start,
        end_pressure_abs=5e5,
        start_temperature=288.15,
        end_temperature=288.15,
        time=row("time"),
        base_pressure_abs=base,
        base_temperature=288.15,
    )
    return {"leak_std": lost}


def lost_by(start: float, end: float, row: Row) -> float:
    """Return what a volume lost that was warmed or cooled between two readings."""
    found = leak.leak_from_decay(
        volume=1e-3,
        start_pressure_abs=start,
        end_pressure_abs=end,
        start_temperature=row("temperature_1"),
        end_temperature=row("temperature_2"),
        time=60.0,
        base_pressure_abs=101325.0,
        base_temperature=288.15,
    )
    assert found is not None
    return found


def drop_by_one(volume: float, time: float, base: float) -> float:
    """Return the leak that a fall of 1 Pa means."""
    found = leak.leak_from_decay(
        volume=volume,
        start_pressure_abs=5e5 + 1.0,
        end_pressure_abs=5e5,
        start_temperature=288.15,
        end_temperature=288.15,
        time=time,
        base_pressure_abs=base,
        base_temperature=288.15,
    )
    assert found is not None
    return found


@pytest.mark.outside("leak.leak_from_decay", by="40 CFR 1065.644")
def vacuum_decay(row: Row) -> Found:
    lost = leak.leak_from_decay(
        volume=row("volume"),
        start_pressure_abs=row("p1_abs"),
        end_pressure_abs=row("p2_abs"),
        start_temperature=row("temperature_1"),
        end_temperature=row("temperature_2"),
        time=row("time"),
        base_pressure_abs=row("gas_constant") * row("temperature_1"),
        base_temperature=row("temperature_1"),
    )
    return {"leak": None if lost is None else -lost}


@pytest.mark.outside("leak.bubble_least_pore", by="NDT handbook, leak testing volume")
def leak_limit(row: Row) -> Found:
    if row.has("surface_tension"):
        radius = leak.bubble_least_pore(
            surface_tension=row("surface_tension"),
            inside_pressure_abs=row("inside_pressure_abs"),
            outside_pressure_abs=row("outside_pressure_abs"),
        )
        return {"critical_radius": radius}
    return {"max_leak": limit("general", "joint_leak_rate")}


@pytest.mark.outside("flammability.widest_limits", by="US Army TC 9-237")
@pytest.mark.outside("flammability.widest_limits", by="NIOSH IDLH documentation")
def burning(row: Row) -> Found:
    if row.data["gate"] is False:
        named = flammability.widest_limits(gas=row.words["gas"])
    elif row.has("data_set"):
        named = flammability.DATA_SETS[row.words["data_set"]].get(row.words["gas"])
    else:
        named = flammability.widest_limits(gas=row.words["gas"])
    assert named is not None
    found: Found = {"lower": named.lower, "upper": named.upper, "idlh": 0.1 * named.lower}
    return {key: value for key, value in found.items() if key in row.expected}


@pytest.mark.outside("air.time_to_share", by="Well-mixed balance")
def enrichment(row: Row) -> Found:
    if row.has("room"):
        time = air.time_to_share(
            room_volume=row("room"),
            leak=row("oxygen_leak"),
            leak_share=1.0,
            fresh_air=row("ventilation"),
            fresh_share=row("start_oxygen"),
            start_share=row("start_oxygen"),
            limit_share=row("limit_oxygen"),
        )
        return {"time": time}
    if row.has("oxygen_leak"):
        fresh, _ = written("air_needed", 1, q=row("oxygen_leak"), k=1.0, c=row("limit_oxygen"))
        return {"fresh_air": fresh}
    return {}


def dilution(row: Row) -> Found:
    if row.has("gas_share"):
        return filling(row)
    if row.has("ventilation"):
        time, _ = written("clearing_time", V=row("room"), E=row("ventilation"), s=row("start_over_target"), a=1.0)
        return {"time": time}
    if row.has("leak"):
        fresh, _ = written("air_needed", 0, q=row("leak"), k=1.0, a=1.0, L=row("limit"))
        return {"fresh_air": fresh}
    return {}


def filling(row: Row) -> Found:
    gas = row("mixture_leak") * row("gas_share")
    fresh = row("mixture_leak") - gas
    # Badly stirred, by the customary form, it takes 1/K times as long.
    time = air.time_to_share(
        room_volume=row("room"),
        leak=gas,
        leak_share=1.0,
        fresh_air=fresh,
        fresh_share=0.0,
        start_share=0.0,
        limit_share=row("target"),
    )
    assert time is not None
    time /= row("mixing_factor_K")
    return {"time": time, "air_changes": time * row("mixture_leak") / row("room")}


def welders(row: Row) -> Found:
    if row.has("distance"):
        entry = row.words["distance"]
        middle = si((entry["min"] + entry["max"]) / 2, entry["unit"])
        step = welding_air.hood_step(distance=middle, steps=HOODS)
        assert step is not None
        assert step == welding_air.hood_step(distance=si(entry["max"], entry["unit"]), steps=HOODS)
        return {"air_flow": step.air_flow, "duct_diameter": step.duct}
    named = {
        "1910.252(c)(2)(i)(A)": ("room_volume_per_welder", "volume_per_welder"),
        "1910.252(c)(2)(i)(B)": ("ceiling_height", "ceiling"),
        "1910.252(c)(2)(ii)": ("air_flow_per_welder", "rate_per_welder"),
        "1910.252(c)(3)(i)": ("hood_velocity", "capture_velocity"),
    }[row.words["rule"]]
    value = limit("us", named[0])
    return {key: value for key in row.expected if key.startswith(named[1].removesuffix("_per_welder"))}


@pytest.mark.outside("stability.push_force", by="Moment balance at the wheel line")
def tipping(row: Row) -> Found:
    if row.has("parts"):
        return loaded_trolley(row)
    if row.has("push_height"):
        load = row("weight") if row.has("weight") else stability.weight(mass=row("total_mass"))
        assert load is not None
        force = stability.push_force(
            weight=load,
            lever_arm=row("half_base") if row.has("half_base") else row("lever_arm"),
            centre_height=1.0,  # on level ground it does not count
            push_height=row("push_height"),
            slope=0.0,
        )
        return {"push_force": force}
    return {"margin": row("tip_angle") - math.atan(row("floor_slope"))}


@pytest.mark.outside("stability.centre_of_mass", by="Composite centre of gravity")
def loaded_trolley(row: Row) -> Found:
    masses, offsets, heights = (
        [row.read(part[name]) for part in row.words["parts"]] for name in ("mass", "offset", "cg_height")
    )
    offset, height = (centre(masses, places) for places in (offsets, heights))
    base = {"track": 2.0 * row("half_track"), "foot": 2.0 * row("half_track"), "wheel_base": 1.0, "axle_distance": 0.5}
    arm = stability.side_arm(**base, offset=offset)
    assert arm is not None
    angle = stability.tip_angle(arm=arm, centre_height=height)
    return {"total_mass": sum(masses), "cg_offset": offset, "cg_height": height, "tip_angle": angle}


def centre(masses: list[float], places: list[float]) -> float:
    found = stability.centre_of_mass(masses=[(m, m) for m in masses], places=[(x, x) for x in places])
    assert found is not None and found[0] == pytest.approx(found[1], rel=1e-12, abs=1e-15)
    return found[0]


def hot_work(row: Row) -> Found:
    if "distance" in row.expected:
        radius = limit("us", "combustibles_distance")
        return dict.fromkeys(row.expected, radius)
    return {"watch_after": limit("general", "fire_watch_time")}


def ceiling(row: Row) -> Found:
    if row.words.get("gas") == "free acetylene":
        allowed, _ = written("acetylene_ceiling", g=limit("us", "acetylene_pressure"), a=101_325.0)
        return {"max_pressure_gauge": allowed, "max_pressure_gauge_metric": allowed}
    if row.words.get("standard") == "ISO 3821":
        return {
            "acetylene_hose_limit_gauge": limit("eu", "acetylene_pressure"),
            "normal_duty": limit("eu", "hose_normal_duty_pressure"),
            "light_duty": limit("general", "hose_light_duty_pressure"),
            "light_duty_max_bore": limit("general", "hose_light_duty_bore"),
        }
    if row.has("stored"):
        # The regulation rounds its 5 ft to 1.5 m by more than the row allows: only the feet are compared.
        apart, high = limit("us", "store_separation"), limit("us", "barrier_height")
        return {
            "distance": apart,
            "distance_metric": apart,
            "wall_height": high,
            "fire_rating": limit("us", "barrier_rating"),
        }
    return {}


FIGURES: dict[str, Callable[[Row], Found]] = {
    "hose_pressure_drop": hose,
    "isothermal_pipe_flow": pipe,
    "leak_decay": decay,
    "leak_limits": leak_limit,
    "flammability_limit": burning,
    "oxygen_enrichment": enrichment,
    "dilution_ventilation": dilution,
    "welding_ventilation": welders,
    "tip_over": tipping,
    "hot_work": hot_work,
    "safety_limit": ceiling,
}

# Rows that state a property of a thing or a limit that no figure works out, each with the reason.
NOT_WORKED_OUT = {
    "o2-enrich-osha": "limits of a regulation: the general ones may be stricter, and a test of its own says so",
    "pipe-flashback-speed": "a flame speed that is no safe measure for purging today",
    "dilute-usbr-fill": "a printed form that settles above what enters: the exact balance is counted instead",
    "dilute-usaf-volume": "length by width by height",
    "leak-nbfu-piping": "a limit of an old piping rule",
    "pipe-elbow-equivalent": "a recalled rule of thumb",
    "safe-fusible-acetylene": "a property of a fusible plug",
    "safe-fusible-acetylene-india": "a property of a relief device",
    "safe-fusible-oxygen": "a property of a fusible backing",
    "safe-acetylene-uk-compressed": "a threshold of a regulation",
    "safe-copper-mps": "a limit of material",
    "safe-copper-acetylene": "a limit of material",
    "safe-upright-wait-trade": "a waiting time of the trade",
    "safe-mps-cylinder-pressure": "a vapour pressure of a mixture of no fixed make-up",
}


NO_FIGURE = {
    *("head_loss", "specific_gravity"),  # formulas of low-pressure mains that are of no use behind a regulator
    "odour_threshold",  # a limit made of what people can smell
    *("work_ends", "combustible_at"),  # a rule compares them with its limit, and no figure is in between
    "start_pressure",  # what a decomposition makes of a pressure
}
"""Inputs of rows that no figure works out."""


def limit(code: str, name: str) -> float:
    """The value in force of one limit of the rule pack, in SI."""
    text = LIMITS.get(code, {}).get(name, LIMITS["general"][name])["values"][-1]["value"]
    number, unit = str(text).split(" ", 1)
    return si(float(number), unit)


CASES = [
    pytest.param(Row(data), id=data["id"])
    for data in ROWS
    if data["quantity"] in FIGURES and data["id"] not in NOT_WORKED_OUT and not set(data["inputs"]) & NO_FIGURE
]


def misses(row: Row, found: Found) -> list[str]:
    """What differs by more than the row allows."""
    wrong = []
    for key, value in found.items():
        wanted = row.expected[key]
        if isinstance(wanted, bool):
            near = value is wanted
        else:
            near = value is not None and abs(value - row.read(wanted)) <= row.slack(key)
        if not near:
            wrong.append(f"{key}: found {value}, wanted {wanted}; {row.data['source']}")
    return wrong


@pytest.mark.parametrize("row", CASES)
def test_a_figure_gives_the_published_value(row: Row) -> None:
    found = FIGURES[row.quantity](row)
    assert found, "no figure speaks for this row"
    wrong = misses(row, found)
    if row.data["gate"]:
        assert not wrong
    elif wrong:
        print(f"{row.name} (shown, not gating): {wrong}")


def test_every_row_that_is_not_worked_out_is_in_the_table_of_rows() -> None:
    assert set(NOT_WORKED_OUT) <= {data["id"] for data in ROWS}


def test_nothing_reproduces_the_historic_limits_of_acetylene() -> None:
    historic = next(Row(data) for data in ROWS if data["id"] == "flam-acetylene-1918")
    assert misses(historic, burning(historic))


@pytest.mark.outside("gas_properties.density", by="trade text, cylinder of 244 ft3")
def test_the_gas_of_a_244_cubic_foot_oxygen_cylinder_weighs_what_the_trade_text_says() -> None:
    row = next(Row(data) for data in ROWS if data["id"] == "cyl-o2-244-size")
    weight = gas_properties.density(gas=gas_properties.GASES["oxygen"], pressure_abs=101325.0, temperature=294.26)
    assert weight is not None
    assert not misses(row, {"gas_mass": weight * si(244, "ft3")})


def test_the_general_limits_of_oxygen_are_at_least_as_strict_as_the_confined_space_rule() -> None:
    row = next(Row(data) for data in ROWS if data["id"] == "o2-enrich-osha")
    assert limit("general", "oxygen_content_high") <= row.read(row.expected["max_oxygen"])
    assert limit("general", "oxygen_content_low") >= row.read(row.expected["min_oxygen"])
