"""What the parts on the way to a torch leave of what is set, carried as intervals."""

from __future__ import annotations

from typing import NamedTuple

from rigcheck.facts.figure import Used
from rigcheck.facts.topics.flow_network import course_number
from rigcheck.facts.topics.gathering import values_of
from rigcheck.physics.intervals import Span, added, divided
from rigcheck.physics.line_flow import outlet_of_squares

__all__ = ["Course", "arriving", "courses", "least_share", "spare_of", "torch_share"]


class Course(NamedTuple):
    """From what sets the pressure to one place: the setting, the squares that are lost, what is wanted, and the air.

    All but the squares in Pa gauge; the pressure of the air is absolute.
    `inlet`: what a regulator at the end of it wants whole, where a nozzle can do with its least share of `wanted`.
    """

    setting: Span
    lost: Span
    wanted: Span
    air: Span
    inlet: Span | None

    @property
    def arrives(self) -> Span:
        """What arrives, Pa gauge; 0 where the parts would take more than there is."""
        (least, most), (low, high) = self.lost, self.setting
        return _left(low, most, self.air[0]), _left(high, least, self.air[1])


def _left(setting: float, lost: float, air: float) -> float:
    """Return what is left of a setting, Pa gauge: the more, the heavier the air."""
    found = outlet_of_squares(inlet_pressure_abs=setting + air, squares=lost)
    return 0.0 if found is None else max(0.0, found - air)


def courses(gathered: tuple[Used, ...], air: Span) -> list[Course]:
    """Return the courses that were gathered, by their numbers."""
    found: list[Course] = []
    while settings := values_of(gathered, "p_set" + course_number(len(found))):
        number = course_number(len(found))
        losses = zip(values_of(gathered, f"out{number}"), values_of(gathered, f"drop{number}"), strict=True)
        wanted = values_of(gathered, f"p_nozzle{number}") or [(0.0, 0.0)]
        most = max(lo for lo, _ in wanted), max(hi for _, hi in wanted)
        inlet = values_of(gathered, f"p_inlet{number}")
        lost = added(_lost(out, drop, air) for out, drop in losses)
        found.append(Course(settings[0], lost, most, air, inlet[0] if inlet else None))
    return found


def _lost(out: Span, drop: Span, air: Span) -> Span:
    """Return what a part takes of p^2: its least drop was found at the greatest pressure."""
    low, high = out[0] + air[0], out[1] + air[1]
    return (high + drop[0]) ** 2 - high**2, (low + drop[1]) ** 2 - low**2


def arriving(gathered: tuple[Used, ...], air: Span) -> Span:
    """Return sqrt(p_set^2 - lost), Pa gauge, at the place that is served worst."""
    found = courses(gathered, air)
    worst = min(found, key=lambda one: one.arrives[0] / max(one.wanted[1], 1.0)) if len(found) > 1 else found[0]
    return worst.arrives


def torch_share(gathered: tuple[Used, ...], torch: Span, nozzle: Span) -> Span | None:
    """Return what reaches the torch as a share of what its nozzle wants (no unit)."""
    return divided(torch, nozzle)


def least_share(gathered: tuple[Used, ...], air: Span) -> Span | None:
    """Return the least of those shares where a line serves several torches (no unit)."""
    shares = [divided(one.arrives, one.wanted) for one in courses(gathered, air)]
    known = [share for share in shares if share is not None]
    if len(known) < len(shares):
        return None
    return min(lo for lo, _ in known), min(hi for _, hi in known)


def spare_of(course: Course, share: Span) -> Span:
    """Return what is left of p1^2 - p2^2 when the nozzle gets only its least share, or a regulator what it needs."""
    least = course.inlet or (course.wanted[0] * share[0], course.wanted[1] * share[1])
    (low, high), (few, many) = course.setting, course.lost
    smallest = min(_between(low, least[1], air) for air in course.air)
    return smallest - many, max(_between(high, least[0], air) for air in course.air) - few


def _between(setting: float, wanted: float, air: float) -> float:
    """Return P_set^2 - P_wanted^2: between the two ends of the air it only rises, or only falls."""
    return (setting + air) ** 2 - (wanted + air) ** 2
