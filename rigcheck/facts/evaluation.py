"""Looks facts of a rig up, and works out those that are computed.

Every figure of every rig comes through here: paths are taken apart once, and one pass over a way's
inputs makes both what its formula is called with and what a report shows of it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import isinf, isnan
from typing import Any, NamedTuple

from rigcheck.facts.figure import Figure, Look, Used, Wants, Way, Working, end_of
from rigcheck.facts.witness import Witness, as_stated, settled
from rigcheck.quantity.alternatives import OneOf
from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import MISSING, Thing
from rigcheck.rig.vocabulary import Kind

__all__ = ["Reckoner", "Work", "work_of_figure"]

Work = Callable[[Thing, Look], Any]
"""What a computed fact of a thing comes to, or `Wants`."""

_Found = tuple[Thing | None, Any]
"""The thing that has a fact, none for a limit; and the value."""

_Inputs = tuple[dict[str, Any], tuple[_Found, ...], tuple[Used, ...]]
"""The arguments of a way's formula, where those of its paths come from, and what it gathered."""

_UNDER_WAY = Wants()
_NOTHING = Wants()
_WORDS = ("words", "several_words")


class Reckoner:
    """A `Look` over copies of a rig's things on one day; each fact is worked out once a thing, and kept with it.

    `outlived`: a sight was met that is older than it counts, and says otherwise than what counts; it does count
    where things are taken `as_last_seen`.
    """

    def __init__(
        self,
        day: int,
        limits: Mapping[str, Interval],
        tables: Mapping[str, tuple[Any, ...]],
        work_of: Callable[[Kind], Mapping[str, Work]],
        settle: Callable[[Thing, str], None],
        *,
        as_last_seen: bool = False,
    ) -> None:
        self.as_last_seen, self.outlived = as_last_seen, False
        self.day, self.limits, self.tables, self.work_of, self.settle = day, limits, tables, work_of, settle

    def fact(self, thing: Thing, name: str) -> Any:
        """Return the value of a fact, or MISSING; one that statements disagree on is not known to a figure."""
        found = thing.facts.get(name, MISSING)
        if found is not MISSING or name in thing.wanting:
            return MISSING if type(found) is OneOf else found
        work = self.work_of(thing.kind).get(name)
        return MISSING if work is None else self.work_out(work, thing, name)

    def ready(self, thing: Thing, name: str) -> Any:
        """Return a fact, or MISSING, once all its witnesses were heard; one in dispute as it is."""
        self.settle(thing, name)
        found = thing.facts.get(name, MISSING)
        return self.fact(thing, name) if found is MISSING else found

    def work_out(self, work: Work, thing: Thing, name: str) -> Any:
        """Return what a computed fact comes to, or MISSING; kept with the thing either way."""
        thing.wanting[name] = _UNDER_WAY  # what leads back here finds it missing
        found = work(thing, self)
        if isinstance(found, Wants):
            thing.wanting[name] = found
            return MISSING
        del thing.wanting[name]
        thing.facts[name] = found
        return found

    def wants(self, thing: Thing, name: str) -> Wants:
        """Return what a missing fact waits for."""
        return Wants(thing.wanting.get(name) or ((thing, name),))

    def limit(self, name: str) -> Any:
        """Return a limit, or MISSING."""
        return self.limits.get(name, MISSING)

    def table(self, name: str) -> tuple[Any, ...]:
        """Return the rows of a file of published tables; none where there is no such file."""
        return self.tables.get(name, ())


def work_of_figure(figure: Figure, measure: str) -> Work:
    """Return a function that works a figure out by the first of its ways that can be gone.

    What somebody stated is a witness beside it: where the two agree, the better known counts, and where they
    do not, the figure is whatever lies between.
    """
    plans: list[_Plan] = []  # made when first needed: a cold start goes few of the ways
    makes_numbers = measure not in _WORDS
    asserted = any(way.stated for way in figure.ways)

    def work(thing: Thing, look: Look) -> Any:
        if not plans:
            plans.extend(map(_plan, figure.ways))
        wanted = unasked = None
        said: Working | None = None
        worked: Working | None = None
        outside: Working | None = None
        for plan in plans:
            if said is not None if plan.way.stated else worked is not None:
                continue  # of each sort one witness is heard
            inputs = _inputs(plan, thing, look)
            if inputs is None:
                continue
            if isinstance(inputs, Wants):
                if plan.way.asks:
                    wanted = inputs if wanted is None else wanted
                else:
                    unasked = inputs if unasked is None else unasked
                continue
            arguments, found, gathered = inputs
            try:
                value = plan.way.work_out(**arguments)
            except ArithmeticError:  # inputs that no formula can take, as a length of 1e114 m or a gas at 0 K
                value = None
            if makes_numbers and type(value) is tuple:
                value = _range(value, measure)
            working = Working(figure, plan.way, found, gathered, value)
            if value is None:
                outside = working
            elif plan.way.stated:
                said = working
            else:
                worked = working
            if worked is not None and (said is not None or not asserted):
                break
        if said is not None and worked is not None:
            return _together(thing, figure, said, worked)
        shown = said or worked or outside
        if shown is not None:
            thing.workings[figure.name] = shown
        return shown.value if shown is not None and shown is not outside else wanted or unasked or _NOTHING

    return work


def _together(thing: Thing, figure: Figure, said: Working, worked: Working) -> Any:
    """Return what a stated value and one that was worked out come to together; a dispute is kept with the thing."""
    owner = said.found[0][0]
    assert owner is not None
    name = end_of(next(iter(said.way.inputs.values())))
    witnesses = (
        as_stated(owner, name),
        Witness(worked.value, "worked out", of=(thing, figure.name), says=worked.way.formula),
    )
    value, agree = settled(witnesses, figure.tolerance)
    thing.witnesses[figure.name] = witnesses
    if not agree:
        thing.disputes[figure.name] = witnesses
    thing.workings[figure.name] = said if agree and value is said.value else worked
    return value


def _range(ends: tuple[float, float], measure: str) -> Interval | None:
    """Return a worked out range; only a time may have no end, and what is no number is not known."""
    low, high = ends
    no_number = isnan(low) or isnan(high) or (measure != "time" and (isinf(low) or isinf(high)))
    return None if no_number else Interval(low, high, measure)


class _Reached(NamedTuple):
    """An input's name, the things that its path leads over, and the fact at the end; no things: a limit."""

    name: str
    steps: tuple[str, ...] | None
    fact: str


class _Plan(NamedTuple):
    """A way with its paths taken apart, once for all rigs."""

    way: Way
    only: tuple[tuple[_Reached, tuple[Any, ...]], ...]
    inputs: tuple[_Reached, ...]


def _plan(way: Way) -> _Plan:
    only = tuple((_reached("", path), words) for path, words in way.only.items())
    return _Plan(way, only, tuple(_reached(name, path) for name, path in way.inputs.items()))


def _reached(name: str, path: str) -> _Reached:
    steps = None if path.startswith("limit:") else tuple(path.split(".")[:-1])
    return _Reached(name, steps, end_of(path))


def _inputs(plan: _Plan, thing: Thing, look: Look) -> _Inputs | Wants | None:
    """Return the inputs of a way; or what is missing; None where the way does not apply."""
    for reached, words in plan.only:
        found = _found(reached, thing, look)
        if isinstance(found, Wants):
            return found
        if (None if found is None else found[1]) not in words:
            return None
    arguments: dict[str, Any] = {}
    sources: list[_Found] = []
    wanted: list[Any] = []
    for reached in plan.inputs:
        found = _found(reached, thing, look)
        if found is None:
            return None
        if isinstance(found, Wants):
            wanted += found
            continue
        value = found[1]
        arguments[reached.name] = (value.lo, value.hi) if type(value) is Interval else value
        sources.append(found)
    if wanted:
        return Wants(dict.fromkeys(wanted))
    gathered = plan.way.gather(thing, look) if plan.way.gather else ()
    if gathered is None or isinstance(gathered, Wants):
        return gathered
    if plan.way.gather:
        arguments["gathered"] = gathered
    return arguments, tuple(sources), gathered


def _found(reached: _Reached, thing: Thing, look: Look) -> _Found | Wants | None:
    """Return the fact at the end of a path with its owner; None where a neighbour or the value is none."""
    _, steps, fact = reached
    if steps is None:
        limit = look.limit(fact)
        return None if limit is MISSING else (None, limit)
    for step in steps:
        following = thing.facts.get(step, MISSING)
        if following is MISSING and (following := look.fact(thing, step)) is MISSING:
            return look.wants(thing, step)
        if type(following) is not Thing:
            return None
        thing = following
    value = thing.facts.get(fact, MISSING)
    if value is MISSING and (value := look.fact(thing, fact)) is MISSING:
        return look.wants(thing, fact)
    if type(value) is OneOf:  # statements disagree: nothing can be worked out of it
        return look.wants(thing, fact)
    return None if value is None else (thing, value)
