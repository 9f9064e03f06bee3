"""What the commissioning file of one rig holds: its inspection, its figures, its sheets, its due days, the limits used.

Pure: no clock, no disk.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct

from rigcheck.judge.inspection import Inspection, explain
from rigcheck.judge.judged import Judged, judge
from rigcheck.procedure.sheet import Sheet, sheet_of
from rigcheck.rig.thing import Rig
from rigcheck.rules.limits import DatedLimit
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of
from rigcheck.rules.rule import Signal
from rigcheck.tasks.calculation_sheet import Calculation, calculation_of
from rigcheck.tasks.due_dates import DueList, due_list_of

__all__ = ["Origin", "RigFile", "UsedLimit", "compile_file"]

_SHEETS = ("start-up", "leak-test", "shut-down")
"""The procedures whose sheets belong to every rig that is handed over."""


class Origin(Struct, frozen=True):
    """A file that was read: what it is, its name, and the SHA-256 digest of its bytes in hexadecimal."""

    what: str
    name: str
    digest: str


class UsedLimit(Struct, frozen=True):
    """A limit that counted for this rig: what it is, and how many rules and figures took it."""

    limit: DatedLimit
    means: str
    rules: int
    figures: int


class RigFile(Struct, frozen=True):
    """All that is handed over about one rig; findings with `hold_at` or a graver word put it on hold."""

    rig: Rig
    inspection: Inspection
    calculation: Calculation
    sheets: tuple[Sheet, ...]
    dues: DueList
    limits: tuple[UsedLimit, ...]
    origins: tuple[Origin, ...]
    hold_at: Signal


def compile_file(
    rig: Rig,
    pack: Pack,
    *,
    day: int,
    local_code: str = "",
    hold_at: Signal = "warning",
    origins: Iterable[Origin] = (),
) -> RigFile:
    """Return the file of a rig on a day (a proleptic Gregorian day number).

    `local_code` overrides the rig's own; `origins` are the files that the rig was read from.
    Raises `Refused` where a procedure of the pack cannot be read.
    """
    judged = judge(rig, pack, day=day, local_code=local_code)
    inspection, known = explain(judged), procedures_of(pack)
    sheets = tuple(sheet_of(judged, known[name], inspection, hold_at) for name in _SHEETS if name in known)
    calculation = calculation_of(judged)
    limits = tuple(_used(list(_limits_of_rules(judged)), calculation, pack))
    dues = due_list_of(judged)
    return RigFile(judged.known.filled, inspection, calculation, sheets, dues, limits, tuple(origins), hold_at)


def _limits_of_rules(judged: Judged) -> Iterator[str]:
    """Yield the limits of each rule that concerns something of the rig, or may."""
    concerned = {rule.name: rule for _, rule, verdict, _ in judged.judgements() if verdict != "not concerned"}
    for name in sorted(concerned):
        yield from concerned[name].limits


def _limits_of_figures(calculation: Calculation) -> Iterator[str]:
    for figure in calculation.figures:
        if figure.working is not None:
            yield from {one.limit.name for one in figure.working.inputs if one.limit is not None}


def _used(by_rules: list[str], calculation: Calculation, pack: Pack) -> Iterator[UsedLimit]:
    by_figures = list(_limits_of_figures(calculation))
    for name in sorted({*by_rules, *by_figures}):
        limit, definition = calculation.limits.get(name), pack.definitions.get(name)
        if limit is not None:
            means = definition.means if definition else ""
            yield UsedLimit(limit, means, by_rules.count(name), by_figures.count(name))
