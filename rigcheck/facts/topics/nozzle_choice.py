"""Which nozzle and pressure the plate wants by published rows, and whether the stated ones suit it."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

from rigcheck.facts.figure import Figure, Used, Way
from rigcheck.facts.topics.gathering import as_stated, one_answer
from rigcheck.facts.topics.nozzle_tables import found_rows, rows_by_size, rows_by_thickness, span_of
from rigcheck.physics.intervals import Span
from rigcheck.physics.nozzle import NozzleRow, bore_suits, published_span

__all__ = ["FIGURES"]

_TABLES = "published nozzle tables, rules/tables/nozzles.yaml"
_SLACK = 1e-9  # relative; one thickness in two units is one thickness


def _inside(thinnest: Span, thickest: Span, thickness: Span) -> bool | None:
    """Return whether a thickness lies in the maker's range; None where the intervals overlap its ends."""
    thin, thick = thickness[0] * (1.0 + _SLACK), thickness[1] * (1.0 - _SLACK)
    if thin >= thinnest[1] and thick <= thickest[0]:
        return True
    return False if thickness[1] < thinnest[0] or thickness[0] > thickest[1] else None


def _asked(gathered: tuple[Used, ...]) -> tuple[list[NozzleRow], Span, str, str]:
    named = {used.name: used.value for used in gathered if used.name != "row"}
    thickness = named["thickness"]
    return found_rows(gathered), (thickness.lo, thickness.hi), named["gas"], named["process"]


def _bore_suits(bore: Span, gathered: tuple[Used, ...]) -> bool | None:
    rows, thickness, gas, process = _asked(gathered)
    return one_answer(
        bore_suits(rows=rows, bore=b, thickness=t, gas=gas, process=process) for b, t in product(bore, thickness)
    )


def _pressure_for(bore: Span, gathered: tuple[Used, ...]) -> Span | None:
    """Return the cutting oxygen pressures of the rows whose bore is the nozzle's, give or take 5 %."""
    rows = [row for row in found_rows(gathered) if row.bore is not None]
    same = [row for row in rows if row.bore and row.bore[0] * 0.95 <= bore[1] and bore[0] <= row.bore[1] * 1.05]
    return published_span(rows=same, column="cutting_oxygen_pressure")


def _by_rows(name: str, formula: str, work_out: Callable[..., object], inputs: dict[str, str]) -> Figure:
    way = Way(
        formula,
        _TABLES,
        work_out,
        inputs=inputs,
        gather=rows_by_thickness,
        validity="no published row for thickness, gas and process is unknown; the maker's own table comes first",
    )
    return Figure("nozzle", name, (way,))


FIGURES: tuple[Figure, ...] = (
    Figure(
        "nozzle",
        "bore",
        (
            as_stated("cutting_bore", asks=True, alone=True),
            Way(
                "d = what published rows give for this size",
                _TABLES,
                span_of("bore"),
                gather=rows_by_size,
                asks=False,
            ),
        ),
    ),
    Figure(
        "nozzle",
        "suits_plate",
        (
            Way(
                "t_from <= t <= t_to",
                "the maker's table as stated",
                _inside,
                inputs={
                    "thinnest": "thickness_from",
                    "thickest": "thickness_to",
                    "thickness": "rig.job.thickness",
                },
            ),
            Way(
                "d within what some published row gives for this thickness, give or take 5 %",
                _TABLES,
                _bore_suits,
                inputs={"bore": "bore"},
                gather=rows_by_thickness,
                validity="cutting; the same answer at every corner of the intervals, or else unknown",
                asks=False,
            ),
        ),
    ),
    _by_rows("table_bore", "d = what published rows give for this thickness", span_of("bore"), {}),
    _by_rows(
        "table_pressure",
        "p = what published rows give for this thickness and bore",
        _pressure_for,
        {"bore": "bore"},
    ),
)
"""The figures of this topic."""
