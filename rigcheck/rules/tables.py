"""Published tables that figures read: nozzles by thickness, hoods by distance.

A later folder's table of the same name takes the place of an earlier one, and its tables come first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

from rigcheck.figures.nozzle import read_tables
from rigcheck.figures.welding_air import read_hood_steps

__all__ = ["KNOWN_TABLES", "TableEntry", "TablesFile", "rows_of"]

_Row = dict[str, Any]


class _Entry(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class TableEntry(_Entry):
    """One table of one source; a column with a unit holds numbers, or pairs of least and greatest."""

    name: str = Field(min_length=1)
    drawn_from: str = Field(min_length=1)
    standing: Literal["published", "from memory"]
    process: str = ""
    gases: list[str] = []
    between_rows: bool = False
    units: dict[str, str]
    every_row: _Row = {}
    rows: list[_Row] = Field(min_length=1)

    @model_validator(mode="before")
    @classmethod
    def _numbers(cls, data: Any) -> Any:
        """Read the cells of columns that have a unit as numbers."""
        if not isinstance(data, dict) or not isinstance(data.get("units"), dict):
            return data
        rows = data.get("rows")
        return data | {
            "rows": [_numbered(row, data["units"]) for row in rows] if isinstance(rows, list) else rows,
            "every_row": _numbered(data.get("every_row", {}), data["units"]),
        }


class TablesFile(_Entry):
    """One file of tables."""

    tables: list[TableEntry] = Field(min_length=1)


KNOWN_TABLES: Mapping[str, Callable[[Mapping[str, Any]], tuple[Any, ...]]] = {
    "hoods": read_hood_steps,
    "nozzles": read_tables,
}
"""How the rows of a file of tables are read, by the file's name."""


def rows_of(name: str, layers: Iterable[TablesFile]) -> tuple[Any, ...]:
    """Return the rows of the tables called `name`, from files laid on each other, the last one foremost.

    Raises ValueError naming the table where a column or a unit is not known.
    """
    found: dict[str, TableEntry] = {}
    for file in layers:
        found = {table.name: table for table in file.tables} | {
            name: table for name, table in found.items() if name not in {one.name for one in file.tables}
        }
    return KNOWN_TABLES[name]({"tables": [table.model_dump() for table in found.values()]})


def _numbered(row: Any, units: Mapping[str, str]) -> Any:
    if not isinstance(row, dict):
        return row
    return {column: _number(column, cell) if column in units else cell for column, cell in row.items()}


def _number(column: str, cell: Any) -> Any:
    if isinstance(cell, list):
        return [_number(column, one) for one in cell]
    try:
        return float(cell)
    except (TypeError, ValueError):
        raise ValueError(f"{column} {cell!r} is no number") from None
