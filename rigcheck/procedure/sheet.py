"""The sheet of a procedure for one rig: what is to be done, in order, with what is to be written down.

Pure: no clock, no disk; how it looks is made from it by the report modules.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from msgspec import Struct

from rigcheck.judge.causes import Alike, Cause, causes_of
from rigcheck.judge.inspection import Inspection, State, explain
from rigcheck.judge.judged import Judged, judge
from rigcheck.procedure.expansion import Expansion, Instance, expand
from rigcheck.procedure.step_words import Speaker
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.documents import Source, sources_under
from rigcheck.rules.overlay import Laid
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of
from rigcheck.rules.rule import GRAVITY, SIGNALS, Signal
from rigcheck.rules.steps import Procedure, StepValue
from rigcheck.text.faults import Fault

__all__ = ["Sheet", "SheetRow", "SheetValue", "Skipped", "hold_words", "holding", "make_sheet", "prepare", "sheet_of"]


class SheetValue(Struct, frozen=True):
    """A value to be written down; `required` is empty where it need meet nothing.

    `choices` are its words, if it is a choice; `measure` is its dimension.
    """

    name: str
    means: str
    ask: str
    measure: str
    choices: tuple[str, ...]
    required: str


class SheetRow(Struct, frozen=True):
    """One step to be done; `after` are the numbers of the steps right before it.

    `if_so` says which facts, not known, decide whether it applies; `thing` is empty for the rig.
    """

    number: int
    step: str
    thing: str
    do: str
    stand: str
    signal: Signal
    hazard: str
    put_right: str
    optional: bool
    if_so: tuple[str, ...]
    values: tuple[SheetValue, ...]
    sources: tuple[Source, ...]
    after: tuple[int, ...]


class Skipped(Struct, frozen=True):
    """A step that does not apply to this rig, and why."""

    step: str
    why: str


class Sheet(Struct, frozen=True):
    """The sheet of one procedure for one rig on one day.

    `held_by` names what puts the rig on hold, `held_counts` says how many findings of each signal word do.
    """

    procedure: str
    title: str
    means: str
    rig: str
    file: str
    day: int
    local_code: str
    code_stated: bool
    first: tuple[str, ...]
    cautions: tuple[str, ...]
    rows: tuple[SheetRow, ...]
    left_out: tuple[Skipped, ...]
    state: State
    held_by: tuple[str, ...]
    held_counts: tuple[tuple[Signal, int], ...]
    despite_hold: bool
    emergency: bool
    conceded: int
    pack: str
    laid: tuple[Laid, ...] = ()
    unread: tuple[Fault, ...] = ()


def prepare(judged: Judged, procedure: Procedure) -> tuple[Expansion, Speaker]:
    """Return a procedure expanded for a judged rig, and a speaker for its steps."""
    judged.known.work_all_out()  # steps may ask for facts that no rule reads
    rules, rig = judged.rules, judged.known.filled
    return expand(procedure, rig, rules.judge, rules.local_code), Speaker(rules.judge, rig.root)


def make_sheet(
    rig: Rig, procedure: Procedure, pack: Pack, *, day: int, local_code: str = "", hold_at: Signal = "warning"
) -> Sheet:
    """Return the sheet of a procedure for a rig on a day (a proleptic Gregorian day number)."""
    judged = judge(rig, pack, day=day, local_code=local_code)
    return sheet_of(judged, procedure, explain(judged), hold_at)


def sheet_of(judged: Judged, procedure: Procedure, inspection: Inspection, hold_at: Signal = "warning") -> Sheet:
    """Return the sheet of a procedure for a judged rig and what its inspection came to."""
    expansion, speaker = prepare(judged, procedure)
    rig, pack, day = judged.rig, judged.rules.pack, judged.day
    known = procedures_of(pack)
    return Sheet(
        procedure=procedure.name,
        title=procedure.title,
        means=procedure.means,
        rig=rig.title,
        file=rig.file,
        day=day,
        local_code=inspection.local_code,
        code_stated=inspection.code_stated,
        first=tuple(known[name].title for name in procedure.comes_after),
        cautions=procedure.cautions,
        rows=tuple(_row(one, expansion, speaker) for one in expansion.instances),
        left_out=tuple(Skipped(one.step.label, one.why) for one in expansion.left_out),
        state=inspection.state(hold_at),
        held_by=tuple(hold_words(cause.told) for cause in holding(inspection, hold_at)),
        held_counts=tuple(_counts(holding(inspection, hold_at))),
        despite_hold=procedure.despite_hold,
        emergency=procedure.emergency,
        conceded=sum(finding.conceded is not None for finding in inspection.findings),
        pack=pack.digest,
        laid=pack.laid,
        unread=rig.unread,
    )


def holding(inspection: Inspection, hold_at: Signal) -> tuple[Cause, ...]:
    """Return the causes of the findings that put a rig on hold, gravest first."""
    grave = (f for f in inspection.findings if GRAVITY[f.signal] >= GRAVITY[hold_at])
    return causes_of(f for f in grave if f.conceded is None)


def _counts(held: tuple[Cause, ...]) -> Iterator[tuple[Signal, int]]:
    counts = Counter(finding.signal for cause in held for finding in cause.findings)
    yield from ((signal, counts[signal]) for signal in SIGNALS if counts[signal])


def hold_words(told: Alike) -> str:
    """Return what puts a rig on hold, in words."""
    return f"{told.first.signal.upper()}, {told.called}: {told.first.told.rstrip('.')}"


def _row(instance: Instance, expansion: Expansion, speaker: Speaker) -> SheetRow:
    step, thing = instance.step, instance.thing
    return SheetRow(
        number=instance.number,
        step=step.name,
        thing=instance.called,
        do=speaker.do(instance),
        stand=step.stand,
        signal=step.signal,
        hazard=step.hazard,
        put_right=step.put_right,
        optional=step.optional,
        if_so=tuple(_fact_words(owner, fact) for owner, fact in instance.if_so),
        values=tuple(_value(value, thing, speaker) for value in step.values.values()),
        sources=sources_under(step.sources, expansion.local_code),
        after=tuple(sorted(_right_before(instance.number, expansion))),
    )


def _fact_words(owner: Thing, fact: str) -> str:
    spoken = fact.replace("_", " ")
    return f"{spoken} of the {owner.label}" if owner.parent else f"{spoken} of the rig"


def _value(value: StepValue, thing: Thing | None, speaker: Speaker) -> SheetValue:
    entry = value.fact.entry
    return SheetValue(
        name=value.name,
        means=entry.means,
        ask=entry.ask,
        measure=value.fact.measure,
        choices=tuple(value.fact.words),
        required=speaker.required(speaker.wanted(value), thing),
    )


def _right_before(number: int, expansion: Expansion) -> frozenset[int]:
    """Return the steps before one, without those that come before another of them."""
    before = expansion.before[number]
    return before - {far for near in before for far in expansion.before[near]}
