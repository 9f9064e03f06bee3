"""A condition, a value and a reason in plain words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcheck.condition.tree import Clause, FactName, LimitName, Literal, Operand, Schema
from rigcheck.quantity import Interval
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["in_words", "listed_words", "value_words"]

LimitWords = Callable[[str], str]
"""Turns the name of a limit into its value in words."""


def in_words(schema: Schema, limit_words: LimitWords) -> str:
    """Return what a condition over a thing requires, as one sentence without a full stop."""
    return _Speaker(limit_words).schema(schema, "", "; ")


def value_words(value: Any) -> str:
    """Return a value as a person would write it."""
    if value is MISSING:
        return "not stated"
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Interval):
        return value.text
    if isinstance(value, Thing):
        return value.label
    if isinstance(value, (tuple, list)):
        return ", ".join(map(value_words, value)) or "none"
    return str(value)


def listed_words(words: list[str], joint: str) -> str:
    """Return 'a', 'a or b', 'a, b or c'."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {joint} {words[-1]}"


_SPOKEN = {"downstream": "part after it", "upstream": "part before it"}


def _subject(outer: str, name: str) -> str:
    spoken = _SPOKEN.get(name, name.replace("_", " "))
    if name == "kind":  # what kind of thing it is: the thing itself
        return f"the {outer}" if outer else "it"
    return f"{spoken} of the {outer}" if outer else spoken


class _Speaker:
    def __init__(self, limit_words: LimitWords) -> None:
        self.limit_words = limit_words

    def schema(self, schema: Schema, subject: str, joint: str = " and ") -> str:
        """Put a condition in words; its clauses are joined by semicolons only at the top."""
        if schema.always is not None:
            return f"{subject} is stated" if schema.always else f"{subject} is never so"
        clauses = [c for c in schema.clauses if c.keyword not in _SPOKEN_ELSEWHERE]
        plain = [c for c in clauses if not _goes_without_saying(c, clauses)]
        return joint.join(filter(None, (self.clause(schema, c, subject) for c in plain)))

    def clause(self, schema: Schema, clause: Clause, subject: str) -> str:
        return _SAYINGS[clause.keyword](self, schema, clause.operand, subject)

    def operand(self, operand: Operand) -> str:
        if isinstance(operand, LimitName):
            return self.limit_words(operand.name)
        if isinstance(operand, FactName):
            names = [step.replace("_", " ") for step in reversed(operand.path)]
            return "the " + " of the ".join(names)
        return value_words(operand.value)

    def properties(self, schema: Schema, operand: Mapping[str, Schema], subject: str) -> str:
        return " and ".join(self.schema(s, _subject(subject, name)) for name, s in operand.items())

    def const(self, schema: Schema, operand: Operand, subject: str) -> str:
        if isinstance(operand, Literal) and isinstance(operand.value, bool):
            return f"{subject}: {value_words(operand.value)}"
        return f"{subject} is {self.operand(operand)}"

    def enum(self, schema: Schema, operand: tuple[Operand, ...], subject: str) -> str:
        return f"{subject} is {listed_words([self.operand(o) for o in operand], 'or')}"

    def type(self, schema: Schema, operand: tuple[str, ...], subject: str) -> str:
        if operand == ("object",):
            return f"there is {'an' if subject[:1] in 'aeiou' else 'a'} {subject}"
        if operand == ("null",):
            return f"{subject} is none"
        return f"{subject} is given"

    def any_of(self, schema: Schema, operand: tuple[Schema, ...], subject: str) -> str:
        return "either " + ", or ".join(self.schema(inner, subject) for inner in operand)

    def all_of(self, schema: Schema, operand: tuple[Schema, ...], subject: str) -> str:
        return " and ".join(self.schema(inner, subject) for inner in operand)

    def one_of(self, schema: Schema, operand: tuple[Schema, ...], subject: str) -> str:
        return "just one of: " + ", or ".join(self.schema(inner, subject) for inner in operand)

    def negated(self, schema: Schema, operand: Schema, subject: str) -> str:
        inner = operand.clauses
        if len(inner) == 1 and inner[0].keyword in ("const", "enum"):
            return f"{subject} is not " + self._choices(inner[0])
        return f"not: {self.schema(operand, subject)}"

    def _choices(self, clause: Clause) -> str:
        operands = clause.operand if clause.keyword == "enum" else (clause.operand,)
        return listed_words([self.operand(one) for one in operands], "or")

    def chosen(self, schema: Schema, operand: Schema, subject: str) -> str:
        said = f"if {self.schema(operand, subject)}, then "
        then, other = schema.operand("then"), schema.operand("else")
        said += self.schema(then, subject) if then else "anything"
        return said + (f"; otherwise {self.schema(other, subject)}" if other else "")

    def items(self, schema: Schema, operand: Schema, subject: str) -> str:
        return f"every one of the {subject}: {self.schema(operand, '') or 'it'}"

    def prefix(self, schema: Schema, operand: tuple[Schema, ...], subject: str) -> str:
        said = (f"no. {n}: {self.schema(s, '')}" for n, s in enumerate(operand, start=1))
        return f"of the {subject}, {', '.join(said)}"

    def contains(self, schema: Schema, operand: Schema, subject: str) -> str:
        least, most = schema.operand("minContains"), schema.operand("maxContains")
        count = "at most" if least == 0 else "at least"
        number = most if least == 0 and most is not None else 1 if least is None else least
        upper = f" and at most {most}" if most is not None and least != 0 else ""
        constant = operand.operand("const")
        if constant is not None:
            return f"{subject} has {self.operand(constant)}"
        if [inner.keyword for inner in operand.clauses] == ["enum"] and number == 1 and not upper:
            return f"{subject} has {self._choices(operand.clauses[0])}"
        return f"{count} {number}{upper} of the {subject}: {self.schema(operand, '')}"

    def pattern(self, schema: Schema, operand: Any, subject: str) -> str:
        return f"{subject} reads like {operand.pattern}"

    def unique(self, schema: Schema, operand: bool, subject: str) -> str:
        return f"no two of the {subject} are the same"

    def required(self, schema: Schema, operand: tuple[str, ...], subject: str) -> str:
        return f"stated: {', '.join(name.replace('_', ' ') for name in operand)}"


def _goes_without_saying(clause: Clause, clauses: list[Clause]) -> bool:
    """Whether a type clause only guards others: 'type: number' beside 'maximum', say."""
    return clause.keyword == "type" and len(clauses) > 1


_SPOKEN_ELSEWHERE = ("then", "else", "minContains", "maxContains")
_Saying = Callable[[_Speaker, Schema, Any, str], str]


def _number(words: str) -> _Saying:
    return lambda speaker, schema, operand, subject: f"{subject} {words} {speaker.operand(operand)}"


def _counted(words: str) -> _Saying:
    return lambda speaker, schema, operand, subject: f"{subject} has {words} {operand}"


_SAYINGS: Mapping[str, _Saying] = {
    "properties": _Speaker.properties,
    "required": _Speaker.required,
    "minimum": _number("is at least"),
    "maximum": _number("is at most"),
    "exclusiveMinimum": _number("is more than"),
    "exclusiveMaximum": _number("is less than"),
    "const": _Speaker.const,
    "enum": _Speaker.enum,
    "type": _Speaker.type,
    "pattern": _Speaker.pattern,
    "minLength": _counted("a length of at least"),
    "maxLength": _counted("a length of at most"),
    "minItems": _counted("at least"),
    "maxItems": _counted("at most"),
    "uniqueItems": _Speaker.unique,
    "items": _Speaker.items,
    "prefixItems": _Speaker.prefix,
    "contains": _Speaker.contains,
    "allOf": _Speaker.all_of,
    "anyOf": _Speaker.any_of,
    "oneOf": _Speaker.one_of,
    "not": _Speaker.negated,
    "if": _Speaker.chosen,
}
