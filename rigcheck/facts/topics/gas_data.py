"""Properties of the gas that a figure takes from data, as inputs of its working: so a colleague can follow it by hand.

Densities, flammable limits and the like are nobody's statement and no figure of their own;
they stand on the sheet with the value that was used.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from msgspec import Struct

from rigcheck.facts.figure import Look, Used
from rigcheck.facts.topics.gathering import BASE, absolute
from rigcheck.physics.flammability import widest_limits
from rigcheck.physics.gas_properties import GASES
from rigcheck.physics.intervals import Span, give_or_take
from rigcheck.physics.real_gas import gas_density
from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import Thing

__all__ = [
    "Amount",
    "Data",
    "Inputs",
    "all_of",
    "amount",
    "at_base",
    "base_datum",
    "base_density",
    "compressed",
    "datum",
    "density_at",
    "lower_limit",
    "stated_span",
]

Inputs = tuple[Used, ...]
Data = Callable[[Thing, Look], Inputs]
"""Gathers numbers from data; it has always an answer, if an empty one."""


class Amount(Struct, frozen=True):
    """A number from data, least and greatest, in the unit that it is shown in; put in words only when it is shown.

    `factor`: base units in one of that unit; `offset`: of the unit's zero, in that unit.
    """

    least: float
    greatest: float
    unit: str
    factor: float = 1.0
    offset: float = 0.0

    def __str__(self) -> str:
        """Return the number as it is shown, in five figures, with its unit."""
        low, high = (f"{end / self.factor - self.offset:.5g}" for end in (self.least, self.greatest))
        return f"{low if low == high else f'{low} to {high}'} {self.unit}".strip()


def datum(name: str, means: str, span: Span | None, unit: str, factor: float = 1.0, offset: float = 0.0) -> Inputs:
    """Return a number from data as an input of a working; none where there is no such number."""
    if span is None:
        return ()
    return (Used(name, None, means, Amount(span[0], span[1], unit, factor, offset)),)


def amount(gathered: tuple[Used, ...], name: str) -> Span | None:
    """Return the number from data called `name` among gathered inputs, in base units."""
    return next(((u.value.least, u.value.greatest) for u in gathered if u.name == name), None)


def all_of(*gatherers: Data) -> Data:
    """Return what gathers one after the other; each of them always has an answer."""
    return lambda thing, look: tuple(used for gather in gatherers for used in gather(thing, look))


def stated_span(thing: Thing, path: str, look: Look) -> Span | None:
    """Return the interval at the end of a path of facts, which the way has already found."""
    *steps, fact = path.split(".")
    for step in steps:
        thing = look.fact(thing, step)
    value = look.fact(thing, fact)
    return (value.lo, value.hi) if type(value) is Interval else None


# --- density ---


@lru_cache(maxsize=4096)
def density_at(gas: str, pressure_abs: float, temperature: float) -> float | None:
    """Return the density of a gas by its name, kg/m3; pressure in Pa, temperature in K."""
    found = GASES.get(gas)
    return None if found is None else gas_density(gas=found, pressure_abs=pressure_abs, temperature=temperature)


@lru_cache(maxsize=64)
def base_density(gas: str) -> Span | None:
    """Return the density of a gas at 15 degC and 1 atm, kg/m3, as far as its make-up is known."""
    found = density_at(gas, BASE.pressure_abs, BASE.temperature)
    return give_or_take(found, GASES[gas].spread) if found else None


def at_base(gas_path: str) -> Data:
    """Return what gathers the density of the gas at 15 degC and 1 atm as `rho0`."""

    def gather(thing: Thing, look: Look) -> Inputs:
        return base_datum(_gas_at(thing, gas_path, look))

    return gather


@lru_cache(maxsize=64)
def base_datum(gas: str) -> Inputs:
    """Return the density of a gas at 15 degC and 1 atm as the input `rho0` of a working."""
    return datum("rho0", f"density of {gas} at 1 atm and 15 degC", base_density(gas), "kg/m3")


def _gas_at(thing: Thing, path: str, look: Look) -> str:
    *steps, fact = path.split(".")
    for step in steps:
        thing = look.fact(thing, step)
    return str(look.fact(thing, fact))


def compressed(name: str, means: str, pressure: str, temperature: str) -> Data:
    """Return what gathers the density of a cylinder's compressed gas at a pressure and a temperature.

    `pressure`, `temperature`: paths of facts.
    """

    def gather(cylinder: Thing, look: Look) -> Inputs:
        gas = _gas_at(cylinder, "line.gas", look)
        at = stated_span(cylinder, pressure, look)
        warmth = stated_span(cylinder, temperature, look)
        return datum(name, means, _dense(gas, at, warmth), "kg/m3") if at and warmth else ()

    return gather


def _dense(gas: str, pressure: Span, temperature: Span) -> Span | None:
    """Return the density, kg/m3: more with pressure, less with temperature."""
    low, high = absolute(pressure)
    least, most = density_at(gas, low, temperature[1]), density_at(gas, high, temperature[0])
    return None if least is None or most is None else (least, most)


# --- burning ---


@lru_cache(maxsize=64)
def lower_limit(gas: str) -> float | None:
    """Return the most cautious lower explosive limit of a gas in air, volume share."""
    limits = widest_limits(gas=gas)
    return None if limits is None else limits.lower
