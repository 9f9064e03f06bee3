"""Which end of each input goes with the least of a figure: ranges that belong together, so that they can be followed.

Found by trying: with an input held at one of its ends the least of the figure stays where it is, or it does not.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import isclose
from typing import Any

from rigcheck.facts.figure import Used, Working
from rigcheck.quantity.interval import Interval

__all__ = ["paired_ends"]


def paired_ends(working: Working) -> Mapping[str, str]:
    """Return 'least' or 'greatest' by the symbol of each ranged input: which end of it goes with the figure's least.

    An input that does not move the least, or of which both or neither of the ends do, is left out; so are several of
    one symbol that do not go the same way. Empty where the figure is no range.
    """
    if not isinstance(working.value, Interval) or not working.value.lo < working.value.hi:
        return {}
    found: dict[str, set[str]] = {}
    for place, used in enumerate(_inputs(working)):
        if isinstance(used.value, Interval) and used.value.lo < used.value.hi:
            found.setdefault(used.name, set()).add(_end_of(working, place, used.value))
    return {name: next(iter(ends)) for name, ends in found.items() if len(ends) == 1 and "" not in ends}


def _inputs(working: Working) -> tuple[Used, ...]:
    named = (
        Used(name, *found[:1], name, found[1]) for name, found in zip(working.way.inputs, working.found, strict=True)
    )
    return (*named, *working.gathered)


def _end_of(working: Working, place: int, span: Interval) -> str:
    least, greatest = _held(working, place, span.lo), _held(working, place, span.hi)
    if least is None or greatest is None:
        return ""
    here, there = (_same(end, working.value) for end in (least, greatest))
    return "" if here == there else "least" if here else "greatest"


def _same(least: float, value: Interval) -> bool:
    return isclose(least, value.lo, rel_tol=1e-9, abs_tol=1e-6 * (value.hi - value.lo))


def _held(working: Working, place: int, end: float) -> float | None:
    """Return the least of a figure with one of its inputs held at one end; None where nothing comes out."""
    inputs = list(_inputs(working))
    held: Interval = inputs[place].value
    inputs[place] = inputs[place]._replace(value=Interval(end, end, held.dimension))
    count = len(working.way.inputs)
    arguments: dict[str, Any] = {used.name: _argument(used.value) for used in inputs[:count]}
    if working.way.gather is not None:
        arguments["gathered"] = tuple(inputs[count:])
    try:
        found = working.way.work_out(**arguments)
    except ArithmeticError:
        return None
    return found[0] if isinstance(found, tuple) else None


def _argument(value: Any) -> Any:
    return (value.lo, value.hi) if isinstance(value, Interval) else value
