"""Laws that the gas-side figures keep whatever the numbers: they rise and fall as declared, and inverses return."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from math import isclose, isfinite
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from support.figure_modules import GAS_SIDE

from rigcheck.physics import (
    combustion,
    contents,
    liquefied,
    real_gas,
    vaporisation,
)
from rigcheck.physics.gas_properties import GASES
from rigcheck.physics.intervals import directions_of

CYLINDER = st.floats(1e5, 349e5)
SERVICE = st.floats(231.0, 339.0)
POSITIVE = st.floats(1e-3, 1e3)
SHARE = st.floats(0.0, 1.0)
RATIO = st.floats(1.06, 1.69)
COMPRESSED = st.sampled_from([GASES[name] for name in ("oxygen", "air", "argon", "methane", "hydrogen", "nitrogen")])
BASE = st.sampled_from(sorted(contents.BASE_STATES.values()))

DOMAINS: dict[str, st.SearchStrategy[Any]] = {
    "air_temperature": st.floats(231.0, 329.0),
    "atmosphere": st.floats(70e3, 105e3),
    "back_pressure_abs": st.floats(0.0, 3e5),
    "base": BASE,
    "bore": st.floats(1e-4, 1e-2),
    "cutting_share": SHARE,
    "density": st.floats(0.0, 400.0),
    "diameter": st.floats(0.1, 2.0),
    "discharge_coefficient": st.floats(0.1, 1.0),
    "duty": SHARE,
    "filling": SHARE,
    "final_temperature": st.floats(400.0, 1999.0),
    "flame": st.sampled_from(combustion.FLAMES),
    "fuel": st.sampled_from(sorted(combustion.FUELS)),
    "full_pressure_abs": st.floats(1e5, 30e5),
    "full_temperature": st.floats(254.0, 322.0),
    "gas": COMPRESSED,
    "gas_constant": st.floats(50.0, 5000.0),
    "heat_capacity": st.floats(400.0, 2000.0),
    "heat_capacity_ratio": RATIO,
    "least_pressure_abs": st.floats(1e5, 10e5),
    "length": st.floats(0.2, 5.0),
    "liquid_temperature": st.floats(231.0, 329.0),
    "liquid": st.sampled_from(["propane", *sorted(liquefied.LIQUIDS)]),
    "liquid_volume": st.floats(0.0, 1.0),
    "mass_flow": st.floats(1e-5, 1e-2),
    "partial_pressure_abs": st.floats(0.0, 30e5),
    "pressure_abs": CYLINDER,
    "pressure_after_abs": st.floats(2e5, 400e5),
    "pressure_before_abs": st.floats(0.5e5, 50e5),
    "pressure_gauge": st.floats(0.0, 20e5),
    "purity": st.floats(0.985, 0.995),
    "residual_pressure_abs": CYLINDER,
    "share": st.floats(1e-6, 1e-3),
    "shares": st.sampled_from([{"propane": 0.4, "butane": 0.6}, {"propylene": 0.9, "propane": 0.1}]),
    "temperature": SERVICE,
    "new_temperature": SERVICE,
}
NARROWER: dict[tuple[str, str], st.SearchStrategy[Any]] = {
    ("propane_boiling_temperature", "pressure_abs"): st.floats(0.3e5, 34e5),
    ("boiling_temperature", "pressure_abs"): st.floats(0.3e5, 20e5),
    ("acetylene_pressure_at", "pressure_abs"): st.floats(0.0, 30e5),
    ("acetylene_share_left", "pressure_abs"): st.floats(0.0, 30e5),
    ("deliverable_share", "pressure_abs"): st.floats(1e5, 30e5),
    ("acetylene_pressure_at", "temperature"): st.floats(254.0, 322.0),
    ("acetylene_pressure_at", "new_temperature"): st.floats(254.0, 322.0),
    ("acetylene_share_left", "temperature"): st.floats(254.0, 322.0),
    ("dissolved_acetylene", "temperature"): st.floats(254.0, 322.0),
    ("solubility_in_acetone", "temperature"): st.floats(254.0, 322.0),
}


def declared() -> list[tuple[Callable[..., float | None], str, int]]:
    """Return every figure with every argument that it is declared to rise (+1) or fall (-1) with."""
    found = []
    for function in GAS_SIDE:
        for names, sign in zip(directions_of(function), (1, -1), strict=True):
            found += [(function, argument, sign) for argument in names]
    return found


def domain(function: Callable[..., Any], argument: str) -> st.SearchStrategy[Any]:
    """Return the strategy of an argument of a figure."""
    return NARROWER.get((function.__name__, argument), DOMAINS.get(argument, POSITIVE))


@pytest.mark.parametrize(("function", "argument", "sign"), declared(), ids=lambda v: getattr(v, "__name__", str(v)))
@settings(max_examples=30, deadline=None)
@given(data=st.data())
def test_a_figure_rises_and_falls_as_is_said_beside_it(
    data: st.DataObject, function: Callable[..., float | None], argument: str, sign: int
) -> None:
    arguments = {name: data.draw(domain(function, name), label=name) for name in inspect.signature(function).parameters}
    other = data.draw(domain(function, argument), label="other end")
    low, high = sorted((arguments[argument], other))
    first, last = function(**{**arguments, argument: low}), function(**{**arguments, argument: high})
    assume(first is not None and last is not None)
    assert first is not None and last is not None
    assert sign * (last - first) >= -1e-9 * max(abs(first), abs(last), 1e-300) or first == last


@pytest.mark.parametrize("function", GAS_SIDE, ids=lambda function: function.__name__)
def test_what_is_said_beside_a_function_is_of_its_own_arguments(function: Callable[..., float | None]) -> None:
    rising, falling = directions_of(function)
    assert {*rising, *falling} <= set(inspect.signature(function).parameters)


@settings(max_examples=40, deadline=None)
@given(gas=COMPRESSED, pressure=CYLINDER, temperature=SERVICE)
def test_pressure_of_the_density_returns_the_pressure(gas: Any, pressure: float, temperature: float) -> None:
    density = real_gas.gas_density(gas=gas, pressure_abs=pressure, temperature=temperature)
    assert density is not None
    back = real_gas.gas_pressure(gas=gas, density=density, temperature=temperature)
    assert back is not None and isclose(back, pressure, rel_tol=1e-9)


@settings(max_examples=40, deadline=None)
@given(gas=COMPRESSED, pressure=st.floats(1e5, 200e5), start=SERVICE, end=SERVICE)
def test_a_cylinder_that_comes_back_to_its_temperature_comes_back_to_its_pressure(
    gas: Any, pressure: float, start: float, end: float
) -> None:
    there = contents.settled_pressure(gas=gas, pressure_abs=pressure, temperature=start, new_temperature=end)
    assume(there is not None)
    assert there is not None
    back = contents.settled_pressure(gas=gas, pressure_abs=there, temperature=end, new_temperature=start)
    assert back is not None and isclose(back, pressure, rel_tol=1e-8)


@given(area=st.floats(0.05, 5.0), coefficient=st.floats(5.0, 30.0), air=st.floats(240.0, 320.0), depth=SHARE)
def test_liquid_settles_at_the_temperature_that_gives_the_draw(
    area: float, coefficient: float, air: float, depth: float
) -> None:
    wall = {"wetted_area": area, "heat_transfer_coefficient": coefficient, "air_temperature": air}
    liquid = 231.1 + depth * (air - 231.1)
    draw = vaporisation.sustained_draw(liquid="propane", liquid_temperature=liquid, **wall)
    assert draw is not None
    back = vaporisation.liquid_temperature(liquid="propane", mass_flow=draw, **wall)
    assert back is not None and isclose(back, liquid, abs_tol=1e-6)


@pytest.mark.parametrize(("function", "argument", "sign"), declared(), ids=lambda v: getattr(v, "__name__", str(v)))
@pytest.mark.parametrize("wrong", [float("nan"), float("inf"), -1.0])
@settings(max_examples=3, deadline=None)
@given(data=st.data())
def test_a_number_that_cannot_be_is_unknown_never_an_answer(
    data: st.DataObject, function: Callable[..., float | None], argument: str, sign: int, wrong: float
) -> None:
    arguments = {name: data.draw(domain(function, name)) for name in inspect.signature(function).parameters}
    found = function(**{**arguments, argument: wrong})
    assert found is None, (sign, found, isfinite(found))
