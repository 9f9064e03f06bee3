"""Which nozzle suits a thickness, gas and process, by published tables; and what flows through a marked size.

The tables are data: `rules/tables/nozzles.yaml`, read by the caller and made into rows by `read_tables`.
A thickness, gas or process with no published row is unknown (None): tables are never stretched.
The maker's own table comes before these.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from rigcheck.physics.intervals import Span
from rigcheck.quantity.units import find_unit

__all__ = [
    "COLUMNS",
    "NozzleRow",
    "bore_suits",
    "published_span",
    "read_tables",
    "rows_for_size",
    "rows_for_thickness",
]

COLUMNS = (
    "bore",
    "cutting_oxygen_flow",
    "cutting_oxygen_pressure",
    "fuel_flow",
    "fuel_pressure",
    "speed",
    "thickness",
)
"""What a table may give; each as (least, greatest)."""

_MORE_UNITS = {"in/min": 0.0254 / 60.0}  # m/s; exact by the inch
_SLACK = 1e-9  # relative; 6 mm written in two units is one thickness


class NozzleRow(Struct, frozen=True):
    """One row of one table, in SI units; spans are (least, greatest), None where the table is silent.

    `thickness`, `bore`: m; pressures: Pa, gauge; flows: m3/s, at the table's own base state; `speed`: m/s.
    `standing`: "published" (the table was read) or "from memory".
    """

    table: str
    drawn_from: str
    standing: str
    process: str
    gases: tuple[str, ...]
    size: str | None
    thickness: Span
    bore: Span | None = None
    cutting_oxygen_pressure: Span | None = None
    fuel_pressure: Span | None = None
    cutting_oxygen_flow: Span | None = None
    fuel_flow: Span | None = None
    speed: Span | None = None

    def __str__(self) -> str:
        """Return the row as it is named on a calculation sheet: its thickness, its size, its table and source."""
        thin, thick = (f"{end * 1e3:.4g}" for end in self.thickness)
        size = f", size {self.size}" if self.size else ""
        span = thin if thin == thick else f"{thin} to {thick}"
        return f"{span} mm{size}: {self.table}; {self.drawn_from} ({self.standing})"


def read_tables(document: Mapping[str, Any]) -> tuple[NozzleRow, ...]:
    """Return the rows of a document of nozzle tables, in the order written.

    `document`: as parsed from YAML, `tables` with `units` and `rows`; see the shipped file.
    Raises ValueError naming the table where a column or a unit is not known, or a span runs backwards.
    """
    return tuple(row for table in document["tables"] for row in _rows_of(table))


def _rows_of(table: Mapping[str, Any]) -> list[NozzleRow]:
    rows = [_row_of(table, {**table.get("every_row", {}), **row}) for row in table["rows"]]
    return _joined(rows) if table.get("between_rows") else rows


def _row_of(table: Mapping[str, Any], row: Mapping[str, Any]) -> NozzleRow:
    spans = {name: _span(table, name, row[name]) for name in row if name != "size"}
    return NozzleRow(
        table=table["name"],
        drawn_from=table["drawn_from"],
        standing=table["standing"],
        process=table["process"],
        gases=tuple(table["gases"]),
        size=row.get("size"),
        **spans,
    )


def _span(table: Mapping[str, Any], column: str, pair: Sequence[Any]) -> Span:
    spelling = table["units"].get(column)
    factor = _factor(spelling)
    if column not in COLUMNS or factor is None:
        raise ValueError(f"{table['name']}: column {column} in unit {spelling} is not known")
    low, high = (float(number) * factor for number in pair)
    if low > high:
        raise ValueError(f"{table['name']}: {column} {pair} runs backwards")
    return low, high


def _factor(spelling: str | None) -> float | None:
    unit = find_unit(spelling) if spelling else None
    return float(unit.factor) if unit else _MORE_UNITS.get(spelling or "")


def _joined(rows: list[NozzleRow]) -> list[NozzleRow]:
    """Fill the gaps of a table of single thicknesses: between two, the values of both rows count."""
    between = [_both(thin, thick) for thin, thick in pairwise(rows)]
    return [row for step in zip(rows, [*between, None], strict=True) for row in step if row is not None]


def _both(thin: NozzleRow, thick: NozzleRow) -> NozzleRow:
    merged: dict[str, Any] = {
        name: _hull(getattr(thin, name), getattr(thick, name)) for name in COLUMNS if name != "thickness"
    }
    size = thin.size if thin.size == thick.size else None
    # Just short of both ends, so that a thickness which the table does give is answered by its own row alone.
    inside = thin.thickness[1] * (1.0 + 3.0 * _SLACK), thick.thickness[0] * (1.0 - 3.0 * _SLACK)
    return replace(thin, size=size, thickness=inside, **merged)


def _hull(one: Span | None, other: Span | None) -> Span | None:
    return (min(one[0], other[0]), max(one[1], other[1])) if one and other else None


def rows_for_thickness(
    *, rows: Iterable[NozzleRow], thickness: float, gas: str, process: str
) -> tuple[NozzleRow, ...] | None:
    """Return every row that is for a thickness, gas and process; None where no table has one.

    `thickness`: m; `gas`, `process`: as the tables spell them.
    At a thickness where two rows of a table meet, both are returned: the table allows either.

    >>> row = NozzleRow("t", "a text", "published", "cutting", ("acetylene",), None, (0.003, 0.006), (0.0008, 0.0008))
    >>> rows_for_thickness(rows=[row], thickness=0.005, gas="acetylene", process="cutting") == (row,)
    True
    >>> rows_for_thickness(rows=[row], thickness=0.005, gas="propane", process="cutting") is None
    True
    """
    found = tuple(row for row in rows if _is_for(row, gas, process) and _inside(thickness, row.thickness))
    return found or None


def rows_for_size(*, rows: Iterable[NozzleRow], size: str, gas: str, process: str) -> tuple[NozzleRow, ...] | None:
    """Return every row of a marked size, gas and process; None where no table has one.

    A size is a maker's or a country's own mark: the same number on another make can be another nozzle.
    """
    found = tuple(row for row in rows if row.size == size and _is_for(row, gas, process))
    return found or None


def published_span(*, rows: Iterable[NozzleRow], column: str) -> Span | None:
    """Return the least and greatest value that any row gives for a column of `COLUMNS`; None where none does."""
    spans = [span for row in rows if (span := getattr(row, column)) is not None]
    return (min(low for low, _ in spans), max(high for _, high in spans)) if spans else None


def bore_suits(*, rows: Iterable[NozzleRow], bore: float, thickness: float, gas: str, process: str) -> bool | None:
    """Return whether some table gives a bore for a thickness; None where no table has a row with a bore for it.

    `bore`, `thickness`: m.
    A bore counts as the table's if it lies within the row's span, give or take 5 % for wear and rounding.
    """
    found = rows_for_thickness(rows=rows, thickness=thickness, gas=gas, process=process) or ()
    return _any_inside(bore, [row.bore for row in found], 0.05)


def _any_inside(value: float, spans: Iterable[Span | None], margin: float) -> bool | None:
    known = [span for span in spans if span is not None]
    return any(_inside(value, span, margin) for span in known) if known else None


def _is_for(row: NozzleRow, gas: str, process: str) -> bool:
    return gas in row.gases and row.process == process


def _inside(value: float, span: Span, margin: float = _SLACK) -> bool:
    return span[0] * (1.0 - margin) <= value <= span[1] * (1.0 + margin)
