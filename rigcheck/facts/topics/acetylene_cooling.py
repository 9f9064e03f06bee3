"""What its own draw does to an acetylene cylinder: how cold it becomes, and what it then still gives."""

from __future__ import annotations

from math import pi
from typing import Any, NamedTuple

from rigcheck.facts.figure import Figure, Used, Way
from rigcheck.facts.topics.gas_data import Inputs, at_base, base_density
from rigcheck.facts.topics.gathering import absolute, of_cylinders, values_of
from rigcheck.physics.cold_cylinder import (
    HEAT_CAPACITY,
    SOLUTION_HEAT,
    STILL_AIR,
    cold_pressure_share,
    coldest_exchange,
    cooling_of_draw,
    temperature_after_draw,
)
from rigcheck.physics.dissolved import COLDEST, ROUGHNESS
from rigcheck.physics.intervals import Span, added, carried, divided, multiplied

__all__ = ["FIGURES"]

_share = carried(cold_pressure_share)


class _Draw(NamedTuple):
    """One corner of a draw: the cylinder's warmth and the air's (K), what goes out of it (kg/s), its heat (J/kg),
    the heat that cylinder and solvent hold (J/K), and how long it is drawn (s).
    """

    warmth: float
    air: float
    flow: float
    heat: float
    capacity: float
    time: float

    @property
    def cooling(self) -> float:
        """How far it would cool without the air, K."""
        drawn, held = self.flow * self.time, self.capacity
        return cooling_of_draw(drawn_mass=drawn, solution_heat=self.heat, cylinder_mass=held, heat_capacity=1.0) or 0.0

    def after(self, loss: float) -> float | None:
        """Return the temperature at the end, K; `loss`: U A, W/K."""
        exchange = loss * self.time / self.capacity
        return temperature_after_draw(
            temperature=self.warmth, air_temperature=self.air, cooling=self.cooling, exchange=exchange
        )

    def coldest_loss(self) -> float | None:
        """Return the loss with which it ends coldest, W/K."""
        exchange = coldest_exchange(excess=self.warmth - self.air, cooling=self.cooling) if self.time > 0.0 else None
        return None if exchange is None else exchange * self.capacity / self.time


def _flow_each(flow: Span, number: Span) -> Span | None:
    """Return what one of the coupled cylinders gives, kg/s."""
    density, volume = base_density("acetylene"), divided(flow, number)
    return None if density is None or volume is None else multiplied(volume, density)


def _draws(
    flow: Span, number: Span, usable: Span, hours: Span, tare: Span, warmth: Span, air: Span
) -> tuple[list[_Draw], list[_Draw]]:
    """Return the corners of a draw at which it ends coldest, and those at which it ends warmest.

    It is drawn for the day, or until nothing more can be drawn from the cylinder; between its ends a flow may turn
    from the one to the other, which is a corner too. A cylinder ends the colder the more heat the gas takes with it
    and the colder it and the air were; as time goes on it comes nearer to where it settles, from whichever side.
    """
    each, density = _flow_each(flow, number), base_density("acetylene")
    if each is None or density is None:
        return [], []
    capacity = tare[0] * HEAT_CAPACITY[0], tare[1] * HEAT_CAPACITY[1]
    corners = set()
    for volume, day, held in ((usable[0], hours[0], capacity[1]), (usable[1], hours[1], capacity[0])):
        mass = volume * density[0]
        turns = mass / day if day > 0.0 else 0.0
        for out in {*each, min(max(turns, each[0]), each[1])}:
            corners.add((out, held, min(day, mass / out) if out > 0.0 else day))
    return tuple(
        [_Draw(warmth[end], air[end], out, SOLUTION_HEAT[1 - end], held, time) for out, held, time in corners]
        for end in (0, 1)
    )  # type: ignore[return-value]


def _cooled(gathered: Inputs, height: Span, diameter: Span, **inputs: Span) -> Span | None:
    """Return the temperature over all corners, and where more air makes it coldest in between."""
    losses = STILL_AIR[0] * pi * diameter[0] * height[0], STILL_AIR[1] * pi * diameter[1] * height[1]
    coldest, warmest = _draws(**inputs)
    low = []
    for draw in coldest:
        turning = draw.coldest_loss()
        inside = [] if turning is None or not losses[0] < turning < losses[1] else [turning]
        low += [draw.after(loss) for loss in (*losses, *inside)]
    return _between(low, [draw.after(loss) for draw in warmest for loss in losses])


def _cooled_alone(gathered: Inputs, **inputs: Span) -> Span | None:
    """Return from the temperature without any heat from the air to that without any cooling but by colder air."""
    warmth, air = inputs["warmth"], inputs["air"]
    start = min(warmth[0], air[0])
    low = [draw._replace(warmth=start, air=start).after(0.0) for draw in _draws(**inputs)[0]]
    return _between(low, [max(warmth[1], air[1])])


def _between(low: list[float | None], high: list[float | None]) -> Span | None:
    """Return the least of the one and the greatest of the other; None where one of them is outside its validity."""
    known = [[one for one in found if one is not None] for found in (low, high)]
    if not low or not high or [*map(len, known)] != [len(low), len(high)]:
        return None
    return min(known[0]), max(known[1])


def _pressure_share(warmth: Span, cold: Span) -> Span | None:
    """Return the share; colder than the solubility is known it is less than at the coldest known, and 0 or more."""
    known = max(cold[0], COLDEST), max(cold[1], COLDEST)
    share = _share(temperature=warmth, cold_temperature=known)
    return None if share is None else (share[0] if cold[0] >= COLDEST else 0.0, share[1])


def _usable_cold(content: Span, pressure: Span, residual: Span, share: Span) -> Span | None:
    """Return content less what stays in solution at the residual pressure and the lower temperature."""
    cold, left = multiplied(absolute(pressure), share), absolute(residual)
    if cold[1] <= 0.0:
        return 0.0, 0.0
    most = left[1] / cold[0] * (1.0 + ROUGHNESS) if cold[0] > 0.0 else 1.0
    least = left[0] / cold[1] * (1.0 - ROUGHNESS)
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
    "air": "rig.site.ambient_temperature",
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
                f"T_cold = T_air + (T - T_air) exp(-x) - m' L t/(M c) (1 - exp(-x))/x, x = U A t/(M c); {_HEATS}, "
                "U = 3 to 7 W/(m2 K), A = pi D H",
                "lumped heat balance (Newton's law of cooling); L by van 't Hoff's equation on the solubility in "
                "acetone, c from its parts, U by convection, radiation and the porous mass in series: all from memory",
                _cooled,
                inputs=_DRAW | {"height": "height", "diameter": "diameter"},
                only=_ACETYLENE,
                gather=at_base("line.gas"),
                validity="steel cylinder in still air, drawn at the mean demand; at most 60 K of cooling",
            ),
            Way(
                "T_cold = the lesser of T and T_air, less m' t L/(M c), to the greater of T and T_air; " + _HEATS,
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
                validity="the cooling alone, as if nothing were drawn; -20 to 50 degC, from 0 where it is colder; "
                "a warmth that is a range goes with the more cautious end of the cold",
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
            ),
            Way(
                "V = what can be drawn from the cylinders",
                "arithmetic",
                lambda usable, gathered: usable,
                inputs={"usable": "usable_content"},
                gather=lambda line, look: None if look.fact(line, "gas") == "acetylene" else (),
            ),
        ),
    ),
)
"""The figures of this topic."""
