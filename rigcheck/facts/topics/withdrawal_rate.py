"""How hard cylinders are drawn: acetylene by the share an hour, and oxygen let in fast."""

from __future__ import annotations

from typing import Any

from rigcheck.facts.figure import Figure, Look, Used, Way
from rigcheck.facts.topics.gathering import ATMOSPHERE, absolute, as_stated, cylinders_of, values_of
from rigcheck.physics.compression import compression_temperature
from rigcheck.physics.gas_properties import GASES
from rigcheck.physics.intervals import Span, carried, divided
from rigcheck.physics.withdrawal import PER_HOUR, cylinders_to_couple, draw_share
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["FIGURES"]

_share = carried(draw_share)
_couple = carried(cylinders_to_couple)
_hot = carried(compression_temperature)


def _hourly_share(flow: Span, content: Span) -> Span | None:
    share = _share(flow=flow, content=content)
    return None if share is None else (share[0] / PER_HOUR, share[1] / PER_HOUR)


def _count(line: Thing, look: Look) -> Any:
    """Gather the cylinders that are written, or else the number that is stated of the manifold they stand for."""
    cylinders = cylinders_of(line)
    if cylinders:
        return tuple(Used("cylinder", one, "kind", "cylinder") for one in cylinders)
    source = line.facts.get("source")
    if source is None or "manifold" not in source.kind.lineage:
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


def _compressed_to(pressure: Span, temperature: Span) -> Span | None:
    return _hot(
        temperature=temperature,
        pressure_before_abs=(ATMOSPHERE, ATMOSPHERE),
        pressure_after_abs=absolute(pressure),
        heat_capacity_ratio=GASES["oxygen"].heat_capacity_ratio,
    )


_ACETYLENE = "CGA G-1, British suppliers' guidance: the share is of the supply's content (from memory)"


def _coupling(draw: str, limit: str) -> Way:
    return Way(
        "n = q / ((V / n_now) s), rounded up; s = greatest share an hour",
        _ACETYLENE,
        _needed,
        inputs={"flow": "demand", "content": "content", "number": "feeding_cylinders", "share": f"limit:{limit}"},
        only={"gas": ("acetylene",), "draw": (draw,)},
        validity="cylinders as full as those that feed now",
    )


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
        0.05,
        "flow and content are rounded before they are divided",
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
