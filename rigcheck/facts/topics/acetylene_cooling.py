"""What its own draw does to an acetylene cylinder: how cold it becomes, and what it then still gives."""

from __future__ import annotations

from math import pi
from typing import Any

from rigcheck.facts.figure import Figure, Used, Way
from rigcheck.facts.topics.gas_data import Inputs, at_base, base_density
from rigcheck.facts.topics.spans import absolute, added, as_stated, divided, multiplied, of_cylinders, values_of
from rigcheck.physics.cold_cylinder import (
    HEAT_CAPACITY,
    SOLUTION_HEAT,
    STILL_AIR,
    cold_pressure_share,
    cooling_in_air,
    cooling_of_draw,
)
from rigcheck.physics.dissolved import ROUGHNESS
from rigcheck.physics.intervals import Span, by_end_points, directions_of

__all__ = ["FIGURES"]

_in_air = by_end_points(cooling_in_air, *directions_of(cooling_in_air))
_alone = by_end_points(cooling_of_draw, *directions_of(cooling_of_draw))


def _each(flow: Span, number: Span) -> Span | None:
    """Return what one of the coupled cylinders gives, kg/s."""
    density, volume = base_density("acetylene"), divided(flow, number)
    return None if density is None or volume is None else multiplied(volume, density)


def _drawn(flow: Span, number: Span, usable: Span, hours: Span) -> tuple[Span, Span] | None:
    """Return what one cylinder gives, kg/s, and how long, s: the day, or until nothing more can be drawn from it.

    Both ends go with the same end of the flow: a faster draw cools more, however soon it ends.
    """
    volume, mass = divided(flow, number), _each(flow, number)
    if volume is None or mass is None:
        return None
    least, most = (min(hours[end], usable[end] / volume[end]) if volume[end] > 0.0 else hours[end] for end in (0, 1))
    return mass, (least, most)


def _cooled(
    flow: Span, number: Span, usable: Span, hours: Span, tare: Span, warmth: Span, gathered: Inputs, **size: Span
) -> Span | None:
    drawn = _drawn(flow, number, usable, hours)
    cooling = drawn and _in_air(
        mass_flow=drawn[0],
        time=drawn[1],
        solution_heat=SOLUTION_HEAT,
        cylinder_mass=tare,
        heat_capacity=HEAT_CAPACITY,
        wall_area=(pi * size["diameter"][0] * size["height"][0], pi * size["diameter"][1] * size["height"][1]),
        heat_transfer_coefficient=STILL_AIR,
    )
    return (warmth[0] - cooling[1], warmth[1] - cooling[0]) if cooling else None


def _cooled_alone(
    flow: Span, number: Span, usable: Span, hours: Span, tare: Span, warmth: Span, gathered: Inputs
) -> Span | None:
    """Return from the temperature without any heat from the air to that without any cooling."""
    drawn = _drawn(flow, number, usable, hours)
    cooling = drawn and _alone(
        drawn_mass=multiplied(*drawn), solution_heat=SOLUTION_HEAT, cylinder_mass=tare, heat_capacity=HEAT_CAPACITY
    )
    return (warmth[0] - cooling[1], warmth[1]) if cooling else None


def _pressure_share(warmth: Span, cold: Span) -> Span | None:
    """Return the share by the ends that belong together: the cooling is the same at both."""
    ends = [cold_pressure_share(temperature=warmth[end], cold_temperature=cold[end]) for end in (0, 1)]
    return None if ends[0] is None or ends[1] is None else (ends[0], ends[1])


def _usable_cold(content: Span, pressure: Span, residual: Span, share: Span) -> Span | None:
    """Return content less what stays in solution at the residual pressure and the lower temperature."""
    cold, left = multiplied(absolute(pressure), share), absolute(residual)
    if cold[0] <= 0.0:
        return None
    most, least = left[1] / cold[0] * (1.0 + ROUGHNESS), left[0] / cold[1] * (1.0 - ROUGHNESS)
    return content[0] * max(0.0, 1.0 - most), content[1] * max(0.0, 1.0 - least)


def _sum(gathered: tuple[Used, ...]) -> Span:
    return added(values_of(gathered, "V"))


_ACETYLENE: dict[str, tuple[Any, ...]] = {"line.gas": ("acetylene",), "empty": (False,), "in_use": (True,)}
_DRAW = {
    "flow": "line.mean_demand",
    "number": "line.feeding_cylinders",
    "usable": "usable_content",
    "hours": "rig.job.hours_per_day",
    "tare": "tare_mass",
    "warmth": "gas_temperature",
}
_HEATS = (
    "m' = q_mean rho0 / n, t = the working hours, or V_usable n / q_mean where that is less; "
    "L = 605 to 670 kJ/kg, c = 750 to 950 J/(kg K)"
)

FIGURES: tuple[Figure, ...] = (
    Figure(
        "cylinder",
        "cold_temperature",
        (
            Way(
                f"T_cold = T - m' L/(U A) (1 - exp(-U A t/(M c))); {_HEATS}, U = 3 to 7 W/(m2 K), A = pi D H",
                "lumped heat balance; L by van 't Hoff on the solubility in acetone, c and U derived in "
                "figures/cold_cylinder.py (from memory)",
                _cooled,
                inputs=_DRAW | {"height": "height", "diameter": "diameter"},
                only=_ACETYLENE,
                gather=at_base("line.gas"),
                validity="steel cylinder in still air, as warm as the air at first, drawn at the mean demand; "
                "at most 60 K of cooling",
            ),
            Way(
                f"T_cold = T - m' t L/(M c) to T; {_HEATS}",
                "heat balance without heat from the air: an upper bound of the cooling (from memory)",
                _cooled_alone,
                inputs=_DRAW,
                only=_ACETYLENE,
                gather=at_base("line.gas"),
                validity="adiabatic, so the lower end is colder than it becomes; "
                "height and diameter of the cylinder give a closer value",
                asks=False,
            ),
        ),
    ),
    Figure(
        "cylinder",
        "cold_pressure_share",
        (
            Way(
                "p_cold/p = S(T)/S(T_cold), absolute; S = 25 exp(2000 K (1/T - 1/288.15 K))",
                "Henry's law, slope of S from memory",
                _pressure_share,
                inputs={"warmth": "gas_temperature", "cold": "cold_temperature"},
                only=_ACETYLENE,
                validity="the cooling alone, as if nothing were drawn; -20 to 50 degC",
            ),
        ),
    ),
    Figure(
        "cylinder",
        "cold_usable_content",
        (
            Way(
                "V = V_content (1 - (p_residual + 1 atm) / ((p + 1 atm) p_cold/p)), what stays good to 20 %",
                "Henry's law, at the lower temperature",
                _usable_cold,
                inputs={
                    "content": "content",
                    "pressure": "pressure",
                    "residual": "line.residual_pressure",
                    "share": "cold_pressure_share",
                },
                only=_ACETYLENE,
                validity="rough; what stays behind comes out once the cylinder has warmed again",
            ),
        ),
    ),
    Figure(
        "line",
        "drawable_content",
        (
            Way(
                "V = sum of what the cylinders give as cold as they become",
                "arithmetic",
                _sum,
                gather=of_cylinders("cold_usable_content", "V"),
                only={"gas": ("acetylene",)},
                asks=False,
            ),
            as_stated("usable_content", asks=True, alone=True),
        ),
    ),
)
"""The figures of this topic."""
