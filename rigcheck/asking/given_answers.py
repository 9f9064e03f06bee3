"""What a look says of each fact, oldest first: an answer and the corrections below it."""

from __future__ import annotations

from collections.abc import Mapping

from rigcheck.asking.look_statements import look_statements
from rigcheck.rig.look_file import LookFile
from rigcheck.rig.thing import Rig
from rigcheck.text.yamlfile import Mapping as MappingNode
from rigcheck.text.yamlfile import Node, Scalar, Sequence

__all__ = ["given_answers"]

_Value = str | tuple[str, ...]


def given_answers(look: LookFile, rig: Rig) -> Mapping[tuple[str, str], list[_Value]]:
    """Return what a look says of each fact of a thing, as it is written, by path of the thing and fact."""
    found: dict[tuple[str, str], list[_Value]] = {}
    for thing, name, node in look_statements(look, rig):
        if (value := _value(node)) is not None:
            found.setdefault((thing.path, name), []).append(value)
    return found


def _value(node: Node) -> _Value | None:
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Sequence):
        return tuple(one.text for one in node.items if isinstance(one, Scalar))
    assert isinstance(node, MappingNode)
    return None
