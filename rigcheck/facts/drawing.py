"""How hard cylinders are drawn: acetylene by the share an hour, propane by the heat that boils it."""

from __future__ import annotations

from functools import lru_cache
from math import pi
from typing import Any

from rigcheck.facts.contents import volume_at_base
from rigcheck.facts.spans import (
    ATMOSPHERE,
    absolute,
    added,
    as_stated,
    cylinders_of,
    divided,
    of_cylinders,
    values_of,
)
from rigcheck.facts.working import Figure, Look, Used, Way
from rigcheck.figures.compression import compression_temperature
from rigcheck.figures.gas_properties import GASES
from rigcheck.figures.spread import Span, by_end_points, directions_of
from rigcheck.figures.vaporisation import (
    STILL_AIR,
    frost_free_draw,
    sustained_draw_at_pressure,
    wetted_area_upright,
)
from rigcheck.figures.vapour_pressure import propane_liquid_density, propane_vapour_pressure
from rigcheck.figures.withdrawal import PER_HOUR, cylinders_to_couple, draw_share
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["FIGURES"]

_share = by_end_points(draw_share, *directions_of(draw_share))
_couple = by_end_points(cylinders_to_couple, *directions_of(cylinders_to_couple))
_vapour = by_end_points(propane_vapour_pressure, *directions_of(propane_vapour_pressure))
_liquid = by_end_points(propane_liquid_density, *directions_of(propane_liquid_density))
_frost_free = by_end_points(frost_free_draw, *directions_of(frost_free_draw))
_hot = by_end_points(compression_temperature, *directions_of(compression_temperature))


@lru_cache(maxsize=1024)
def _sustained(wetted_area: Span, air_temperature: Span, least_pressure_abs: Span) -> Span | None:
    draw = by_end_points(sustained_draw_at_pressure, *directions_of(sustained_draw_at_pressure))
    return draw(
        wetted_area=wetted_area,
        heat_transfer_coefficient=STILL_AIR,
        air_temperature=air_temperature,
        least_pressure_abs=least_pressure_abs,
    )


def _hourly_share(flow: Span, content: Span) -> Span | None:
    share = _share(flow=flow, content=content)
    return None if share is None else (share[0] / PER_HOUR, share[1] / PER_HOUR)


def _count(line: Thing, look: Look) -> Any:
    """Gather the cylinders that are written, or else the number that is stated of the manifold they stand for."""
    cylinders = cylinders_of(line)
    if cylinders:
        return tuple(Used("cylinder", one, "kind", "cylinder") for one in cylinders)
    source = line.facts.get("source")
    if source is None or source.kind.name != "manifold":
        return None
    count = look.fact(source, "cylinder_count")
    return look.wants(source, "cylinder_count") if count is MISSING else (Used("n", source, "cylinder_count", count),)


def _number(gathered: tuple[Used, ...]) -> Span:
    stated = values_of(gathered, "n")
    return stated[0] if stated else (float(len(gathered)), float(len(gathered)))


def _needed(flow: Span, content: Span, number: Span, share: Span) -> Span | None:
    each = divided(content, number)
    if each is None:
        return None
    return _couple(flow=flow, content_each=each, share=(share[0] * PER_HOUR, share[1] * PER_HOUR))


def _wetted(diameter: Span, mass: Span, temperature: Span) -> Span | None:
    """Return the wall that liquid touches, m2: corner values, and the least between them by the turning point."""
    density = _liquid(temperature=temperature)
    if density is None or diameter[0] <= 0.0:
        return None
    least, most = mass[0] / density[1], mass[1] / density[0]
    turning = (8.0 * least / pi) ** (1.0 / 3.0)  # where pi D2/4 + 4 V/D is least
    narrow = min(max(turning, diameter[0]), diameter[1])
    low = wetted_area_upright(diameter=narrow, liquid_volume=least)
    ends = [wetted_area_upright(diameter=end, liquid_volume=most) for end in diameter]
    known = [end for end in ends if end is not None]
    return None if low is None or len(known) < 2 else (low, max(known))


def _propane_draw(diameter: Span, mass: Span, temperature: Span, air: Span, residual: Span) -> Span | None:
    area = _wetted(diameter, mass, temperature)
    flow = None if area is None else _sustained(area, air, absolute(residual))
    return None if flow is None else volume_at_base("propane", flow)


def _frost_draw(diameter: Span, mass: Span, temperature: Span, air: Span) -> Span | None:
    area = _wetted(diameter, mass, temperature)
    if area is None:
        return None
    flow = _frost_free(wetted_area=area, heat_transfer_coefficient=STILL_AIR, air_temperature=air)
    return None if flow is None else volume_at_base("propane", flow)


def _vapour_gauge(temperature: Span) -> Span | None:
    found = _vapour(temperature=temperature)
    return None if found is None else (found[0] - ATMOSPHERE, found[1] - ATMOSPHERE)


def _compressed_to(pressure: Span, temperature: Span) -> Span | None:
    return _hot(
        temperature=temperature,
        pressure_before_abs=(ATMOSPHERE, ATMOSPHERE),
        pressure_after_abs=absolute(pressure),
        heat_capacity_ratio=GASES["oxygen"].heat_capacity_ratio,
    )


def _sum(gathered: tuple[Used, ...]) -> Span:
    return added(values_of(gathered, "q"))


_ACETYLENE = "CGA G-1, British suppliers' guidance: the share is of the supply's content (from memory)"
_HEAT = "heat balance; U derived from two published tables of sustained draw, figures/vaporisation.py"
_BOIL = {
    "diameter": "diameter",
    "mass": "gas_mass",
    "temperature": "gas_temperature",
    "air": "rig.site.ambient_temperature",
}
_UPRIGHT: dict[str, tuple[Any, ...]] = {"line.gas": ("propane",), "upright": (True,)}
_STILL = "pure propane, upright, bare steel in still air; U = 10 to 20 W/(m2 K), A by corner values; wind gives more"


def _coupling(draw: str, limit: str) -> Way:
    return Way(
        "n = q / ((V / n_now) s), rounded up; s = greatest share an hour",
        _ACETYLENE,
        _needed,
        inputs={"flow": "demand", "content": "content", "number": "feeding_cylinders", "share": f"limit:{limit}"},
        only={"gas": ("acetylene",), "draw": (draw,)},
        validity="cylinders as full as those that feed now",
    )


def _line_draw(name: str) -> Figure:
    way = Way(
        "q = sum over the cylinders", "arithmetic", _sum, gather=of_cylinders(name, "q"), only={"gas": ("propane",)}
    )
    return Figure("line", name, (way,))


FIGURES: tuple[Figure, ...] = (
    Figure(
        "line",
        "feeding_cylinders",
        (Way("n = cylinders in the line that are neither empty nor out of use", "count", _number, gather=_count),),
    ),
    Figure(
        "line",
        "hourly_share",
        (
            as_stated("withdrawal_share"),
            Way(
                "s = q / V",
                _ACETYLENE,
                _hourly_share,
                inputs={"flow": "demand", "content": "content"},
                validity="while all torches burn; content as it is now",
            ),
        ),
    ),
    Figure(
        "line",
        "demand_per_cylinder",
        (
            Way(
                "q_each = q / n",
                "arithmetic",
                lambda flow, number: divided(flow, number),
                inputs={"flow": "demand", "number": "feeding_cylinders"},
                validity="cylinders coupled at equal pressures",
            ),
        ),
    ),
    Figure(
        "line",
        "cylinders_to_couple",
        (
            _coupling("continuous", "acetylene_draw_continuous"),
            _coupling("intermittent", "acetylene_draw_intermittent"),
        ),
    ),
    Figure(
        "cylinder",
        "vapour_pressure",
        (
            Way(
                "ln(p / p_c) = (T_c / T) sum of a_i (1 - T/T_c)^k_i; gauge pressure p - 1 atm",
                "Lemmon, McLinden & Wagner (2009), ancillary equation (from memory)",
                _vapour_gauge,
                inputs={"temperature": "gas_temperature"},
                only={"line.gas": ("propane",)},
                validity="pure propane; commercial propane differs by several per cent",
            ),
        ),
    ),
    Figure(
        "cylinder",
        "sustained_draw",
        (
            as_stated("supplier_draw", only={"line.gas": ("propane",)}),
            Way(
                "q = U A (T_air - T_boil(p_residual + 1 atm)) / L / rho(1 atm, 15 degC); A = pi D2/4 + 4 V_liquid/D",
                _HEAT,
                _propane_draw,
                inputs=_BOIL | {"residual": "line.residual_pressure"},
                only=_UPRIGHT,
                validity=_STILL,
            ),
        ),
    ),
    Figure(
        "cylinder",
        "frost_free_draw",
        (
            Way(
                "q = U A (T_air - 0 degC) / L / rho(1 atm, 15 degC); A = pi D2/4 + 4 V_liquid/D",
                _HEAT,
                _frost_draw,
                inputs=_BOIL,
                only=_UPRIGHT,
                validity=_STILL,
            ),
        ),
    ),
    _line_draw("sustained_draw"),
    _line_draw("frost_free_draw"),
    Figure(
        "cylinder",
        "compression_temperature",
        (
            Way(
                "T2 = T1 ((p + 1 atm) / 1 atm)^((k - 1)/k), k = 1.395",
                "isentropic ideal gas, any text on thermodynamics",
                _compressed_to,
                inputs={"pressure": "pressure", "temperature": "gas_temperature"},
                only={"line.gas": ("oxygen",)},
                validity="idealised: no heat lost, no mixing; tells why to open slowly, not what a regulator reaches",
            ),
        ),
    ),
)
"""The figures of this topic."""
