"""The condition of a rule file, checked against the vocabulary while it is read.

Names, types and dimensions are settled here, so a rule that compares bar with metres never
reaches a rig.
"""

from __future__ import annotations

import re
from collections.abc import Mapping as Map

from rigcheck.condition.pattern import EcmaPattern, ecma_pattern
from rigcheck.condition.shape import ListShape, Shape, ThingShape, ValueShape, shape_of
from rigcheck.condition.tree import (
    NUMBER_KEYWORDS,
    Clause,
    FactName,
    LimitName,
    Literal,
    Operand,
    Properties,
    Schema,
)
from rigcheck.condition.value_keywords import TYPES
from rigcheck.quantity.notation import NotRead
from rigcheck.rig.fact import NONE_WORD
from rigcheck.rig.vocabulary import Kind, Vocabulary
from rigcheck.text.faults import Fault, keep_fault, nearest_word, shown_text, with_article
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, Node, Scalar, Sequence

__all__ = ["KEYWORDS", "ConditionReader"]

_LISTS = ("allOf", "anyOf", "oneOf")
_SINGLES = ("not", "if", "then", "else")
_OVER_THINGS = (*_LISTS, *_SINGLES)
_TEXT = {"minLength", "maxLength", "pattern"}
_LIST = {"contains", "minContains", "maxContains", "items", "prefixItems", "minItems", "maxItems"}
_LIST |= {"uniqueItems"}
_COUNTS = {"minLength", "maxLength", "minItems", "maxItems", "minContains", "maxContains"}
KEYWORDS = frozenset(
    {*_OVER_THINGS, *_TEXT, *_LIST, *NUMBER_KEYWORDS, "const", "enum", "type", "properties"} | {"required"}
)
_OBJECT = Clause("type", ("object",))


def _at(node: Node) -> tuple[int, int]:
    return node.line, node.column


class ConditionReader:
    """Reads the conditions of one rule file; faults are kept."""

    def __init__(self, file: str, vocabulary: Vocabulary, limits: Map[str, str], root: Kind) -> None:
        self.file, self.vocabulary, self.limits, self.root = file, vocabulary, limits, root
        self.faults: list[Fault] = []

    def read(self, node: Node) -> Schema:
        """Return the condition over the looked-at thing."""
        return self.thing_schema(node, ThingShape(self.root))

    def refuse(self, node: Node, read: str, write: str, near: str = "") -> None:
        """Keep a fault at a node."""
        keep_fault(self.faults, Fault(Place(self.file, node.line, node.column), read, write, near))

    # --- conditions over a thing: facts, and keywords that join conditions ---

    def thing_schema(self, node: Node, shape: ThingShape) -> Schema:
        """Return the condition of a mapping from facts (and joining keywords) to conditions."""
        if not isinstance(node, Mapping) or not node.items:
            self.refuse(node, "This is no condition.", "Write 'fact: {keyword: value}'.")
            return Schema()
        clauses = []
        for key, body in node.items.items():
            at = node.keys[key]
            if key in _OVER_THINGS or key in ("required", "type", "properties"):
                clauses.append(self._joined(at, body, shape))
            else:
                clauses.append(self._dotted(at, key.split("."), body, shape))
        return Schema(tuple(clauses))

    def _joined(self, at: Scalar, body: Node, shape: Shape) -> Clause:
        key = at.text
        if key in _LISTS:
            return Clause(key, tuple(self.schema(i, shape) for i in self._list(body)), _at(at))
        if key in _SINGLES:
            return Clause(key, self.schema(body, shape), _at(at))
        if key == "properties" and isinstance(shape, ThingShape):
            return Clause("allOf", (self.thing_schema(body, shape),), _at(at))
        if key == "required" and isinstance(shape, ThingShape):
            return self._required(at, body, shape)
        return self._type(at, body)

    def _required(self, at: Scalar, body: Node, shape: ThingShape) -> Clause:
        names = tuple(item.text for item in self._list(body) if isinstance(item, Scalar))
        for item in self._list(body):
            self._shape(item, item.text if isinstance(item, Scalar) else "", shape)
        return Clause("required", names, _at(at))

    def _dotted(self, at: Scalar, path: list[str], body: Node, shape: ThingShape) -> Clause:
        name, rest = path[0], path[1:]
        inner = self._shape(at, name, shape)
        if inner is None:
            return Clause("properties", Properties({name: Schema()}), _at(at))
        if rest and not isinstance(inner, ThingShape):
            self.refuse(at, f"{name!r} is no thing, so nothing follows it.", "Take the dot out.")
            return Clause("properties", Properties({name: Schema()}), _at(at))
        if rest and isinstance(inner, ThingShape):
            further = Schema((_OBJECT, self._dotted(at, rest, body, inner)))
            return Clause("properties", Properties({name: further}), _at(at))
        return Clause("properties", Properties({name: self._fact_schema(body, inner)}), _at(at))

    def _fact_schema(self, body: Node, shape: Shape) -> Schema:
        schema = self.schema(body, shape)
        if not isinstance(shape, ThingShape) or schema.operand("type"):
            return schema
        # None stands where a neighbour is missing; as an object it would pass unseen.
        return Schema((_OBJECT, *schema.clauses))

    def _shape(self, at: Node, name: str, shape: ThingShape) -> Shape | None:
        found = shape_of(shape.kind, name, self.vocabulary)
        if found is None:
            kind = shape.kind
            known = [*kind.facts, *kind.related, *kind.holds]
            read = f"{shown_text(name)} is nothing known of {with_article(kind.name)}."
            self.refuse(at, read, "Write a fact of it.", nearest_word(name, known))
        return found

    # --- conditions over a value ---

    def schema(self, node: Node, shape: Shape) -> Schema:
        """Return the condition over a value of a shape."""
        if isinstance(node, Scalar) and node.text in ("true", "false"):
            return Schema(always=node.text == "true")
        if isinstance(shape, ThingShape) and not self._only_type(node):
            return self.thing_schema(node, shape)
        if not isinstance(node, Mapping) or not node.items:
            self.refuse(node, "This is no condition.", "Write '{keyword: value}', as {const: true}.")
            return Schema()
        clauses = tuple(self._clause(node.keys[k], v, shape) for k, v in node.items.items())
        schema = Schema(tuple(clause for clause in clauses if clause is not None))
        self._none_is_settled(node, schema, shape)
        return schema

    def _only_type(self, node: Node) -> bool:
        return isinstance(node, Mapping) and set(node.items) == {"type"}

    def _clause(self, at: Scalar, body: Node, shape: Shape) -> Clause | None:
        key = at.text
        if key not in KEYWORDS:
            self.refuse(
                at,
                f"{shown_text(key)} is no keyword of a condition.",
                "Write a JSON Schema keyword.",
                nearest_word(key, KEYWORDS),
            )
            return None
        if not self._fits(key, shape):
            fitting = ", ".join(word for word in sorted(KEYWORDS) if self._fits(word, shape))
            self.refuse(at, f"{key!r} says nothing about {self._spoken(shape)}.", f"Write one of: {fitting}.")
            return None
        return self._operand_clause(at, body, shape)

    def _fits(self, key: str, shape: Shape) -> bool:
        if key in NUMBER_KEYWORDS:
            return isinstance(shape, ValueShape) and bool(shape.dimension)
        if key in _LIST:
            return isinstance(shape, ListShape)
        if key in _TEXT:
            return isinstance(shape, ValueShape) and not shape.dimension
        if key in ("const", "enum"):
            return isinstance(shape, ValueShape)
        return key not in ("properties", "required") or isinstance(shape, ThingShape)

    def _spoken(self, shape: Shape) -> str:
        if isinstance(shape, ValueShape):
            return f"{shape.fact.name!r} ({shape.fact.measure.replace('_', ' ')})"
        return "a list" if isinstance(shape, ListShape) else f"a {shape.kind.name}"

    def _operand_clause(self, at: Scalar, body: Node, shape: Shape) -> Clause | None:
        key, place = at.text, _at(at)
        if key in _OVER_THINGS:
            return self._joined(at, body, shape)
        if key == "type":
            return self._type(at, body)
        if key == "uniqueItems":
            return Clause(key, self._flag(body), place)
        if key in _COUNTS:
            return Clause(key, self._count(body), place)
        if key == "pattern":
            return Clause(key, self._pattern(body), place)
        if isinstance(shape, ListShape):
            return Clause(key, self._item_operand(key, body, shape), place)
        if key == "enum":
            return Clause(key, tuple(self._literal(i, shape) for i in self._list(body)), place)
        return Clause(key, self._reference(body, shape), place)

    def _item_operand(self, key: str, body: Node, shape: ListShape) -> Schema | tuple[Schema, ...]:
        if key == "prefixItems":
            return tuple(self.schema(item, shape.item) for item in self._list(body))
        return self.schema(body, shape.item)

    def _type(self, at: Scalar, body: Node) -> Clause:
        items = [body] if isinstance(body, Scalar) else self._list(body)
        names = tuple(item.text for item in items if isinstance(item, Scalar))
        for item, name in zip(items, names, strict=False):
            if name not in TYPES:
                near = nearest_word(name, TYPES)
                self.refuse(item, f"{shown_text(name)} is no type.", "Write a JSON type.", near)
        return Clause("type", tuple(n for n in names if n in TYPES), _at(at))

    # --- operands ---

    def _list(self, body: Node) -> list[Node]:
        if isinstance(body, Sequence) and body.items:
            return body.items
        self.refuse(body, "Here must stand a list.", "Write '[…, …]'.")
        return []

    def _flag(self, body: Node) -> bool:
        if not isinstance(body, Scalar) or body.text not in ("true", "false"):
            self.refuse(body, "Here must stand true or false.", "Write true.")
            return True
        return body.text == "true"

    def _count(self, body: Node) -> int:
        if isinstance(body, Scalar) and re.fullmatch(r"\d{1,6}", body.text):
            return int(body.text)
        self.refuse(body, "Here must stand a whole number.", "Write a number such as 2.")
        return 0

    def _pattern(self, body: Node) -> EcmaPattern:
        try:
            return ecma_pattern(body.text if isinstance(body, Scalar) else "[")
        except ValueError as error:
            self.refuse(body, f"This is no pattern: {error}.", "Write a plain regular expression.")
            return ecma_pattern("")

    def _reference(self, body: Node, shape: Shape) -> Operand:
        if isinstance(body, Mapping) and len(body.items) == 1:
            key, target = next(iter(body.items.items()))
            if key == "limit" and isinstance(target, Scalar):
                return self._limit(target, shape)
            if key == "fact" and isinstance(target, Scalar):
                return self._fact(target, shape)
        return self._literal(body, shape)

    def _limit(self, target: Scalar, shape: Shape) -> Operand:
        dimension = self.limits.get(target.text)
        if dimension is None:
            near = nearest_word(target.text, self.limits)
            write = "Write the name of a limit of rules/limits/general.yaml."
            self.refuse(target, f"{shown_text(target.text)} is no limit.", write, near)
        elif isinstance(shape, ValueShape) and dimension != shape.dimension:
            self._dimensions_differ(target, f"limit {target.text}", dimension, shape)
        return LimitName(target.text)

    def _fact(self, target: Scalar, shape: Shape) -> Operand:
        path = tuple(target.text.split("."))
        found: Shape | None = ThingShape(self.root)
        for step in path:
            found = self._shape(target, step, found) if isinstance(found, ThingShape) else None
        if isinstance(found, ValueShape) and isinstance(shape, ValueShape):
            if found.dimension != shape.dimension:
                self._dimensions_differ(target, target.text, found.fact.measure, shape)
        elif found is not None:
            self.refuse(target, f"{target.text!r} is no single value.", "Write a fact.")
        return FactName(path)

    def _dimensions_differ(self, at: Node, what: str, dimension: str, shape: ValueShape) -> None:
        read = f"The {what} is {with_article(dimension)}, but {shape.fact.name} is {with_article(shape.fact.measure)}."
        self.refuse(at, read, "Compare like with like.")

    def _literal(self, body: Node, shape: Shape) -> Literal:
        if not isinstance(body, Scalar) or not isinstance(shape, ValueShape):
            self.refuse(body, "Here must stand one value.", "Write it as in a rig file.")
            return Literal(None)
        if body.text == NONE_WORD and shape.dimension and shape.fact.entry.may_be_none:
            return Literal(None)
        try:
            value = shape.fact.read(body.text)
        except NotRead as error:
            self.refuse(body, f"{shape.fact.name}: {error.wrong}", error.write)
            return Literal(None)
        return Literal(value[0] if isinstance(value, tuple) else value)

    def _none_is_settled(self, node: Node, schema: Schema, shape: Shape) -> None:
        if not (isinstance(shape, ValueShape) and shape.fact.entry.may_be_none):
            return
        keys = {clause.keyword for clause in schema.clauses}
        if keys & {*NUMBER_KEYWORDS, *_TEXT} and not keys & {"type", "const", "enum"}:
            read = f"{shape.fact.name!r} may be none, and a comparison would let none pass."
            self.refuse(node, read, "Put 'type: number' (or string) beside it.")
