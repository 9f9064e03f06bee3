"""What physics asks of every flow, leak, air, stability and distance figure, whatever the numbers.

Beside each function stands in which arguments it rises and falls; here every such word is tried,
one argument at a time and all together as intervals.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from itertools import product
from math import isfinite, nan
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from support.figure_modules import OTHERS

from rigcheck.physics import (
    air,
    gas_properties,
    hose_flow,
    hose_sizing,
    stability,
)
from rigcheck.physics.hose_flow import Hose
from rigcheck.physics.intervals import Span, carried, directions_of
from rigcheck.physics.isothermal_flow import Stream
from rigcheck.physics.line_flow import RatedPoint

RANGES: dict[str, tuple[float, float]] = {
    "air_temperature": (250.0, 310.0),
    "altitude": (-500.0, 11000.0),
    "arm": (0.0, 0.5),
    "barrier_height": (1.0, 3.0),
    "base_pressure_abs": (0.9e5, 1.1e5),
    "base_temperature": (273.0, 300.0),
    "bore": (4e-3, 12e-3),
    "bubble_diameter": (1e-4, 5e-3),
    "bubbles_a_second": (0.0, 10.0),
    "capture_speed": (0.1, 1.0),
    "centre_distance": (0.0, 20.0),
    "centre_height": (0.2, 1.2),
    "changes": (0.0, 10.0),
    "choking_pressure_abs": (0.0, 3e5),
    "cold_temperature": (254.0, 322.0),
    "cooling": (0.1, 60.0),
    "compressibility": (0.9, 1.1),
    "constant_unit_gravity": (1e3, 2e3),
    "cylinder_mass": (50.0, 100.0),
    "diameter": (0.05, 0.3),
    "distance": (0.1, 0.3),
    "drawn_mass": (0.0, 3.0),
    "end_pressure_abs": (1e5, 1e6),
    "end_share": (1e-3, 0.1),
    "end_temperature": (260.0, 320.0),
    "excess": (0.1, 50.0),
    "exchange": (0.0, 10.0),
    "factor": (5.0, 12.0),
    "first_height": (0.0, 1.6),
    "flow": (1e-5, 3e-3),
    "flow_for_each": (0.1, 2.0),
    "found": (0.0, 100.0),
    "fresh_air": (0.0, 1.0),
    "fresh_share": (0.0, 0.21),
    "friction": (0.0, 0.08),
    "gas_flow": (1e-5, 1e-2),
    "half_track": (0.1, 0.5),
    "heads": (0.1, 500.0),
    "heat_capacity": (700.0, 1000.0),
    "heat_transfer_coefficient": (1.0, 20.0),
    "height": (0.0, 10.0),
    "height_apart": (0.0, 10.0),
    "inlet_pressure_abs": (1.2e5, 1.5e6),
    "inside_pressure_abs": (1.1e5, 1e6),
    "leak": (1e-7, 1e-3),
    "leak_share": (0.5, 1.0),
    "lean": (0.0, 0.3),
    "length": (0.1, 60.0),
    "lever_arm": (0.05, 0.4),
    "limit": (0.0, 1e-3),
    "limit_share": (0.22, 0.5),
    "line_pressure_abs": (1e5, 3e5),
    "line_volume": (0.0, 1e-2),
    "loss_coefficient": (0.0, 20.0),
    "mass": (0.0, 300.0),
    "mass_flow": (1e-5, 3e-3),
    "mixing": (0.1, 1.0),
    "molar_mass": (2e-3, 0.05),
    "most_abs": (1.6e5, 3e5),
    "most_gauge": (0.0, 2e5),
    "offset": (-0.2, 0.2),
    "outlet_pressure_abs": (1e5, 8e5),
    "outside_pressure_abs": (0.8e5, 1.1e5),
    "pressure_abs": (0.5e5, 3e5),
    "pressure_drop": (10.0, 4900.0),
    "pressure_step": (10.0, 1e5),
    "push_height": (0.5, 1.5),
    "rated_inlet_pressure_abs": (5.5e5, 6e5),
    "rated_flow": (1e-3, 5e-3),
    "rated_outlet_pressure_abs": (4e5, 5.4e5),
    "reference_temperature": (270.0, 300.0),
    "reference_viscosity": (5e-6, 3e-5),
    "relative_roughness": (0.0, 0.05),
    "released": (0.0, 10.0),
    "released_share": (0.6, 1.0),
    "required": (0.0, 100.0),
    "reynolds": (100.0, 1e7),
    "rise": (0.0, 2.0),
    "room_volume": (10.0, 1000.0),
    "roughness": (0.0, 1e-4),
    "run": (1.0, 20.0),
    "share": (0.0, 1.0),
    "slope": (0.0, 0.2),
    "solution_heat": (6.0e5, 6.8e5),
    "specific_gravity": (0.05, 2.0),
    "squares": (0.0, 1e12),
    "standard_uncertainty": (1e-5, 1e-3),
    "start_over_target": (1.0, 100.0),
    "start_pressure_abs": (1e5, 1e6),
    "start_share": (0.1, 0.21),
    "start_temperature": (260.0, 320.0),
    "surface_tension": (0.01, 0.1),
    "sutherland_constant": (50.0, 300.0),
    "target_share": (1e-4, 0.1),
    "temperature": (240.0, 340.0),
    "throughput": (1e-6, 1.0),
    "time": (1.0, 1e4),
    "tip_angle": (0.05, 1.0),
    "turbulent_from": (1500.0, 6000.0),
    "value": (0.0, 10.0),
    "viscosity": (7e-6, 3e-5),
    "volume": (1e-5, 1e-2),
    "volume_flow": (1e-5, 1e-2),
    "wall_area": (0.2, 2.0),
    "weight": (100.0, 3000.0),
}
ALIASES = {
    "air_flow": "fresh_air",
    "along_floor": "height_apart",
    "atmosphere_abs": "outside_pressure_abs",
    "first_radius": "height_apart",
    "first_to_barrier": "height_apart",
    "second_height": "first_height",
    "second_radius": "height_apart",
    "second_to_barrier": "height_apart",
    "width": "height",
}
WORDS: dict[str, st.SearchStrategy[Any]] = {
    "gas": st.sampled_from(sorted(gas_properties.GASES.values(), key=lambda gas: gas.name)),
    "welders": st.integers(1, 10),
}


def span(name: str) -> tuple[float, float]:
    value, _, key = name.rpartition(".")
    plain = RATED[key] if value == "rated" else key
    return RANGES[ALIASES.get(plain, plain)]


WARMTH = ("temperature", "molar_mass", "compressibility")
NO_PART = {
    *(f"choking_pressure_abs stream.{name}" for name in ("viscosity", "turbulent_from")),
    *(f"hose_outlet_mach stream.{name}" for name in ("viscosity", "turbulent_from")),
    *(f"hose_{of} stream.{name}" for of in ("friction", "heads") for name in WARMTH),
    *("hose_friction hose.length", "hose_friction hose.loss_coefficient"),
    *(f"hose_outlet_mach hose.{name}" for name in ("length", "roughness", "loss_coefficient")),
    *("longest_hose hose.length", "smallest_bore hose.bore"),
}
"""Numbers in a value that play no part in a figure, as its docstring says."""
VALUES: dict[str, type[Any]] = {"stream": Stream, "hose": Hose, "rated": RatedPoint}
"""Arguments that are values of several numbers; `hose.bore` names one of these."""
RATED = {"flow": "rated_flow", "inlet_pressure_abs": "rated_inlet_pressure_abs"}
RATED["outlet_pressure_abs"] = "rated_outlet_pressure_abs"


def any_value(name: str) -> st.SearchStrategy[Any]:
    if name in WORDS:
        return WORDS[name]
    if name in VALUES:
        fields = VALUES[name].__struct_fields__
        return st.builds(VALUES[name], **{key: any_value(f"{name}.{key}") for key in fields})
    return st.floats(*span(name))


def numbers_of(name: str) -> list[str]:
    """Return the numbers in an argument: itself, or those of its value."""
    return [f"{name}.{key}" for key in VALUES[name].__struct_fields__] if name in VALUES else [name]


def held(base: dict[str, Any], name: str) -> Any:
    argument, _, key = name.partition(".")
    return getattr(base[argument], key) if key else base[argument]


def moved_to(base: dict[str, Any], name: str, value: Any) -> dict[str, Any]:
    argument, _, key = name.partition(".")
    return {**base, argument: replace(base[argument], **{key: value}) if key else value}


def declared() -> list[Any]:
    return [pytest.param(one, id=f"{one.__module__.rsplit('.', 1)[1]}.{one.__name__}") for one in OTHERS]


def examples(function: Callable[..., Any]) -> int:
    return 15 if function.__module__.endswith("hose_sizing") else 30


@pytest.mark.parametrize("function", declared())
def test_a_figure_rises_and_falls_as_is_said_beside_it(function: Callable[..., float | None]) -> None:
    rising, falling = directions_of(function)
    names = list(inspect.signature(function).parameters)
    settled: list[bool] = []

    @settings(max_examples=examples(function), deadline=None, derandomize=True, database=None)
    @given(data=st.data())
    def holds(data: st.DataObject) -> None:
        base = {name: data.draw(any_value(name), name) for name in names}
        for moved in (*rising, *falling):
            low, high = sorted((held(base, moved), data.draw(any_value(moved), f"other {moved}")))
            less, more = function(**moved_to(base, moved, low)), function(**moved_to(base, moved, high))
            if less is None or more is None:
                continue
            settled.append(True)
            first, second = (less, more) if moved in rising else (more, less)
            assert first <= second + 1e-9 * abs(second), moved

    holds()
    assert settled, "the ranges never reach where this figure holds"


@pytest.mark.parametrize("function", declared())
def test_an_interval_carried_by_its_ends_holds_every_value_between(function: Callable[..., float | None]) -> None:
    rising, falling = directions_of(function)
    names = list(inspect.signature(function).parameters)
    plain = [tuple(name for name in way if "." not in name) for way in (rising, falling)]
    carry = carried(function)

    @settings(max_examples=examples(function), deadline=None, derandomize=True, database=None)
    @given(data=st.data())
    def holds(data: st.DataObject) -> None:
        ends: dict[str, Any] = {}
        inside: dict[str, Any] = {}
        for name in names:
            inside[name] = ends[name] = data.draw(any_value(name), name)
            if name in (*plain[0], *plain[1]):
                low, high = span(name)
                width = 0.02 * (high - low) * data.draw(st.floats(0.0, 1.0), f"width of {name}")
                ends[name] = (max(low, inside[name] - width), min(high, inside[name] + width))
        outcome, value = carry(**ends), function(**inside)
        if outcome is None or value is None:
            return
        slack = 1e-9 * abs(value) if isfinite(value) else 0.0
        assert outcome[0] - slack <= value <= outcome[1] + slack

    holds()


@pytest.mark.parametrize("function", declared())
def test_a_figure_of_a_number_that_is_none_is_unknown(function: Callable[..., float | None]) -> None:
    arguments = [name for name in inspect.signature(function).parameters if name not in WORDS]
    names = [number for name in arguments for number in numbers_of(name)]

    @settings(max_examples=15, deadline=None, derandomize=True, database=None)
    @given(data=st.data(), missing=st.sampled_from(names))
    def holds(data: st.DataObject, missing: str) -> None:
        base = {name: data.draw(any_value(name), name) for name in inspect.signature(function).parameters}
        if f"{function.__name__} {missing}" not in NO_PART:
            assert function(**moved_to(base, missing, nan)) is None, missing

    holds()


HOSE = Hose(bore=6.3e-3, length=20.0, roughness=0.0, loss_coefficient=1.0)
OXYGEN = Stream(mass_flow=1e-3, temperature=293.15, molar_mass=0.0319988, compressibility=1.0, viscosity=2.03e-5)
flows = st.floats(1e-6, 4e-3)
lengths = st.floats(0.0, 60.0)
fittings = st.floats(0.0, 10.0)
pressures = st.floats(2e5, 1.2e6)


def inlet_of(flow: float, hose: Hose, outlet: float) -> float | None:
    stream = replace(OXYGEN, mass_flow=flow)
    return hose_flow.hose_inlet_pressure_abs(stream=stream, hose=hose, outlet_pressure_abs=outlet)


@given(loss=fittings, length=lengths, outlet=pressures)
def test_nothing_is_lost_where_nothing_flows(loss: float, length: float, outlet: float) -> None:
    assert inlet_of(0.0, replace(HOSE, length=length, loss_coefficient=loss), outlet) == outlet


@given(flow=flows, outlet=pressures)
def test_nothing_is_lost_in_no_length(flow: float, outlet: float) -> None:
    inlet = inlet_of(flow, replace(HOSE, length=0.0, loss_coefficient=0.0), outlet)
    assert inlet is None or inlet == pytest.approx(outlet, abs=1e-6)


@given(flow=flows, first=st.floats(0.5, 30.0), second=st.floats(0.5, 30.0), outlet=pressures)
def test_two_hoses_in_a_row_lose_what_one_of_their_length_does(
    flow: float, first: float, second: float, outlet: float
) -> None:
    bare = replace(HOSE, loss_coefficient=0.0)
    between = inlet_of(flow, replace(bare, length=second), outlet)
    assert between is not None
    parts = inlet_of(flow, replace(bare, length=first), between)
    assert parts == pytest.approx(inlet_of(flow, replace(bare, length=first + second), outlet), rel=1e-9)


@settings(deadline=None, max_examples=25)
@given(flow=st.floats(1e-4, 4e-3), length=st.floats(1.0, 60.0), outlet=pressures)
def test_a_hose_that_was_solved_for_gives_back_its_length_and_bore(flow: float, length: float, outlet: float) -> None:
    hose, stream = replace(HOSE, length=length), replace(OXYGEN, mass_flow=flow)
    inlet = inlet_of(flow, hose, outlet)
    if inlet is None:
        return
    ends = {"inlet_pressure_abs": inlet, "outlet_pressure_abs": outlet}
    unsized = replace(hose, length=1.0), replace(hose, bore=1.0)
    assert hose_sizing.longest_hose(stream=stream, hose=unsized[0], **ends) == pytest.approx(length, rel=1e-6)
    assert hose_sizing.smallest_bore(stream=stream, hose=unsized[1], **ends) == pytest.approx(HOSE.bore, rel=1e-6)


@given(scale=st.floats(0.1, 10.0), flow=flows, length=st.floats(1.0, 60.0), outlet=pressures)
def test_a_hose_knows_no_unit_of_pressure(scale: float, flow: float, length: float, outlet: float) -> None:
    # Dimensions: pressure, viscosity and mass flow all scale with the unit of mass; lengths and times stay.
    hose = replace(HOSE, length=length)
    plain = inlet_of(flow, hose, outlet)
    scaled = hose_flow.hose_inlet_pressure_abs(
        stream=replace(OXYGEN, mass_flow=flow * scale, viscosity=OXYGEN.viscosity * scale),
        hose=hose,
        outlet_pressure_abs=outlet * scale,
    )
    if plain is None or scaled is None:
        return
    assert scaled == pytest.approx(plain * scale, rel=1e-6)


@given(
    room=st.floats(5.0, 500.0),
    seep=st.floats(1e-5, 1e-2),
    fresh=st.floats(0.0, 1.0),
    mixing=st.floats(0.1, 1.0),
    limit=st.floats(0.001, 0.9),
)
def test_a_room_is_at_the_limit_at_the_time_to_the_limit(
    room: float, seep: float, fresh: float, mixing: float, limit: float
) -> None:
    state = {"room_volume": room, "leak": seep, "leak_share": 1.0, "fresh_air": fresh, "fresh_share": 0.0}
    time = air.time_to_share(**state, start_share=0.0, limit_share=limit)
    assert time is not None
    if time == float("inf"):
        settled = air.settled_share(leak=seep, leak_share=1.0, fresh_air=fresh, fresh_share=0.0)
        assert settled is not None and settled <= limit
        return
    there = air.share_at_time(**state, start_share=0.0, time=time)
    assert there == pytest.approx(limit, rel=1e-6)


ranges = st.tuples(st.floats(1.0, 150.0), st.floats(0.0, 50.0)).map(lambda of: (of[0], of[0] + of[1]))
places = st.tuples(st.floats(-0.2, 1.2), st.floats(0.0, 0.3)).map(lambda of: (of[0], of[0] + of[1]))


@given(parts=st.lists(st.tuples(ranges, places), min_size=1, max_size=5))
def test_the_centre_of_mass_is_the_hull_of_every_corner(parts: list[tuple[Span, Span]]) -> None:
    masses, at = [mass for mass, _ in parts], [place for _, place in parts]
    low, high = stability.centre_of_mass(masses=masses, places=at) or (0.0, 0.0)
    for end, found in ((0, low), (1, high)):
        corners = [
            sum(mass * place[end] for mass, place in zip(corner, at, strict=True)) / sum(corner)
            for corner in product(*masses)
        ]
        assert found == pytest.approx(min(corners) if end == 0 else max(corners), rel=1e-9, abs=1e-12)
