"""The second page of a commissioning file: the parts with tag and due day, and the pressures at the regulators."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from rigcheck.condition.wording import value_words
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.wording import shown_day
from rigcheck.report.drawing.drawing_words import name_of
from rigcheck.report.drawing.pins import Pinned, pin_findings
from rigcheck.rig.flow_order import in_flow
from rigcheck.rig.thing import Rig, Thing
from rigcheck.tasks.commissioning_file import RigFile
from rigcheck.tasks.due_dates import Due, DueList, called

__all__ = ["PartRow", "Setting", "part_rows", "settings"]


class PartRow(Struct, frozen=True):
    """A part: its name, its tag (empty: to be written in by hand), when it falls due and for what, its findings."""

    name: str
    tag: str
    due: str
    overdue: bool
    findings: tuple[int, ...]


class Setting(Struct, frozen=True):
    """The pressures at one part that sets the pressure behind it, in words; empty where they are not known."""

    regulator: str
    stated: str
    needed: str
    arrives: str
    wanted: str


def part_rows(file: RigFile) -> list[PartRow]:
    """Return a row for each part in the order of the flow, and for what else the vocabulary says is listed."""
    pinned = pin_findings(file.rig, file.inspection)
    return [_row(thing, file.dues, pinned, file.inspection.day) for thing in _parts(file.rig)]


def _parts(rig: Rig) -> Iterator[Thing]:
    for thing in in_flow(rig):
        if "part" in thing.kind.lineage or thing.kind.listed:
            yield thing


def _row(thing: Thing, dues: DueList, pinned: Pinned, day: int) -> PartRow:
    own = [one for one in dues.dues if one.thing == called(thing) and not one.daily]
    first = min(own, key=lambda due: due.first, default=None)
    undated = [one.fact for one in dues.undated if one.thing == called(thing)]
    due = _due_words(first, undated)
    overdue = first is not None and first.first < day
    numbers = tuple(pin.number for pin in pinned.of(thing))
    return PartRow(name_of(thing), thing.tag, due, overdue, numbers)


def _due_words(due: Due | None, undated: Sequence[str]) -> str:
    told = [f"{shown_day(due.first)} ({due.fact})"] if due else []
    told += [f"day not stated: {', '.join(undated)}"] if undated else []
    return "; ".join(told)


def settings(rig: Rig) -> Iterator[Setting]:
    """Yield the pressures wherever a part sets them, of a rig whose figures were worked out."""
    for line in rig.of_kind("line"):
        parts: tuple[Thing, ...] = line.facts.get("parts", ())
        for part in parts:
            if part.kind.sets_pressure:
                arrives, wanted = (_told(line, name) for name in ("torch_pressure", "nozzle_pressure"))
                last = part is line.facts.get("regulator")
                yield Setting(
                    part.label,
                    _told(part, part.kind.sets_pressure),
                    _told(part, "outlet_needed"),
                    arrives if last else "",
                    wanted if last else "",
                )


def _told(thing: Thing, fact: str) -> str:
    value = thing.facts.get(fact)
    return value_words(value) if isinstance(value, Interval) else ""
