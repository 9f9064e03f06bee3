"""What each cylinder holds, and how much of it can be drawn."""

from __future__ import annotations

from typing import Any

from rigcheck.facts.figure import Figure, Used, Way
from rigcheck.facts.topics.gas_data import (
    Data,
    all_of,
    amount,
    at_base,
    base_density,
    compressed,
    density_at,
)
from rigcheck.facts.topics.gathering import ATMOSPHERE, absolute, as_stated
from rigcheck.physics.contents import content_by_weight, settled_pressure
from rigcheck.physics.dissolved import ROUGHNESS, acetylene_pressure_at, acetylene_share_left
from rigcheck.physics.gas_properties import GASES
from rigcheck.physics.intervals import Span, carried, multiplied

__all__ = ["COMPRESSED", "FIGURES", "LIQUEFIED", "base_density", "volume_at_base"]

COMPRESSED = ("oxygen", "hydrogen", "air", "nitrogen", "argon")
"""Gases that stand in a cylinder as compressed gas and have an equation of state here."""

LIQUEFIED = ("propane", "butane", "propylene", "methylacetylene-mix", "carbon-dioxide")
"""Gases that stand in a cylinder as liquid under their own vapour."""

_DENSE = "GERG-2008 (ISO 20765-2) equation of state; air: J. Phys. Chem. Ref. Data 29 (2000) 331"
_THIN = _DENSE + "; acetylene, butane, propylene and other fuels by a virial equation, AIChE Journal 20 (1974) 263"

_weighed = carried(content_by_weight)
_compressed = carried(settled_pressure)
_dissolved = carried(acetylene_pressure_at)
_share_left = carried(acetylene_share_left)


def _settled(gas: str, pressure: Span, temperature: Span, hot: Span) -> Span | None:
    """Return the pressure of a closed cylinder at another temperature, Pa gauge."""
    arguments = {"pressure_abs": absolute(pressure), "temperature": temperature, "new_temperature": hot}
    found = _dissolved(**arguments) if gas == "acetylene" else _compressed(gas=GASES[gas], **arguments)
    return None if found is None else (found[0] - ATMOSPHERE, found[1] - ATMOSPHERE)


def volume_at_base(gas: str, mass: Span) -> Span | None:
    """Return the volume of a mass of gas, or the flow of a mass flow, at 15 degC and 1 atm: m3, m3/s."""
    density = base_density(gas)
    return (mass[0] / density[1], mass[1] / density[0]) if density else None


def _compressed_mass(gas: str, capacity: Span, pressure: Span, temperature: Span, gathered: Any) -> Span | None:
    density = amount(gathered, "rho")
    return None if density is None else multiplied(capacity, density)


def _volume(gas: str, mass: Span, gathered: tuple[Used, ...]) -> Span | None:
    return volume_at_base(gas, mass)


def _acetylene_mass(full: Span, pressure: Span, temperature: Span, filling: Span, filled_at: Span) -> Span | None:
    share = _share_left(
        pressure_abs=absolute(pressure),
        temperature=temperature,
        full_pressure_abs=absolute(filling),
        full_temperature=filled_at,
    )
    if share is None:
        return None
    return full[0] * share[0] * (1.0 - ROUGHNESS), full[1] * share[1] * (1.0 + ROUGHNESS)


def _full_compressed(
    gas: str, capacity: Span, filling: Span, filled_at: Span, gathered: tuple[Used, ...]
) -> Span | None:
    mass = _compressed_mass(gas, capacity, filling, filled_at, gathered)
    return None if mass is None else volume_at_base(gas, mass)


def _usable_compressed(
    gas: str,
    capacity: Span,
    pressure: Span,
    residual: Span,
    temperature: Span,
    gathered: tuple[Used, ...],
) -> Span | None:
    """Return what lies between two pressures, m3; each end state takes the same end of the temperature.

    Down to what a regulator leaves, the difference falls as temperature rises,
    so the corners are hot with the smallest, cold with the greatest.
    """
    ends = []
    for end, other in ((0, 1), (1, 0)):
        now = density_at(gas, absolute(pressure)[end], temperature[other])
        left = density_at(gas, absolute(residual)[other], temperature[other])
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


def _usable_liquefied(content: Span, vapour: Span, residual: Span) -> Span:
    """Return all of it or nothing, m3; either where the two pressures overlap."""
    return (
        content[0] if vapour[0] > residual[1] else 0.0,
        content[1] if vapour[1] > residual[0] else 0.0,
    )


_GAS = {"gas": "line.gas"}
_AT_BASE = "volume at 15 degC and 101.325 kPa"
_RHO0 = at_base("line.gas")
_RHO = compressed("rho", "density at the pressure and temperature now", "pressure", "gas_temperature")
_RHO_FULL = compressed("rho", "density when filled", "working_pressure", "filling_temperature")
_DISSOLVED: dict[str, tuple[Any, ...]] = {"line.gas": ("acetylene",)}
_AS_GAS: dict[str, tuple[Any, ...]] = {"line.gas": COMPRESSED}
_AS_LIQUID: dict[str, tuple[Any, ...]] = {"line.gas": LIQUEFIED}

_TEMPERATURE = Figure(
    "cylinder",
    "gas_temperature",
    (
        as_stated("temperature", alone=True),
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
            "m = V rho; rho at p + 1 atm and T, real gas",
            _DENSE,
            _compressed_mass,
            inputs=_GAS | {"capacity": "water_capacity", "pressure": "pressure", "temperature": "gas_temperature"},
            only=_AS_GAS,
            gather=_RHO,
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
            "m = m_full S(T) (p + 1 atm) / (S(T_full) (p_full + 1 atm)), give or take 20 %; "
            "S = 25 exp(2000 K (1/T - 1/288.15 K))",
            "Henry's law; Oxy-Acetylene Welding and Cutting (1916); slope of S from memory",
            _acetylene_mass,
            inputs={
                "full": "full_contents_mass",
                "pressure": "pressure",
                "temperature": "gas_temperature",
                "filling": "working_pressure",
                "filled_at": "filling_temperature",
            },
            only=_DISSOLVED,
            validity="rough: weight is the measure of acetylene; settled at one temperature, -20 to 50 degC",
            asks=False,
        ),
    ),
    0.05,
    "scales and gauges at a cylinder are read to a twentieth",
)

_CONTENT = Figure(
    "cylinder",
    "content",
    (
        Way(
            "V = m / rho0",
            _THIN,
            _volume,
            inputs=_GAS | {"mass": "gas_mass"},
            gather=_RHO0,
            validity=_AT_BASE,
        ),
    ),
)

_FULL = Figure(
    "cylinder",
    "full_content",
    (
        Way(
            "V = V_water rho / rho0; rho at p_filling + 1 atm and the temperature of the stamp, real gas",
            _DENSE,
            _full_compressed,
            inputs=_GAS
            | {"capacity": "water_capacity", "filling": "working_pressure", "filled_at": "filling_temperature"},
            only=_AS_GAS,
            gather=all_of(_RHO_FULL, _RHO0),
            validity=_AT_BASE,
        ),
        Way(
            "V = m_full / rho0",
            _THIN,
            _volume,
            inputs=_GAS | {"mass": "full_contents_mass"},
            gather=_RHO0,
            validity=_AT_BASE,
        ),
    ),
)


def _rho_residual(temperature: str) -> Data:
    return compressed("rho_r", "density at the residual pressure", "line.residual_pressure", temperature)


def _usable(name: str, pressure: str, temperature: str, content: str, rho: Data) -> Figure:
    """Return the figure of what can be drawn from a cylinder before its pressure is down to the residual one."""
    return Figure(
        "cylinder",
        name,
        (
            Way(
                "V = V_water (rho - rho_r) / rho0; rho at p + 1 atm, rho_r at p_residual + 1 atm, both at T, real gas",
                _DENSE,
                _usable_compressed,
                inputs=_GAS
                | {"capacity": "water_capacity", "pressure": pressure, "residual": "line.residual_pressure"}
                | {"temperature": temperature},
                only=_AS_GAS,
                gather=all_of(rho, _rho_residual(temperature), _RHO0),
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
                "V = V_content where the vapour pressure is above p_residual, else 0",
                "common practice: the vapour pressure stands until the last liquid",
                _usable_liquefied,
                inputs={"content": content, "vapour": "vapour_pressure", "residual": "line.residual_pressure"},
                only=_AS_LIQUID,
                validity="at the temperature that it has; the draw itself cools it: see the sustained draw",
                asks=False,
            ),
            Way(
                "V = V_content: the vapour pressure stands until the last liquid",
                "common practice",
                lambda content: content,
                inputs={"content": content},
                only=_AS_LIQUID,
                validity="where it is warm enough: the vapour pressure is not known here",
            ),
        ),
    )


_ISO_STAMPS, _AMERICAN_STAMPS = ("UN", "pi", "AS 2030", "SANS 10019"), ("DOT", "TC")
_FIFTEEN, _SEVENTY = 288.15, (70.0 + 459.67) / 1.8  # K; 15 degC and 70 degF

_FILLED_AT = Figure(
    "cylinder",
    "filling_temperature",
    (
        Way(
            "T = 70 degF for DOT and TC marks",
            "49 CFR 173.301a(c), service pressure at 70 degF (from memory)",
            lambda: (_SEVENTY, _SEVENTY),
            only={"approval_mark": _AMERICAN_STAMPS},
            asks=False,
        ),
        Way(
            "T = 15 degC for UN, pi and other marks by ISO standards",
            "ISO 10286, working pressure at 15 degC (from memory)",
            lambda: (_FIFTEEN, _FIFTEEN),
            only={"approval_mark": _ISO_STAMPS},
            asks=False,
        ),
        Way(
            "T = from the least to the most that is usual under the local code",
            "common practice",
            lambda least, most: (least[0], most[1]),
            inputs={"least": "limit:stamping_temperature_low", "most": "limit:stamping_temperature_high"},
            validity="the approval stamped on the cylinder says more",
        ),
    ),
)


_HOT = {
    "gas": "line.gas",
    "pressure": "pressure",
    "temperature": "gas_temperature",
    "hot": "limit:cylinder_temperature",
}

FIGURES: tuple[Figure, ...] = (
    _TEMPERATURE,
    _FILLED_AT,
    _MASS,
    _CONTENT,
    _FULL,
    _usable("usable_content", "pressure", "gas_temperature", "content", _RHO),
    _usable("usable_when_full", "working_pressure", "filling_temperature", "full_content", _RHO_FULL),
    Figure(
        "cylinder",
        "hot_pressure",
        (
            Way(
                "p2 = p(rho, T2) - 1 atm, rho = rho(p + 1 atm, T), real gas",
                _DENSE,
                _settled,
                inputs=_HOT,
                only={"line.gas": COMPRESSED},
                validity="closed, and no gas drawn",
            ),
            Way(
                "p2 = (p + 1 atm) S(T)/S(T2) - 1 atm; S = 25 exp(2000 K (1/T - 1/288.15 K))",
                "Henry's law, slope of S from memory",
                _settled,
                inputs=_HOT,
                only={"line.gas": ("acetylene",)},
                validity="rough: the free gas and the swelling of the acetone make it more; up to 30 bar",
            ),
        ),
    ),
)
"""The figures of this topic."""
