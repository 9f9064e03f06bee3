"""Steps in words: what to do, with the thing and its limits in place, and what a value must meet."""

from __future__ import annotations

import re
from math import ceil, floor, log10
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from rigcheck.condition.check import fact_at
from rigcheck.condition.compiler import Judge
from rigcheck.condition.tree import (
    NUMBER_KEYWORDS,
    Clause,
    FactName,
    LimitName,
    Literal,
    Properties,
    Schema,
    every_clause,
)
from rigcheck.condition.wording import in_words
from rigcheck.procedure.expansion import Instance
from rigcheck.quantity.interval import Interval, worked_out
from rigcheck.rig.thing import MISSING, Thing
from rigcheck.rules.rule import named_limits
from rigcheck.rules.steps import Grade, StepValue

__all__ = ["Speaker"]

_IS = re.compile(r"(?: and|;) is ")
_BRACES = re.compile(r"\{([^{}]*)\}")
_DIGITS = 2  # of a bound that was worked out: nobody reads a watch more finely


class Speaker(Struct, frozen=True):
    """Puts steps in words for things of a rig (`root` is the rig's own thing), with the limits of a judge."""

    judge: Judge
    root: Thing

    def do(self, instance: Instance, called: str = "") -> str:
        """Return what to do, as a sentence; `called` stands for several things at once."""
        step, thing, name = instance.step, instance.thing, called or instance.called
        return _BRACES.sub(lambda m: name if m[1] == "thing" else self._bound(step.values[m[1]], thing), step.do)

    def required(self, grade: Grade | None, thing: Thing | None) -> str:
        """Return what a value must meet, as 'at most 1.5 turn'; empty where it need meet nothing."""
        if grade is None:
            return ""
        said = in_words(_tightest(self._settled(grade.must, thing)), _limit_word)
        return _IS.sub(" and ", " ".join(said.split()).removeprefix("is "))

    def in_force(self, value: StepValue) -> tuple[Grade, ...]:
        """Return what a value must meet, the gravest first: a limit that is not in force asks for nothing."""
        return tuple(one for one in value.grades if all(name in self.judge.limits for name in named_limits(one.must)))

    def wanted(self, value: StepValue) -> Grade | None:
        """Return what a value must meet as the step says it, or None where it need meet nothing."""
        return next(reversed(self.in_force(value)), None)

    def least(self, value: StepValue, thing: Thing | None) -> float:
        """Return the least number, in base units, that a value must reach; 0 where none is known."""
        wanted = self.wanted(value)
        clauses = every_clause(self._settled(wanted.must, thing)) if wanted is not None else ()
        bounds = (c.operand.value for c in clauses if c.keyword == "minimum" and isinstance(c.operand, Literal))
        return max((one.hi for one in bounds if isinstance(one, Interval)), default=0.0)

    def unknown_facts(self, value: StepValue, thing: Thing | None) -> list[tuple[Thing, str]]:
        """Return the facts of the rig that a value is held against and that are not known."""
        clauses = (clause for grade in self.in_force(value) for clause in every_clause(grade.must))
        paths = (c.operand.path for c in clauses if isinstance(c.operand, FactName))
        found = (_first_unknown(thing or self.root, path) for path in paths)
        return list(dict.fromkeys(one for one in found if one is not None))

    def _bound(self, value: StepValue, thing: Thing | None) -> str:
        wanted = self.wanted(value)
        said = self.required(wanted, thing) or "the maker's figure"
        return _bare(said) if wanted is not None and len(wanted.must.clauses) == 1 else said

    def _settled(self, schema: Schema, thing: Thing | None) -> Schema:
        """Return a condition with the values of its limits and facts in their place, where they are known."""
        clauses = (replace(c, operand=self._operand(c, c.operand, thing)) for c in schema.clauses)
        return Schema(tuple(clauses), schema.always)

    def _operand(self, clause: Clause, operand: Any, thing: Thing | None) -> Any:
        if isinstance(operand, Schema):
            return self._settled(operand, thing)
        if isinstance(operand, Properties):
            return Properties({name: self._settled(inner, thing) for name, inner in operand.schemas.items()})
        if isinstance(operand, tuple):
            return tuple(self._operand(clause, one, thing) for one in operand)
        if isinstance(operand, LimitName):
            return Literal(_in_bar_too(clause.keyword, self.judge.limits[operand.name]))
        if isinstance(operand, FactName):
            found = fact_at(thing or self.root, operand.path)
            return operand if found is MISSING else Literal(_to_read(clause.keyword, found))
        return operand


def _tightest(schema: Schema) -> Schema:
    """Return 'at least 12 s' for 'at least 10 s and at least 12 s', where both are known."""
    inner = schema.clauses[0].operand if len(schema.clauses) == 1 and schema.clauses[0].keyword == "allOf" else ()
    bounds = [one.clauses[0] for one in inner if len(one.clauses) == 1]
    keywords = {clause.keyword for clause in bounds}
    known = all(isinstance(c.operand, Literal) and isinstance(c.operand.value, Interval) for c in bounds)
    if len(bounds) < len(inner) or not known or keywords not in ({"minimum"}, {"maximum"}):
        return schema
    tight = max if keywords == {"minimum"} else min
    return Schema((tight(bounds, key=lambda clause: clause.operand.value.hi),))


def _first_unknown(thing: Thing, path: tuple[str, ...]) -> tuple[Thing, str] | None:
    for step in path:
        value = thing.facts.get(step, MISSING)
        if value is MISSING:
            return thing, step
        if not isinstance(value, Thing):
            return None
        thing = value
    return None


def _bare(said: str) -> str:
    """Return '1.5 turn' for 'at most 1.5 turn': the sentence around it says which way."""
    return re.sub(r"^(?:at least|at most|more than|less than) ", "", said)


def _limit_word(name: str) -> str:
    return name.replace("_", " ")


def _to_read(keyword: str, value: Any) -> Any:
    """Return a bound as somebody can work to it: of a worked-out range the cautious end, in few digits."""
    if keyword not in NUMBER_KEYWORDS or not isinstance(value, Interval) or value.unit:
        return value
    up = keyword in ("minimum", "exclusiveMinimum")
    end = _rounded(value.hi if up else value.lo, up=up)
    return worked_out(end, end, value.dimension)


def _in_bar_too(keyword: str, limit: Interval) -> Interval:
    """Return a pressure limit that also says what it is in bar, as many gauges show only that."""
    if limit.dimension != "pressure" or keyword not in NUMBER_KEYWORDS or "bar" in limit.unit:
        return limit
    end = _rounded(limit.lo, up=keyword in ("minimum", "exclusiveMinimum"), digits=3)
    text = f"{limit.text} ({worked_out(end, end, 'pressure').text})"
    return Interval(limit.lo, limit.hi, limit.dimension, text, limit.unit, limit.grain)


def _rounded(number: float, *, up: bool, digits: int = _DIGITS) -> float:
    if number == 0:
        return number
    step = 10.0 ** (floor(log10(abs(number))) - digits + 1)
    return float(f"{(ceil if up else floor)(round(number / step, 9)) * step:.12g}")
