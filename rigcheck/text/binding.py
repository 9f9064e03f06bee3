"""A placed YAML tree bound to a pydantic model or a dataclass, with every fault at its place.

Used for the files that carry rules, limits, documents and vocabulary.
"""

from __future__ import annotations

from collections.abc import Sequence as Seq
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any, TypeVar, cast, get_args, get_type_hints

from pydantic import BaseModel, TypeAdapter, ValidationError

from rigcheck.text.faults import MOST_FAULTS, Fault, Refused, nearest_word, shown_text
from rigcheck.text.harmless import visible
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, Node, Scalar, Sequence

__all__ = ["bind", "node_at", "place_of", "plain_data"]

Model = TypeVar("Model")


@cache
def _adapter(model: Any) -> TypeAdapter[Any]:
    return TypeAdapter(model)


def plain_data(node: Node, kept: Seq[str] = ()) -> Any:
    """Return the node as dicts, lists and text; the values of top-level keys in `kept` stay nodes."""
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Sequence):
        return [plain_data(item) for item in node.items]
    return {key: value if key in kept else plain_data(value) for key, value in node.items.items()}


def place_of(node: Node, file: str) -> Place:
    """Return where a node stands."""
    return Place(file, node.line, node.column)


def bind(model: type[Model], node: Node, file: str, kept: Seq[str] = ()) -> Model:
    """Return `model` filled from the tree. Raises `Refused` with all faults."""
    if not isinstance(node, Mapping):
        read = "This is not a mapping."
        raise Refused([Fault(place_of(node, file), read, "Write 'key: value' lines.")])
    try:
        return cast(Model, _adapter(cast(Any, model)).validate_python(plain_data(node, kept)))
    except ValidationError as error:
        found = {tuple(_path(one)): one for one in reversed(error.errors())}  # of the ways of one value, the first
        raise Refused(_fault(model, node, file, one) for one in [*reversed(found.values())][:MOST_FAULTS]) from None


def node_at(node: Node, path: Seq[str | int]) -> Node:
    """Return the node at the longest part of `path` that was written."""
    for step in path:
        if isinstance(node, Mapping) and str(step) in node.items:
            node = node.items[str(step)]
        elif isinstance(node, Sequence) and isinstance(step, int) and step < len(node.items):
            node = node.items[step]
        else:
            break
    return node


_WAYS = ("[key]", "str", "dict[str,str]")
"""Steps of the library's paths that stand for a way to write a value, not for a key of the file."""


def _path(error: Any) -> list[str | int]:
    return [step for step in error["loc"] if step not in _WAYS]


def _fault(model: type[Any], root: Mapping, file: str, error: Any) -> Fault:
    path = _path(error)
    if error["type"] in ("extra_forbidden", "unexpected_keyword_argument"):
        return _unknown_key(model, root, file, path)
    where = node_at(root, path)
    if error["type"] == "missing":
        words = _words_of(model, path)
        told = f", one of: {', '.join(words)}" if words else ""
        return Fault(place_of(where, file), f"{path[-1]!r} is not written.", f"Add '{path[-1]}: …'{told}.")
    read, write = _in_words(error, where)
    return Fault(place_of(where, file), visible(f"{_spoken(path)}: {read}"), write)


def _in_words(error: Any, where: Node) -> tuple[str, str]:
    """Return what is wrong with a value and what to write, without the words of the library."""
    kind, said = error["type"], error.get("ctx", {})
    shown = shown_text(where.text) if isinstance(where, Scalar) else "this"
    if kind == "literal_error":
        known = said["expected"].replace("''", "nothing").replace("'", "")
        return f"{shown} is not one of its words.", f"Write one of: {known}."
    if kind == "string_too_short":
        return f"{shown} is too short.", f"Write at least {said['min_length']} characters."
    if kind == "too_short":
        return "the list is empty.", f"Write at least {said['min_length']}."
    if kind in _SHAPES:
        return f"{shown} is no {_SHAPES[kind]}.", f"Write a {_SHAPES[kind]}."
    wrong = error["msg"].removeprefix("Value error, ")
    return f"{wrong} (read: {shown}).", "Mend this value."


_SHAPES = {
    "string_type": "single value",
    "bool_parsing": "yes or no",
    "bool_type": "yes or no",
    "list_type": "list",
    "dict_type": "mapping",
    "model_type": "mapping",
    "model_attributes_type": "mapping",
    "dataclass_type": "mapping",
}


def _spoken(path: Seq[str | int]) -> str:
    return ".".join(map(str, path)) or "file"


def _unknown_key(model: type[Any], root: Mapping, file: str, path: list[str | int]) -> Fault:
    parent, key = node_at(root, path[:-1]), str(path[-1])
    known = [n for n in _fields_at(model, path[:-1]) if n]
    at = parent.keys[key] if isinstance(parent, Mapping) and key in parent.keys else parent
    write = f"Write one of: {', '.join(known)}."
    return Fault(place_of(at, file), f"{shown_text(key)} is no key here.", write, nearest_word(key, known))


def _fields_at(model: type[Any], path: Seq[str | int]) -> list[str]:
    found: Any = model
    for step in path:
        types = _types_of(found)
        if "root" in types:
            found = _model_in(types["root"])
        elif step in types:
            found = _model_in(types[str(step)])
    return list(_types_of(found))


def _words_of(model: Any, path: list[str | int]) -> tuple[str, ...]:
    """Return the words that a key at the top of a file may have, where it has a closed choice of them."""
    words = get_args(_types_of(model).get(str(path[0]))) if len(path) == 1 else ()
    return words if all(isinstance(word, str) for word in words) else ()


def _types_of(model: Any) -> dict[str, Any]:
    """Return the fields of a model or a dataclass with their types."""
    if is_dataclass(model):
        hints = get_type_hints(model)
        return {field.name: hints[field.name] for field in fields(model)}
    return {field.alias or name: field.annotation for name, field in getattr(model, "model_fields", {}).items()}


def _model_in(annotation: Any) -> Any:
    if is_dataclass(annotation) or (isinstance(annotation, type) and issubclass(annotation, BaseModel)):
        return annotation
    for argument in getattr(annotation, "__args__", ()):
        found = _model_in(argument)
        if found is not None:
            return found
    return None
