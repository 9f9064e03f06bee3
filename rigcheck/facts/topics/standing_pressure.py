"""Swept along the line: the highest pressure that can stand on each part, from the supply and each regulator on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rigcheck.facts.figure import Figure, Look, Used, Way
from rigcheck.facts.topics.cylinder_contents import LIQUEFIED
from rigcheck.facts.topics.gathering import ATMOSPHERE, absolute, collected, joined, values_of
from rigcheck.physics.intervals import Span, divided
from rigcheck.quantity.interval import Interval, worked_out
from rigcheck.rig.thing import MISSING, Thing
from rigcheck.rig.vocabulary import Kind

__all__ = ["FIGURES"]

_COLD, _HOT = 253.15, 338.15  # K; between these stand cylinders of which nobody said how warm they are
_AT_HOT = 328.15  # K, 55 degC
_FILLED = 288.15  # K; a stamped filling pressure counts at 15 degC, or a little warmer
_DISSOLVED = 0.5  # of the pressure read: acetylene gives up more gas as it warms than a gas law says


def _sources_of(part: Thing) -> Iterator[Thing]:
    """Yield what lets pressure on the inlet of a part: the nearest before it that holds or sets one, in each branch."""
    if "cylinder" in part.kind.lineage or _told_by(part.kind):
        yield part
        return
    for one in _just_before(part):
        if one.kind.sets_pressure:
            yield one
        else:
            yield from _sources_of(one)


def _told_by(kind: Kind) -> str:
    """Return the fact that says at which pressure gas comes out of a supply that is no cylinder; else nothing."""
    if "supplies" not in kind.lineage:
        return ""
    return kind.sets_pressure or ("delivery_pressure" if "delivery_pressure" in kind.facts else "")


def _just_before(part: Thing) -> tuple[Thing, ...]:
    if "torch" in part.kind.lineage:
        return tuple(one for one in part.facts.get("inlets", ()) if one is not None)
    if part.kind.branches == "gather":
        parts = part.facts["line"].facts.get("parts", ())
        return tuple(one for one in parts if one.facts.get("downstream") is part)
    before = part.facts.get("upstream")
    return () if before is None else (before,)


def _let_on(source: Thing, look: Look) -> Any:
    if "regulator" in source.kind.lineage:
        return joined(collected((source,), fact, look, "p") for fact in ("set_pressure", "static_pressure"))
    if told := _told_by(source.kind):
        return collected((source,), told, look, "p")
    return _in_cylinder(source, look)


def _in_cylinder(cylinder: Thing, look: Look) -> Any:
    gas = look.fact(cylinder.facts["line"], "gas")
    stated = "vapour_pressure" if gas in LIQUEFIED else "working_pressure"
    read = look.fact(cylinder, "pressure")
    if not isinstance(read, Interval):
        return collected((cylinder,), stated, look, "p")
    used = Used("p", cylinder, "pressure", _as_filled(read, str(gas), look.fact(cylinder, "gas_temperature")))
    full = look.fact(cylinder, stated)
    return (used,) if full is MISSING else (used, Used("p", cylinder, stated, full))


def _as_filled(read: Interval, gas: str, temperature: Any) -> Interval:
    """Return what a gauge would read at the temperature of the stamp: ratings are for that one."""
    if gas in LIQUEFIED:
        return read
    if gas == "acetylene":
        return worked_out(read.lo * _DISSOLVED, read.hi, "pressure")
    low, high = (temperature.lo, temperature.hi) if isinstance(temperature, Interval) else (_FILLED, _HOT)
    least, most = absolute((read.lo, read.hi))
    return worked_out(
        least * min(1.0, _FILLED / high) - ATMOSPHERE, most * min(1.0, _FILLED / low) - ATMOSPHERE, "pressure"
    )


def _gather(part: Thing, look: Look) -> Any:
    sources = tuple(dict.fromkeys(_sources_of(part)))
    return joined(_let_on(one, look) for one in sources) if sources else None


def _greatest(gathered: tuple[Used, ...]) -> Span:
    found = values_of(gathered, "p")
    return max(lo for lo, _ in found), max(hi for _, hi in found)


def _hot_share(pressure: Span, stamped: Span, temperature: Span = (_COLD, _HOT)) -> Span | None:
    least, most = absolute(pressure)
    return divided((least * _AT_HOT / temperature[1], most * _AT_HOT / temperature[0]), absolute(stamped))


_HELD = {"pressure": "pressure", "stamped": "working_pressure"}
_COMPRESSED: dict[str, tuple[Any, ...]] = {
    "line.gas": ("oxygen", "hydrogen", "nitrogen", "argon", "air", "natural-gas")
}

FIGURES: tuple[Figure, ...] = (
    Figure(
        "part",
        "most_pressure",
        (
            Way(
                "p = the greatest that can come on its inlet: of cylinders their stamp, the pressure read taken back "
                "to 15 degC, and the vapour pressure of a liquefied gas; of a regulator its setting and the pressure "
                "with the torch shut; of a pipe or a tank its own",
                "arithmetic",
                _greatest,
                gather=_gather,
                validity="as long as each regulator shuts off",
            ),
        ),
    ),
    Figure(
        "cylinder",
        "hot_share",
        (
            Way(
                "share = p (55 degC/T) / p_stamp, absolute",
                "ideal gas; 49 CFR 173.301(a)(8)",
                _hot_share,
                inputs=_HELD | {"temperature": "gas_temperature"},
                only=_COMPRESSED,
                asks=False,
            ),
            Way(
                "share = p (55 degC/T) / p_stamp, absolute, T = -20 to 65 degC",
                "ideal gas; 49 CFR 173.301(a)(8)",
                _hot_share,
                inputs=_HELD,
                only=_COMPRESSED,
            ),
        ),
    ),
)
"""The figures of this topic."""
