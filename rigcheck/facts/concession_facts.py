"""Facts of a concession: what it leads to in its rig, and how long it still runs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from rigcheck.facts.dates import elapsed
from rigcheck.facts.figure import Look, Wants
from rigcheck.quantity.interval import worked_out
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["CONCESSION_FACTS", "LED_TO", "LedTo"]

LED_TO = "led_to"
"""The key under which a concession carries what it leads to; no rule can name it."""


class LedTo(NamedTuple):
    """What a concession leads to, once its rig is judged; `may_be_conceded` is None where there is no such rule."""

    rule_known: bool
    thing_known: bool
    may_be_conceded: bool | None
    breaches: int
    awaited: bool
    named_for_good: bool
    thing_unchanged: bool


def _yes_no(name: str) -> Callable[[Thing, Look], Any]:
    def work_out(thing: Thing, look: Look) -> Any:
        found = getattr(thing.facts.get(LED_TO), name, None)
        return Wants() if found is None else found

    return work_out


def _breaches(thing: Thing, look: Look) -> Any:
    led_to = thing.facts.get(LED_TO)
    return Wants() if led_to is None else worked_out(led_to.breaches, led_to.breaches, "count")


def _days_over(thing: Thing, look: Look) -> Any:
    until = thing.facts.get("until", MISSING)
    if until is MISSING:
        return Wants(((thing, "until"),))
    return worked_out(max(0, look.day - until.hi), max(0, look.day - until.lo), "count")


def _left(measure: str) -> Callable[[Thing, Look], Any]:
    """Return a function that works out the time until the last day; none is left once it is over."""

    def work_out(thing: Thing, look: Look) -> Any:
        until = thing.facts.get("until", MISSING)
        if until is MISSING:
            return Wants(((thing, "until"),))
        lo, hi = (max(0.0, elapsed(look.day, int(end), measure)) for end in (until.lo, until.hi))
        return worked_out(lo, hi, measure)

    return work_out


_YES_NO = ("rule_known", "thing_known", "may_be_conceded", "awaited", "named_for_good", "thing_unchanged")

CONCESSION_FACTS: Mapping[tuple[str, str], Callable[[Thing, Look], Any]] = {
    **{("concession", name): _yes_no(name) for name in _YES_NO},
    ("concession", "breaches"): _breaches,
    ("concession", "days_over"): _days_over,
    ("concession", "time_left"): _left("time"),
    ("concession", "term_left"): _left("age"),
}
"""The functions of computed facts, by kind and name."""
