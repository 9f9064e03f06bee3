"""Which act of looking answers a fact, by its title alone: reports group their questions by it.

Whoever asks reads the looks whole (`looks.py`), which takes what checks YAML; a report only needs their titles.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Refused
from rigcheck.text.yamlfile import Mapping as MappingNode
from rigcheck.text.yamlfile import Node, Scalar, Sequence, read_yaml

__all__ = ["look_title"]

_Titles = Mapping[str, Mapping[str, str]]
_GROUPS = ("each", "at_once", "alike")


def look_title(pack: Pack, lineage: tuple[str, ...], fact: str) -> str:
    """Return the title of the look that answers a fact of a kind; empty where none does."""
    kept: _Titles | None = pack.kept.get("look titles")
    if kept is None:
        kept = pack.kept["look titles"] = _titles(pack)
    return next((kept[kind][fact] for kind in lineage if fact in kept.get(kind, ())), "")


def _titles(pack: Pack) -> _Titles:
    found: dict[str, dict[str, str]] = {}
    for path, data in pack.look_files:
        try:
            root = read_yaml(data, path)
        except Refused:  # whoever asks is told; a report does without it
            continue
        title, kind = (_text(root, "look"), _text(root, "looks_at"))
        if title and kind:
            found.setdefault(kind, {}).update(dict.fromkeys(_facts(root), title))
    return found


def _text(root: Node, key: str) -> str:
    node = root.items.get(key) if isinstance(root, MappingNode) else None
    return node.text if isinstance(node, Scalar) else ""


def _facts(root: Node) -> Iterator[str]:
    """Yield the facts that a look names, wherever in it they stand."""
    assert isinstance(root, MappingNode)
    for group in _GROUPS:
        yield from _words(root.items.get(group))
    lists = root.items.get("lesser")
    for one in lists.items if isinstance(lists, Sequence) else ():
        fine = one.items.get("fine") if isinstance(one, MappingNode) else None
        yield from fine.items if isinstance(fine, MappingNode) else ()


def _words(node: Node | None) -> Iterator[str]:
    if isinstance(node, Scalar):
        yield node.text
    elif isinstance(node, Sequence):
        for one in node.items:
            yield from _words(one)
