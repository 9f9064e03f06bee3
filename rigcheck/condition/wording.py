"""A condition in plain words: what is required, fact by fact, as 'form: cutting or combined'."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from rigcheck.condition.tree import Clause, FactName, LimitName, Literal, Operand, Properties, Schema
from rigcheck.condition.value_wording import fact_words, listed_words, relation_words, step_words, value_words
from rigcheck.text.faults import with_article

__all__ = ["bound_words", "fact_words", "in_words", "listed_words", "relation_words", "value_words"]

LimitWords = Callable[[str], str]
"""Turns the name of a limit into its value in words."""


def in_words(schema: Schema, limit_words: LimitWords, kind: str = "thing") -> str:
    """Return what a condition over a thing of a kind requires, as one sentence without a full stop."""
    return _Speaker(limit_words, kind).schema(schema, "", "; ")


def bound_words(clause: Clause, limit_words: LimitWords) -> str:
    """Return what a number had to be, as 'at most 20 deg'; nothing where it was held against another fact."""
    if clause.keyword not in _BOUNDS or isinstance(clause.operand, FactName):
        return ""
    return f"{_BOUNDS[clause.keyword]} {_Speaker(limit_words, '').operand(clause.operand)}"


def _subject(outer: str, name: str) -> str:
    if name == "kind":  # what kind of thing it is: the thing itself
        return f"the {outer}" if outer else "it"
    return step_words(outer, name) if outer else fact_words(name)


def _of(subject: str, requirement: str) -> str:
    return f"{subject}: {requirement}" if subject else requirement


def _is_thing(subject: str) -> bool:
    """Whether it is said of a thing itself what kind it is: 'it', 'the part after it'."""
    return subject == "it" or subject.startswith("the ")


def _is_plural(subject: str) -> bool:
    head = subject.split(" of ")[0]
    return head.endswith("s") and not head.endswith(("ss", "gas"))


class _Speaker:
    def __init__(self, limit_words: LimitWords, kind: str) -> None:
        self.limit_words, self.kind = limit_words, kind
        self.listing = 0  # how many lists of things deep: there, a fact of the rule's own thing must say whose it is
        self.choosing = 0  # how many choices deep: an inner one stands in brackets

    def schema(self, schema: Schema, subject: str, joint: str = " and ") -> str:
        """Put a condition in words; its clauses are joined by semicolons only at the top."""
        if schema.always is not None:
            return f"{subject} is stated" if schema.always else f"{subject} is never so"
        clauses = [c for c in schema.clauses if c.keyword not in _SPOKEN_ELSEWHERE]
        plain = [c for c in clauses if not _goes_without_saying(c, clauses, subject)]
        said = joint.join(filter(None, (self.clause(schema, c, subject) for c in plain)))
        return said.replace(f"{subject} and the {subject} is", f"{subject}, which is") if subject else said

    def clause(self, schema: Schema, clause: Clause, subject: str) -> str:
        return _SAYINGS[clause.keyword](self, schema, clause.operand, subject)

    def operand(self, operand: Operand) -> str:
        if isinstance(operand, LimitName):
            return self.limit_words(operand.name)
        if isinstance(operand, FactName):
            names = [fact_words(step) for step in reversed(operand.path)]
            whose = [f"this {self.kind}"] if self.listing else []
            return "the " + " of the ".join(names) + "".join(f" of {one}" for one in whose)
        return value_words(operand.value)

    def properties(self, schema: Schema, operand: Properties, subject: str) -> str:
        return " and ".join(self.schema(s, _subject(subject, name)) for name, s in operand.schemas.items())

    def one_of_words(self, subject: str, operands: tuple[Operand, ...], before: str = "", joint: str = "or") -> str:
        """Return 'form: cutting or combined', or of a thing itself 'it is a hose or a joiner'."""
        if _is_thing(subject):
            said = listed_words([with_article(self.operand(one)) for one in operands], joint)
            return f"{subject} is {before}{said}"
        said = listed_words([self.operand(one) for one in operands], joint)
        if not before and all(isinstance(one, FactName) for one in operands):
            return f"{subject} is {said}"
        return _of(subject, f"{before}{said}")

    def const(self, schema: Schema, operand: Operand, subject: str) -> str:
        return self.one_of_words(subject, (operand,))

    def enum(self, schema: Schema, operand: tuple[Operand, ...], subject: str) -> str:
        return self.one_of_words(subject, operand)

    def type(self, schema: Schema, operand: tuple[str, ...], subject: str) -> str:
        if operand == ("object",):
            return f"there is {with_article(subject)}"
        return _of(subject, "none") if operand == ("null",) else f"{subject} is given"

    def any_of(self, schema: Schema, operand: tuple[Schema, ...], subject: str) -> str:
        return self.included(operand, subject, "or") or self.choice("either ", operand, subject)

    def all_of(self, schema: Schema, operand: tuple[Schema, ...], subject: str) -> str:
        included = self.included(operand, subject, "and")
        joint = " and " if subject or self.choosing or self.listing else "; "
        return included or joint.join(self.schema(inner, subject) for inner in operand)

    def one_of(self, schema: Schema, operand: tuple[Schema, ...], subject: str) -> str:
        first = "either " if any(map(_asks_for_none, operand)) else "just one of: "  # none is no number
        return self.choice(first, operand, subject)

    def choice(self, first: str, schemas: tuple[Schema, ...], subject: str) -> str:
        self.choosing += 1
        said = first + ", or ".join(self.schema(inner, subject) for inner in schemas)
        self.choosing -= 1
        return f"({said})" if self.choosing else said

    def negated(self, schema: Schema, operand: Schema, subject: str) -> str:
        clauses = operand.clauses
        inner = [clause for clause in clauses if not _goes_without_saying(clause, list(clauses), subject)]
        if len(inner) == 1 and inner[0].keyword in ("const", "enum"):
            several = inner[0].keyword == "enum" and len(inner[0].operand) > 1
            operands = inner[0].operand if inner[0].keyword == "enum" else (inner[0].operand,)
            return self.one_of_words(subject, operands, *(("neither ", "nor") if several else ("not ", "or")))
        if only := _only_fact(inner):
            return self.negated(schema, only[1], _subject(subject, only[0]))
        said = self.schema(operand, subject)
        if len(inner) == 1 and inner[0].keyword in _BOUNDS:
            return said.replace(" is ", " is not ", 1) if " is " in said else said.replace(": ", ": not ", 1)
        if len(inner) == 1 and inner[0].keyword == "contains" and said.startswith(_FOR_ONE):
            return "for none" + said.removeprefix(_FOR_ONE)
        return f"not ({said})"

    def included(self, schemas: tuple[Schema, ...], subject: str, joint: str) -> str:
        """Return 'functions include NV and FA' where each of several conditions wants one word in the same list."""
        found = [_wanted_word(schema) for schema in schemas]
        names = {name for name, _ in found}
        if len(names) != 1 or any(word is None for _, word in found):
            return ""
        name = names.pop()
        return self.including(_subject(subject, name) if name else subject, tuple(w for _, w in found if w), joint)

    def including(self, subject: str, words: tuple[Operand, ...], joint: str) -> str:
        said = listed_words([self.operand(one) for one in words], joint)
        return (
            f"{subject} include {said}" if _is_plural(subject) and words != (Literal("none"),) else _of(subject, said)
        )

    def chosen(self, schema: Schema, operand: Schema, subject: str) -> str:
        said = f"if {self.schema(operand, subject)}, then "
        then, other = schema.operand("then"), schema.operand("else")
        said += self.schema(then, subject) if then else "anything"
        return said + (f"; otherwise {self.schema(other, subject)}" if other else "")

    def inside(self, schema: Schema) -> str:
        """Put a condition on one of several things in words."""
        self.listing += 1
        said = self.schema(schema, "")
        self.listing -= 1
        return said

    def items(self, schema: Schema, operand: Schema, subject: str) -> str:
        return f"for every one of the {subject}, {self.inside(operand) or 'it'}"

    def prefix(self, schema: Schema, operand: tuple[Schema, ...], subject: str) -> str:
        said = (f"no. {n}: {self.inside(s)}" for n, s in enumerate(operand, start=1))
        return f"of the {subject}, {', '.join(said)}"

    def contains(self, schema: Schema, operand: Schema, subject: str) -> str:
        least, most = schema.operand("minContains"), schema.operand("maxContains")
        constant = operand.operand("const")
        if constant is not None and least is None and most is None:
            return self.including(subject, (constant,), "or")
        if [inner.keyword for inner in operand.clauses] == ["enum"] and least in (None, 1) and most is None:
            return self.including(subject, operand.operand("enum"), "or")
        count = "at most" if least == 0 else "at least"
        number = most if least == 0 and most is not None else 1 if least is None else least
        upper = f" and at most {most}" if most is not None and least != 0 else ""
        return f"for {count} {number}{upper} of the {subject}, {self.inside(operand)}"

    def pattern(self, schema: Schema, operand: Any, subject: str) -> str:
        return f"{subject} reads like {operand.pattern}"

    def unique(self, schema: Schema, operand: bool, subject: str) -> str:
        return f"no two of the {subject} are the same"

    def required(self, schema: Schema, operand: tuple[str, ...], subject: str) -> str:
        return f"stated: {', '.join(map(fact_words, operand))}"


_NEIGHBOURS = tuple(map(fact_words, ("upstream", "downstream")))
_FOR_ONE = "for at least 1"


def _goes_without_saying(clause: Clause, clauses: list[Clause], subject: str) -> bool:
    """Whether a type clause only guards others: 'type: number' beside 'maximum', say.

    That there is a neighbour goes without saying where it must be something, not where it must not.
    """
    if clause.keyword != "type" or len(clauses) == 1:
        return False
    if clause.operand != ("object",) or subject not in _NEIGHBOURS:
        return True
    others = [inner for other in clauses if other.keyword == "properties" for inner in other.operand.schemas.values()]
    return not others or not all(_only_forbids(inner) for inner in others)


def _only_forbids(schema: Schema) -> bool:
    return bool(schema.clauses) and all(clause.keyword == "not" for clause in schema.clauses)


def _only_fact(clauses: Sequence[Clause]) -> tuple[str, Schema] | None:
    """Return the one fact that clauses are about, with what they say of it."""
    schemas = clauses[0].operand.schemas if len(clauses) == 1 and clauses[0].keyword == "properties" else {}
    return next(iter(schemas.items())) if len(schemas) == 1 else None


def _asks_for_none(schema: Schema) -> bool:
    inner = schema
    while only := _only_fact(inner.clauses):
        inner = only[1]
    constant = inner.operand("const")
    return isinstance(constant, Literal) and constant.value is None


def _wanted_word(schema: Schema) -> tuple[str, Operand | None]:
    """Return the list that a condition is about ('' for the value itself) and the one word that it wants in it."""
    name, inner = _only_fact(schema.clauses) or ("", schema)
    if [clause.keyword for clause in inner.clauses] != ["contains"]:
        return name, None
    wanted: Schema = inner.clauses[0].operand
    return name, wanted.operand("const") if len(wanted.clauses) == 1 else None


_SPOKEN_ELSEWHERE = ("then", "else", "minContains", "maxContains")
_Saying = Callable[[_Speaker, Schema, Any, str], str]


def _number(words: str) -> _Saying:
    """Return how a bound is said; of a plural, as 'joiners: at most 1', so that no verb has to agree."""

    def said(speaker: _Speaker, schema: Schema, operand: Operand, subject: str) -> str:
        joint = ":" if _is_plural(subject) else " is"
        return f"{subject}{joint} {words} {speaker.operand(operand)}"

    return said


def _counted(words: str) -> _Saying:
    return lambda speaker, schema, operand, subject: _of(subject, f"{words} {operand}")


_BOUNDS: Mapping[str, str] = {
    "minimum": "at least",
    "maximum": "at most",
    "exclusiveMinimum": "more than",
    "exclusiveMaximum": "less than",
}
_SAYINGS: Mapping[str, _Saying] = {
    "properties": _Speaker.properties,
    "required": _Speaker.required,
    **{keyword: _number(words) for keyword, words in _BOUNDS.items()},
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
