"""How much vapour a cylinder of liquefied gas can give: heat in through its wetted wall against latent heat out.

The liquid cools until the heat that comes in through the wall below the liquid level boils off what is drawn.
So the draw depends on wetted area (size and filling), on the air, and on how cold the liquid may become:
down to where its vapour pressure still feeds the regulator, or down to 0 degC if frost is to be kept off.
A pure liquid counts: from a mixture the lighter gas leaves first, and what is left gives less.
Only the wetted wall counts; wind, rain, sun and neighbours in a bundle change the coefficient of heat.
"""

from __future__ import annotations

from math import acos, pi, sqrt

from rigcheck.physics.intervals import Span, monotone
from rigcheck.physics.liquefied import boiling_temperature, latent_heat
from rigcheck.physics.root_search import crossing
from rigcheck.physics.validity import above_zero, from_zero, within

__all__ = [
    "STILL_AIR",
    "frost_free_draw",
    "liquid_temperature",
    "sustained_draw",
    "sustained_draw_at_pressure",
    "wetted_area_lying",
    "wetted_area_upright",
]


STILL_AIR: Span = (10.0, 20.0)
"""W/(m2 K); heat through a bare steel wall from still air to the boiling liquid.

Derived here from two published tables for propane, not itself published: about 11 from the trade's table for
a 100 lb cylinder, about 19 from the trade's rule for lying tanks.
"""

_ATMOSPHERE = 101_325.0  # Pa
_FROST = 273.15  # K; the moisture of the air freezes on a wall colder than this
_COLDEST, _HOTTEST = 230.0, 340.0  # K


@monotone(rises=("liquid_volume",))
def wetted_area_upright(*, diameter: float, liquid_volume: float) -> float | None:
    """Return the wall area that liquid touches in an upright cylinder, m2.

    A = pi D^2/4 + 4 V/D: a flat base and a straight wall.
    `diameter`: m, above 0; `liquid_volume`: m3, from 0 (mass over `vapour_pressure.propane_liquid_density`).
    The area first falls and then rises with diameter at one volume, so no interval may be carried through diameter.
    Source: geometry.

    >>> round(wetted_area_upright(diameter=0.381, liquid_volume=0.0907), 2)
    1.07
    """
    if not (above_zero(diameter) and from_zero(liquid_volume)):
        return None
    return pi * diameter**2 / 4.0 + 4.0 * liquid_volume / diameter


@monotone(rises=("diameter", "length", "filling"))
def wetted_area_lying(*, diameter: float, length: float, filling: float) -> float | None:
    """Return the wall area that liquid touches in a lying cylinder with flat ends, m2.

    A = L D theta/2 + 2 (D^2/8)(theta - sin theta), with (theta - sin theta)/(2 pi) = filling.
    `diameter`, `length`: m, above 0; `filling`: liquid's share of the volume, 0 to 1.
    Source: geometry of the circular segment.

    >>> round(wetted_area_lying(diameter=0.6, length=1.5, filling=0.5), 2)
    1.7
    """
    if not (above_zero(diameter, length) and within(filling, 0.0, 1.0)):
        return None
    depth = crossing(lambda share: _segment(share) - filling, 0.0, 1.0)
    if depth is None:
        return None
    arc = acos(1.0 - 2.0 * depth) * diameter
    return length * arc + 2.0 * filling * pi * diameter**2 / 4.0


def _segment(depth: float) -> float:
    """Return the share of a circle's area below a depth, itself a share of the diameter."""
    side = 1.0 - 2.0 * depth
    return (acos(side) - side * sqrt(max(0.0, 1.0 - side * side))) / pi


@monotone(rises=("wetted_area", "heat_transfer_coefficient", "air_temperature"), falls=("liquid_temperature",))
def sustained_draw(
    *,
    liquid: str,
    wetted_area: float,
    heat_transfer_coefficient: float,
    air_temperature: float,
    liquid_temperature: float,
) -> float | None:
    """Return the vapour that a cylinder gives without its liquid getting colder, kg/s.

    m = U A (T_air - T_liquid)/L(T_liquid); 0 where the air is no warmer than the liquid.
    `liquid`: "propane" or a name in `liquefied.LIQUIDS`;
    `wetted_area`: A, m2, from 0; `heat_transfer_coefficient`: U, W/(m2 K), above 0 (`STILL_AIR`);
    `air_temperature`, `liquid_temperature`: K, 230 to 340.
    Source: heat balance; latent heat by `liquefied.latent_heat`.

    >>> draw = sustained_draw(liquid="propane", wetted_area=1.07, heat_transfer_coefficient=11.0, air_temperature=294.0,
    ...     liquid_temperature=233.0)
    >>> round(draw * 3600, 1)
    6.1
    """
    latent = latent_heat(liquid=liquid, temperature=liquid_temperature)
    in_range = within(air_temperature, _COLDEST, _HOTTEST) and within(liquid_temperature, _COLDEST, _HOTTEST)
    if latent is None or not in_range or not (from_zero(wetted_area) and above_zero(heat_transfer_coefficient)):
        return None
    return heat_transfer_coefficient * wetted_area * max(0.0, air_temperature - liquid_temperature) / latent


@monotone(rises=("wetted_area", "heat_transfer_coefficient", "air_temperature"), falls=("least_pressure_abs",))
def sustained_draw_at_pressure(
    *,
    liquid: str,
    wetted_area: float,
    heat_transfer_coefficient: float,
    air_temperature: float,
    least_pressure_abs: float,
) -> float | None:
    """Return the vapour that a cylinder gives while it still feeds the regulator, kg/s.

    `sustained_draw` with the liquid at the temperature where it boils under the least inlet pressure.
    `least_pressure_abs`: Pa; other arguments as `sustained_draw`.
    Returns 0 where the vapour pressure at air temperature is already below that pressure.

    >>> draw = sustained_draw_at_pressure(liquid="propane", wetted_area=1.0, heat_transfer_coefficient=11.0,
    ...     air_temperature=288.15, least_pressure_abs=2.5e5)
    >>> round(draw * 3600, 1)
    3.4
    """
    boiling = boiling_temperature(liquid=liquid, pressure_abs=least_pressure_abs)
    if boiling is None:
        return None
    boiling = min(boiling, max(air_temperature, _COLDEST))  # not even the air's own warmth makes that pressure
    return sustained_draw(
        liquid=liquid,
        wetted_area=wetted_area,
        heat_transfer_coefficient=heat_transfer_coefficient,
        air_temperature=air_temperature,
        liquid_temperature=boiling,
    )


@monotone(rises=("wetted_area", "heat_transfer_coefficient", "air_temperature"))
def frost_free_draw(
    *, liquid: str, wetted_area: float, heat_transfer_coefficient: float, air_temperature: float
) -> float | None:
    """Return the draw at which the wetted wall reaches 0 degC, kg/s: drawn harder, frost forms on the cylinder.

    `sustained_draw` with the liquid at 273.15 K; arguments as there.
    Returns 0 at or below freezing, where any draw may frost.
    Frost also needs moist air; in dry air the wall is as cold without showing it.

    >>> draw = frost_free_draw(liquid="propane", wetted_area=1.0, heat_transfer_coefficient=11.0,
    ...     air_temperature=288.15)
    >>> round(draw * 3600, 1)
    1.6
    """
    return sustained_draw(
        liquid=liquid,
        wetted_area=wetted_area,
        heat_transfer_coefficient=heat_transfer_coefficient,
        air_temperature=air_temperature,
        liquid_temperature=_FROST,
    )


@monotone(rises=("wetted_area", "heat_transfer_coefficient", "air_temperature"), falls=("mass_flow",))
def liquid_temperature(
    *,
    liquid: str,
    mass_flow: float,
    wetted_area: float,
    heat_transfer_coefficient: float,
    air_temperature: float,
) -> float | None:
    """Return the temperature at which the liquid settles under a steady draw, K: the inverse of `sustained_draw`.

    `mass_flow`: kg/s, from 0; other arguments as there.
    Returns None where the liquid would have to be colder than its boiling point at one atmosphere, or than 230 K:
    it cannot give so much.

    >>> round(liquid_temperature(liquid="propane", mass_flow=1.6 / 3600, wetted_area=1.0,
    ...     heat_transfer_coefficient=11.0, air_temperature=288.15))
    273
    """

    def excess(temperature: float) -> float:
        found = sustained_draw(
            liquid=liquid,
            wetted_area=wetted_area,
            heat_transfer_coefficient=heat_transfer_coefficient,
            air_temperature=air_temperature,
            liquid_temperature=temperature,
        )
        return float("nan") if found is None else found - mass_flow

    if not from_zero(mass_flow) or not within(air_temperature, _COLDEST, _HOTTEST):
        return None
    coldest = max(_COLDEST, boiling_temperature(liquid=liquid, pressure_abs=_ATMOSPHERE) or _COLDEST)
    return crossing(excess, coldest, air_temperature) if coldest < air_temperature else None
