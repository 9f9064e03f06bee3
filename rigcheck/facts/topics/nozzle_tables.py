"""Rows of published nozzle tables that speak of a nozzle and its plate."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from typing import Any

from rigcheck.facts.figure import Look, Used, Wants
from rigcheck.physics.intervals import Span
from rigcheck.physics.nozzle import NozzleRow, published_span, rows_for_size, rows_for_thickness
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["TABLE", "found_rows", "fuel_line", "rows_by_size", "rows_by_thickness", "span_of"]

TABLE = "nozzles"
"""The file of tables that is read."""


def fuel_line(nozzle: Thing, look: Look) -> Thing | None:
    """Return the line that feeds fuel to a nozzle's torch."""
    torch = nozzle.parent
    lines: Iterable[Thing] = torch.facts.get("lines", ()) if torch is not None else ()
    return next((line for line in lines if look.fact(line, "fuel") is True), None)


def rows_by_size(nozzle: Thing, look: Look) -> Any:
    """Gather the published rows of a nozzle's marked size for its gas and process."""
    known = _known(nozzle, look, (nozzle, "size"))
    if known is None or isinstance(known, Wants):
        return known
    gas, process, size = known
    rows = rows_for_size(rows=look.table(TABLE), size=size.value, gas=gas.value, process=process.value)
    return (*known, *_used(rows)) if rows else None


def rows_by_thickness(nozzle: Thing, look: Look) -> Any:
    """Gather the published rows for the metal's thickness, gas and process, at both ends of its interval."""
    job = nozzle.facts["rig"].facts.get("job")
    if not isinstance(job, Thing):  # 'job: none' was written
        return None
    known = _known(nozzle, look, (job, "thickness"))
    if known is None or isinstance(known, Wants):
        return known
    gas, process, thickness = known
    rows = _rows_between(look.table(TABLE), thickness.value.lo, thickness.value.hi, gas.value, process.value)
    return (*known, *_used(rows)) if rows else None


@lru_cache(maxsize=256)
def _rows_between(
    table: tuple[NozzleRow, ...], thin: float, thick: float, gas: str, process: str
) -> tuple[NozzleRow, ...]:
    """Return every row for a thickness (m) from `thin` to `thick`; none where an end has no row."""
    ends = [rows_for_thickness(rows=table, thickness=end, gas=gas, process=process) for end in (thin, thick)]
    if None in ends:
        return ()
    inside = [row for row in table if gas in row.gases and row.process == process and _meets(row, thin, thick)]
    return tuple(dict.fromkeys([row for rows in ends for row in rows or ()] + inside))


def _meets(row: NozzleRow, thin: float, thick: float) -> bool:
    return row.thickness[0] <= thick and thin <= row.thickness[1]


def found_rows(gathered: Iterable[Used]) -> list[NozzleRow]:
    """Return the rows among gathered inputs."""
    return [used.value for used in gathered if used.name == "row"]


def span_of(column: str) -> Callable[..., Span | None]:
    """Return what works out the least and greatest value of a column of the gathered rows."""
    return lambda gathered: published_span(rows=found_rows(gathered), column=column)


def _used(rows: Iterable[NozzleRow]) -> tuple[Used, ...]:
    return tuple(Used("row", None, row.table, row) for row in rows)


def _known(nozzle: Thing, look: Look, third: tuple[Thing, str]) -> tuple[Used, Used, Used] | Wants | None:
    """Return gas, process and one more fact; None without a fuel line."""
    line = fuel_line(nozzle, look)
    job = nozzle.facts["rig"].facts.get("job")
    if line is None or not isinstance(job, Thing):
        return None
    asked = ((line, "gas"), (job, "process"), third)
    values = [look.fact(owner, fact) for owner, fact in asked]
    wanted = [one for one, value in zip(asked, values, strict=True) if value is MISSING]
    if wanted:
        return Wants(wanted)
    gas, process, last = (Used(fact, owner, fact, value) for (owner, fact), value in zip(asked, values, strict=True))
    return gas, process, last
