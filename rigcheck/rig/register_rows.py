"""A register written: as a table of comma-separated values, or, from such a table, as a register's file."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping

import yaml

from rigcheck.rig.register_reader import RegisterReader, plain
from rigcheck.text.table_cell import guarded
from rigcheck.text.yamlfile import Mapping as MappingNode
from rigcheck.text.yamlfile import Node, Scalar

__all__ = ["register_text", "table_rows"]

_OWN = ("tag", "kind", "as")


def register_text(name: str, things: Mapping[str, Node]) -> str:
    """Return a register's file that has things by their tag."""
    whole = {"register": name, "things": {tag: plain(node) for tag, node in things.items()}}
    return str(yaml.safe_dump(whole, allow_unicode=True, sort_keys=False, width=1_000, default_flow_style=None))


def table_rows(reader: RegisterReader) -> Iterator[str]:
    """Yield a register as a table: what each thing says itself, with the kind of the register that it is of.

    `reader` has taken in all files of the register, and found no fault.
    """
    things = [_cells(reader, tag, node) for tag, (node, _) in reader.things.items()]
    columns = list(dict.fromkeys([*_OWN, *(name for cells in things for name in cells)]))
    yield _row(columns)
    for cells in things:
        yield _row(cells.get(name, "") for name in columns)


def _row(cells: Iterable[str]) -> str:
    out = io.StringIO()
    csv.writer(out).writerow([guarded(cell) for cell in cells])
    return out.getvalue()


def _cells(reader: RegisterReader, tag: str, node: Node) -> dict[str, str]:
    layers = reader.layers(node, ())
    assert layers is not None  # it was read before
    kind, bodies = layers
    cells = {"tag": tag, "kind": kind.name}
    return cells | dict(_flat(bodies[0], "")) if bodies else cells


def _flat(node: Node, path: str) -> Iterator[tuple[str, str]]:
    if isinstance(node, Scalar):
        yield path, node.text
    elif isinstance(node, MappingNode):
        if path and not node.items:
            yield path, "unknown"  # it is there, and nothing is known of it
        for key, inner in node.items.items():
            yield from _flat(inner, f"{path}.{key}" if path else key)
    elif all(isinstance(one, Scalar) for one in node.items):
        yield path, ", ".join(one.text for one in node.items if isinstance(one, Scalar))
    else:
        for number, inner in enumerate(node.items):
            yield from _flat(inner, f"{path}[{number}]")
