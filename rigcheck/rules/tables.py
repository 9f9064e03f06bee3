"""Published tables that figures read: nozzles by thickness, hoods by distance.

A later folder's table of the same name takes the place of an earlier one, and its tables come first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from rigcheck.physics.nozzle import read_tables
from rigcheck.physics.welding_air import read_hood_steps

__all__ = ["KNOWN_TABLES", "laid_tables", "rows_of"]

KNOWN_TABLES: Mapping[str, Callable[[Mapping[str, Any]], tuple[Any, ...]]] = {
    "hoods": read_hood_steps,
    "nozzles": read_tables,
}
"""How the rows of a file of tables are read, by the file's name."""


def rows_of(name: str, tables: Iterable[Mapping[str, Any]]) -> tuple[Any, ...]:
    """Return the rows of the tables called `name`, as figures read them.

    Raises ValueError naming the table where a column or a unit is not known.
    """
    return KNOWN_TABLES[name]({"tables": list(tables)})


def laid_tables(layers: Iterable[Iterable[Mapping[str, Any]]]) -> list[Mapping[str, Any]]:
    """Return the tables of files laid on each other, the last file foremost; a name stands once."""
    found: dict[str, Mapping[str, Any]] = {}
    for tables in layers:
        own = {table["name"]: table for table in tables}
        found = own | {name: table for name, table in found.items() if name not in own}
    return list(found.values())
