"""What each cylinder holds, and how much of it can be drawn."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from rigcheck.facts.spans import BASE, absolute, as_stated
from rigcheck.facts.working import Figure, Way
from rigcheck.figures.contents import content_by_weight
from rigcheck.figures.dissolved import ROUGHNESS, acetylene_share_left
from rigcheck.figures.gas_properties import GASES
from rigcheck.figures.real_gas import gas_density
from rigcheck.figures.spread import Span, by_end_points, directions_of, give_or_take

__all__ = ["COMPRESSED", "FIGURES", "LIQUEFIED", "base_density", "volume_at_base"]

COMPRESSED = ("oxygen", "hydrogen", "air", "nitrogen")
"""Gases that stand in a cylinder as compressed gas and have an equation of state here."""

LIQUEFIED = ("propane", "butane", "propylene", "methylacetylene-mix", "carbon-dioxide")
"""Gases that stand in a cylinder as liquid under their own vapour."""

_EQUATIONS = "Schmidt & Wagner and GERG-2008 equations of state, as figures/real_gas.py says"
_FILLED_AT = 288.15  # K; stamped filling pressures are at 15 degC

_weighed = by_end_points(content_by_weight, *directions_of(content_by_weight))
_share_left = by_end_points(acetylene_share_left, *directions_of(acetylene_share_left))


@lru_cache(maxsize=4096)
def _density(gas: str, pressure_abs: float, temperature: float) -> float | None:
    found = GASES.get(gas)
    return None if found is None else gas_density(gas=found, pressure_abs=pressure_abs, temperature=temperature)


@lru_cache(maxsize=64)
def base_density(gas: str) -> Span | None:
    """Return the density of a gas at 15 degC and 1 atm, kg/m3, as far as its make-up is known."""
    found = _density(gas, BASE.pressure_abs, BASE.temperature)
    return give_or_take(found, GASES[gas].spread) if found else None


def volume_at_base(gas: str, mass: Span) -> Span | None:
    """Return the volume of a mass of gas, or the flow of a mass flow, at 15 degC and 1 atm: m3, m3/s."""
    density = base_density(gas)
    return (mass[0] / density[1], mass[1] / density[0]) if density else None


def _compressed_mass(gas: str, capacity: Span, pressure: Span, temperature: Span) -> Span | None:
    """Return the mass of gas, kg: more with pressure, less with temperature."""
    low, high = absolute(pressure)
    least, most = _density(gas, low, temperature[1]), _density(gas, high, temperature[0])
    return None if least is None or most is None else (capacity[0] * least, capacity[1] * most)


def _acetylene_mass(full: Span, pressure: Span, temperature: Span, filling: Span) -> Span | None:
    share = _share_left(
        pressure_abs=absolute(pressure),
        temperature=temperature,
        full_pressure_abs=absolute(filling),
        full_temperature=_FILLED_AT,
    )
    if share is None:
        return None
    return full[0] * share[0] * (1.0 - ROUGHNESS), full[1] * share[1] * (1.0 + ROUGHNESS)


def _full_compressed(gas: str, capacity: Span, filling: Span) -> Span | None:
    mass = _compressed_mass(gas, capacity, filling, (_FILLED_AT, _FILLED_AT))
    return None if mass is None else volume_at_base(gas, mass)


def _usable_compressed(gas: str, capacity: Span, pressure: Span, temperature: Span, residual: Span) -> Span | None:
    """Return what lies between two pressures, m3; each end state takes the same end of the temperature.

    The difference falls as temperature rises, so the corners are hot with the smallest, cold with the greatest.
    """
    ends = []
    for end, other in ((0, 1), (1, 0)):
        now = _density(gas, absolute(pressure)[end], temperature[other])
        left = _density(gas, absolute(residual)[other], temperature[other])
        if now is None or left is None:
            return None
        ends.append(capacity[end] * max(0.0, now - left))
    return volume_at_base(gas, (ends[0], ends[1]))


def _usable_acetylene(content: Span, pressure: Span, residual: Span) -> Span | None:
    """Return content less what stays in solution at the residual pressure (Henry), that part good to ROUGHNESS."""
    now, left = absolute(pressure), absolute(residual)
    if now[0] <= 0.0:
        return None
    most, least = left[1] / now[0] * (1.0 + ROUGHNESS), left[0] / now[1] * (1.0 - ROUGHNESS)
    return content[0] * max(0.0, 1.0 - most), content[1] * max(0.0, 1.0 - least)


_GAS = {"gas": "line.gas"}
_DISSOLVED: dict[str, tuple[Any, ...]] = {"line.gas": ("acetylene",)}
_AS_GAS: dict[str, tuple[Any, ...]] = {"line.gas": COMPRESSED}
_AS_LIQUID: dict[str, tuple[Any, ...]] = {"line.gas": LIQUEFIED}

_TEMPERATURE = Figure(
    "cylinder",
    "gas_temperature",
    (
        as_stated("temperature"),
        Way(
            "T = temperature of the air",
            "common practice",
            lambda air: air,
            inputs={"air": "rig.site.ambient_temperature"},
            validity="a cylinder that has stood in this air for hours, out of the sun and not drawn hard",
        ),
    ),
)

_MASS = Figure(
    "cylinder",
    "gas_mass",
    (
        Way(
            "m = V rho(p + 1 atm, T), real gas",
            _EQUATIONS,
            _compressed_mass,
            inputs=_GAS | {"capacity": "water_capacity", "pressure": "pressure", "temperature": "gas_temperature"},
            only=_AS_GAS,
            validity="0 to 350 bar, -43 to 67 degC; the gas has the temperature that is given",
        ),
        as_stated("contents_mass", asks=True),
        Way(
            "m = gross - tare",
            "common practice",
            lambda gross, tare: _weighed(gross_mass=gross, tare_mass=tare),
            inputs={"gross": "gross_mass", "tare": "tare_mass"},
            validity="tare as stamped, for acetylene with its porous mass and solvent",
            asks=False,
        ),
        Way(
            "m = m_full S(T) (p + 1 atm) / (S(15 degC) (p_full + 1 atm)), give or take 20 %; "
            "S = 25 exp(2000 K (1/T - 1/288.15 K))",
            "Henry's law; Manly, Oxy-Acetylene Welding and Cutting (1916); slope of S from memory",
            _acetylene_mass,
            inputs={
                "full": "full_contents_mass",
                "pressure": "pressure",
                "temperature": "gas_temperature",
                "filling": "working_pressure",
            },
            only=_DISSOLVED,
            validity="rough: weight is the measure of acetylene; settled at one temperature, -20 to 50 degC",
            asks=False,
        ),
    ),
)

_CONTENT = Figure(
    "cylinder",
    "content",
    (
        Way(
            "V = m / rho(1 atm, 15 degC)",
            _EQUATIONS,
            lambda gas, mass: volume_at_base(gas, mass),
            inputs=_GAS | {"mass": "gas_mass"},
            validity="volume at 15 degC and 101.325 kPa",
        ),
    ),
)

_FULL = Figure(
    "cylinder",
    "full_content",
    (
        Way(
            "V = V_water rho(p_filling + 1 atm, 15 degC) / rho(1 atm, 15 degC)",
            _EQUATIONS,
            _full_compressed,
            inputs=_GAS | {"capacity": "water_capacity", "filling": "working_pressure"},
            only=_AS_GAS,
        ),
        Way(
            "V = m_full / rho(1 atm, 15 degC)",
            _EQUATIONS,
            lambda gas, mass: volume_at_base(gas, mass),
            inputs=_GAS | {"mass": "full_contents_mass"},
        ),
    ),
)


def _usable(name: str, pressure: str, temperature: str, content: str) -> Figure:
    """Return the figure of what can be drawn from a cylinder before its pressure is down to the residual one."""
    return Figure(
        "cylinder",
        name,
        (
            Way(
                "V = V_water (rho(p + 1 atm, T) - rho(p_residual + 1 atm, T)) / rho(1 atm, 15 degC)",
                _EQUATIONS,
                _usable_compressed if temperature else _usable_at_filling,
                inputs=_GAS
                | {"capacity": "water_capacity", "pressure": pressure, "residual": "line.residual_pressure"}
                | ({"temperature": temperature} if temperature else {}),
                only=_AS_GAS,
                validity="both end states at one temperature, so after the cylinder has warmed again",
            ),
            Way(
                "V = V_content (1 - (p_residual + 1 atm) / (p + 1 atm)), what stays good to 20 %",
                "Henry's law, at one temperature",
                _usable_acetylene,
                inputs={"content": content, "pressure": pressure, "residual": "line.residual_pressure"},
                only=_DISSOLVED,
                validity="rough; a cold cylinder shows less pressure and delivers less",
            ),
            Way(
                "V = V_content: the vapour pressure stands until the last liquid",
                "common practice",
                lambda content: content,
                inputs={"content": content},
                only=_AS_LIQUID,
            ),
        ),
    )


def _usable_at_filling(gas: str, capacity: Span, pressure: Span, residual: Span) -> Span | None:
    return _usable_compressed(gas, capacity, pressure, (_FILLED_AT, _FILLED_AT), residual)


FIGURES: tuple[Figure, ...] = (
    _TEMPERATURE,
    _MASS,
    _CONTENT,
    _FULL,
    _usable("usable_content", "pressure", "gas_temperature", "content"),
    _usable("usable_when_full", "working_pressure", "", "full_content"),
)
"""The figures of this topic."""
