"""What a cylinder of liquefied gas gives: its vapour pressure, and the draw that the warmth of the air boils off."""

from __future__ import annotations

from functools import lru_cache
from math import pi
from typing import Any

from rigcheck.facts.figure import Figure, Look, Used, Way
from rigcheck.facts.topics.cylinder_contents import LIQUEFIED, volume_at_base
from rigcheck.facts.topics.gas_data import Inputs, all_of, at_base, datum, stated_span
from rigcheck.facts.topics.gathering import ATMOSPHERE, absolute, as_stated, of_cylinders, values_of
from rigcheck.physics.intervals import Span, added, carried
from rigcheck.physics.liquefied import (
    BUTANE_IN_PROPANE,
    LIQUIDS,
    boiling_temperature,
    latent_heat,
    liquid_density,
    mixture_vapour_pressure,
    saturation_pressure,
)
from rigcheck.physics.vaporisation import (
    STILL_AIR,
    frost_free_draw,
    sustained_draw_at_pressure,
    wetted_area_lying,
    wetted_area_upright,
)
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["FIGURES"]

_vapour = carried(saturation_pressure)
_liquid = carried(liquid_density)
_boils = carried(boiling_temperature)
_latent = carried(latent_heat)
_lying = carried(wetted_area_lying)
_frost_free = carried(frost_free_draw)

_ICE, _KJ = 273.15, "kJ/kg"


@lru_cache(maxsize=1024)
def _sustained(liquid: str, wetted_area: Span, air_temperature: Span, least_pressure_abs: Span) -> Span | None:
    draw = carried(sustained_draw_at_pressure)
    return draw(
        liquid=liquid,
        wetted_area=wetted_area,
        heat_transfer_coefficient=STILL_AIR,
        air_temperature=air_temperature,
        least_pressure_abs=least_pressure_abs,
    )


def _wetted(gas: str, diameter: Span, mass: Span, temperature: Span) -> Span | None:
    """Return the wall that liquid touches, m2: corner values, and the least between them by the turning point."""
    density = _liquid(liquid=gas, temperature=temperature)
    if density is None or diameter[0] <= 0.0:
        return None
    least, most = max(0.0, mass[0]) / density[1], mass[1] / density[0]
    turning = (8.0 * least / pi) ** (1.0 / 3.0)  # where pi D2/4 + 4 V/D is least
    narrow = min(max(turning, diameter[0]), diameter[1])
    low = wetted_area_upright(diameter=narrow, liquid_volume=least)
    ends = [wetted_area_upright(diameter=end, liquid_volume=most) for end in diameter]
    known = [end for end in ends if end is not None]
    return None if low is None or len(known) < 2 else (low, max(known))


@lru_cache(maxsize=256)
def _wetted_lying(gas: str, diameter: Span, mass: Span, temperature: Span, length: Span, capacity: Span) -> Span | None:
    density = _liquid(liquid=gas, temperature=temperature)
    if density is None or capacity[0] <= 0.0:
        return None
    filling = max(0.0, mass[0]) / (density[1] * capacity[1]), mass[1] / (density[0] * capacity[0])
    return _lying(diameter=diameter, length=length, filling=filling)


def _area(gas: str, **of_liquid: Span) -> Span | None:
    return (_wetted_lying if "length" in of_liquid else _wetted)(gas, **of_liquid)


def _boiled_draw(gas: str, air: Span, residual: Span, gathered: Inputs, **of_liquid: Span) -> Span | None:
    area = _area(gas, **of_liquid)
    flow = None if area is None else _sustained(gas, area, air, absolute(residual))
    return None if flow is None else volume_at_base(gas, flow)


def _frost_draw(gas: str, air: Span, gathered: Inputs, **of_liquid: Span) -> Span | None:
    area = _area(gas, **of_liquid)
    if area is None:
        return None
    flow = _frost_free(liquid=gas, wetted_area=area, heat_transfer_coefficient=STILL_AIR, air_temperature=air)
    return None if flow is None else volume_at_base(gas, flow)


def _vapour_gauge(gas: str, temperature: Span) -> Span | None:
    found = _vapour(liquid=gas, temperature=temperature)
    return None if found is None else (found[0] - ATMOSPHERE, found[1] - ATMOSPHERE)


def _mixed_gauge(gathered: Inputs, temperature: Span) -> Span | None:
    """Return the pressure over propane with butane in it, Pa gauge: least where it is cold and butane is most."""
    butane = _share_of(gathered)
    ends = [_mixed(temperature[end], butane[1 - end]) for end in (0, 1)]
    return None if ends[0] is None or ends[1] is None else (ends[0] - ATMOSPHERE, ends[1] - ATMOSPHERE)


@lru_cache(maxsize=1024)
def _mixed(temperature: float, butane: float) -> float | None:
    return mixture_vapour_pressure(shares={"propane": 1.0 - butane, "butane": butane}, temperature=temperature)


def _share_of(gathered: Inputs) -> Span:
    stated = values_of(gathered, "x")
    return stated[0] if stated else BUTANE_IN_PROPANE


def _butane(cylinder: Thing, look: Look) -> Inputs:
    """Gather the share of butane as stated, or else what commercial propane may have."""
    stated = look.fact(cylinder, "butane_share")
    if stated is not MISSING:
        return (Used("x", cylinder, "butane_share", stated),)
    return datum("x", "butane in commercial propane", BUTANE_IN_PROPANE, "%", 0.01)


def _pressures(gathered: Inputs, temperature: Span) -> Inputs:
    """Return the pressures of the two liquids, to be shown with what they come to together."""
    found = [(letter, gas, _vapour(liquid=gas, temperature=temperature)) for letter, gas in _LETTERS]
    return tuple(
        used for letter, gas, span in found for used in datum(letter, f"vapour pressure of {gas}", span, "bar", 1e5)
    )


_LETTERS = (("p_C3", "propane"), ("p_C4", "butane"))


def _of_liquid(cylinder: Thing, look: Look) -> Inputs:
    warmth = stated_span(cylinder, "gas_temperature", look)
    return () if warmth is None else _liquid_data(cylinder.facts["line"].facts["gas"], warmth)


@lru_cache(maxsize=256)
def _liquid_data(gas: str, warmth: Span) -> Inputs:
    return datum("rho_l", f"density of liquid {gas}", _liquid(liquid=gas, temperature=warmth), "kg/m3")


def _of_boiling(cylinder: Thing, look: Look) -> Inputs:
    residual = stated_span(cylinder, "line.residual_pressure", look)
    return () if residual is None else _boiling_data(cylinder.facts["line"].facts["gas"], residual)


@lru_cache(maxsize=256)
def _boiling_data(gas: str, residual: Span) -> Inputs:
    boils = _boils(liquid=gas, pressure_abs=absolute(residual))
    heat = None if boils is None else _latent(liquid=gas, temperature=boils)
    boiling = datum("T_boil", f"temperature at which {gas} boils at the residual pressure", boils, "degC", offset=_ICE)
    return (*boiling, *datum("h", f"latent heat of {gas} there", heat, _KJ, 1e3))


def _of_frost(cylinder: Thing, look: Look) -> Inputs:
    return _frost_data(cylinder.facts["line"].facts["gas"])


@lru_cache(maxsize=64)
def _frost_data(gas: str) -> Inputs:
    return datum("h", f"latent heat of {gas} at 0 degC", _latent(liquid=gas, temperature=(_ICE, _ICE)), _KJ, 1e3)


def _coefficients(cylinder: Thing, look: Look) -> Inputs:
    return _vapour_data(cylinder.facts["line"].facts["gas"])


@lru_cache(maxsize=64)
def _vapour_data(gas: str) -> Inputs:
    found = LIQUIDS[gas].vapour
    return tuple(
        used for number, one in enumerate(found, 1) for used in datum(f"C{number}", "coefficient", (one, one), "")
    )


def _sum(gathered: tuple[Used, ...]) -> Span:
    return added(values_of(gathered, "q"))


_HEAT = "heat balance; U for still air derived from tables of sustained draw (from memory)"
_BOIL = {
    "gas": "line.gas",
    "diameter": "diameter",
    "mass": "gas_mass",
    "temperature": "gas_temperature",
    "air": "rig.site.ambient_temperature",
}
_BY_TABLE = tuple(gas for gas in LIQUEFIED if gas in LIQUIDS)
_UPRIGHT: dict[str, tuple[Any, ...]] = {"line.gas": ("propane", *_BY_TABLE), "upright": (True,)}
_LAIN = _BOIL | {"length": "height", "capacity": "water_capacity"}
_LYING = _UPRIGHT | {"upright": (False,)}
_CHORD = "A = L D a/2 + (D^2/4)(a - sin a), a - sin a = 2 pi m/(rho_l V_water)"
_STILL = (
    "the pure gas, bare steel in still air; U = 10 to 20 W/(m2 K), A by corner values; wind gives more; "
    "from a mixture the lighter gas leaves first and the rest gives less"
)
_RHO0 = at_base("line.gas")


def _line_draw(name: str) -> Figure:
    way = Way("q = sum over the cylinders", "arithmetic", _sum, gather=of_cylinders(name, "q"), only={"gas": LIQUEFIED})
    return Figure("line", name, (way,))


FIGURES: tuple[Figure, ...] = (
    Figure(
        "cylinder",
        "vapour_pressure",
        (
            Way(
                "p = (1 - x) p_C3 + x p_C4 - 1 atm, p_C3 and p_C4 absolute; x = share of butane in moles",
                "Raoult's law; propane by the ancillary equation of J. Chem. Eng. Data 54 (2009) 3141 (from memory), "
                "butane by Perry's Chemical Engineers' Handbook, 8th ed., table 2-8",
                _mixed_gauge,
                inputs={"temperature": "gas_temperature"},
                only={"line.gas": ("propane",)},
                gather=_butane,
                data=_pressures,
                validity="a full cylinder; the propane leaves first, and the pressure falls as it empties",
            ),
            Way(
                "ln(p/1 Pa) = C1 + C2/T + C3 ln T + C4 T^C5, T in K; gauge pressure p - 1 atm",
                "Perry's Chemical Engineers' Handbook, 8th ed., table 2-8",
                lambda gas, temperature, gathered: _vapour_gauge(gas, temperature),
                inputs={"gas": "line.gas", "temperature": "gas_temperature"},
                only={"line.gas": _BY_TABLE},
                gather=_coefficients,
                validity="the pure gas",
            ),
        ),
    ),
    Figure(
        "cylinder",
        "sustained_draw",
        (
            as_stated("supplier_draw", alone=True, only={"line.gas": LIQUEFIED}),
            Way(
                "q = U A (T_air - T_boil)/(h rho0), the lower T_boil with the greater h; A = pi D^2/4 + 4 m/(rho_l D)",
                _HEAT,
                _boiled_draw,
                inputs=_BOIL | {"residual": "line.residual_pressure"},
                only=_UPRIGHT,
                gather=all_of(_of_liquid, _of_boiling, _RHO0),
                validity=_STILL,
            ),
            Way(
                f"{_CHORD}; q = U A (T_air - T_boil)/(h rho0), the lower T_boil with the greater h",
                _HEAT,
                _boiled_draw,
                inputs=_LAIN | {"residual": "line.residual_pressure"},
                only=_LYING,
                gather=all_of(_of_liquid, _of_boiling, _RHO0),
                validity="lying, flat ends; " + _STILL,
            ),
        ),
    ),
    Figure(
        "cylinder",
        "frost_free_draw",
        (
            Way(
                "q = U A (T_air - 0 degC)/(h rho0); A = pi D^2/4 + 4 m/(rho_l D)",
                _HEAT,
                _frost_draw,
                inputs=_BOIL,
                only=_UPRIGHT,
                gather=all_of(_of_liquid, _of_frost, _RHO0),
                validity=_STILL,
            ),
            Way(
                f"{_CHORD}; q = U A (T_air - 0 degC)/(h rho0)",
                _HEAT,
                _frost_draw,
                inputs=_LAIN,
                only=_LYING,
                gather=all_of(_of_liquid, _of_frost, _RHO0),
                validity="lying, flat ends; " + _STILL,
            ),
        ),
    ),
    _line_draw("sustained_draw"),
    _line_draw("frost_free_draw"),
)
"""The figures of this topic."""
