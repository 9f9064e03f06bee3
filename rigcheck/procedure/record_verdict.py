"""A record judged against the procedure of its rig: order, steps left out or done twice, values, times, the hold.

Pure: no clock, no disk.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from rigcheck.judge.causes import Cause
from rigcheck.judge.inspection import Finding, Found, Held, Inspection, explain
from rigcheck.judge.judged import judge
from rigcheck.procedure.record_clock import judge_clock
from rigcheck.procedure.record_findings import Telling
from rigcheck.procedure.record_order import judge_order, judge_presence, judge_repeats
from rigcheck.procedure.record_reader import Done, Record, read_steps
from rigcheck.procedure.record_values import judge_values
from rigcheck.procedure.sheet import hold_words, holding, prepare
from rigcheck.rig.thing import Rig
from rigcheck.rules.documents import COMMON_PRACTICE, find_source
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of
from rigcheck.rules.rule import GRAVITY, Signal
from rigcheck.rules.steps import Procedure
from rigcheck.text.faults import Fault, Refused, nearest_word, shown_text

__all__ = ["judge_record"]


def judge_record(
    record: Record,
    rig: Rig,
    pack: Pack,
    *,
    local_code: str = "",
    hold_at: Signal = "warning",
    tell_holds: bool = False,
) -> Inspection:
    """Return what its procedure says of a record, for the record's own day. Raises `Refused`.

    `hold_at`: the signal word from which on a finding of the rig itself forbids a procedure to be begun.
    `tell_holds`: also name every recorded step that nothing was found or asked about.
    """
    procedure = _procedure(record, pack)
    judged = judge(rig, pack, day=record.day, local_code=local_code)
    inspection = explain(judged)
    expansion, speaker = prepare(judged, procedure)
    steps = read_steps(record, expansion)
    telling = Telling(record, expansion, speaker, judged.rules)
    _judge_hold(telling, inspection, hold_at)
    _ask_before(telling, inspection)
    _judge_steps(telling, steps)
    return replace(
        inspection,
        file=record.file,
        record=procedure.title,
        findings=tuple(sorted(telling.findings, key=lambda f: (-GRAVITY[f.signal], f.place, f.rule))),
        questions=tuple(telling.questions),
        verdicts=telling.counts,
        held=tuple(_held(telling, steps)) if tell_holds else (),
    )


def _procedure(record: Record, pack: Pack) -> Procedure:
    known = procedures_of(pack)
    found = known.get(record.procedure)
    if found is None:
        read, near = f"{shown_text(record.procedure)} is no procedure.", nearest_word(record.procedure, known)
        raise Refused([Fault(record.procedure_place, read, f"Write one of: {', '.join(known)}.", near)])
    return found


def _judge_steps(telling: Telling, steps: Sequence[Done]) -> None:
    tries: dict[int, list[int]] = {}
    for entry, done in enumerate(steps):
        tries.setdefault(done.instance.number, []).append(entry)
    judge_order(telling, steps, tries)
    judge_presence(telling, tries)
    judge_repeats(telling, steps, tries)
    judge_values(telling, steps, tries)
    judge_clock(telling, steps)
    telling.counts["not concerned"] += len(telling.expansion.left_out)


def _held(telling: Telling, steps: Sequence[Done]) -> Iterator[Held]:
    """Yield each step that was recorded, once for its thing, where its rule has no finding and no question."""
    open_rules = {one.rule for one in telling.findings}
    open_rules |= {waiting.rule for question in telling.questions for waiting in question.waiting}
    first = {done.instance.number: done for done in reversed(steps)}
    for done in sorted(first.values(), key=lambda one: one.place):
        rule = telling.rule(done.instance.step)
        if rule not in open_rules:
            yield Held(rule, telling.speaker.do(done.instance), telling.whose(done.instance), done.place)


def _judge_hold(telling: Telling, inspection: Inspection, hold_at: Signal) -> None:
    """Find a procedure that was done while the inspection of the rig itself had it on hold."""
    held = holding(inspection, hold_at)
    if telling.expansion.procedure.despite_hold or not held:
        telling.held()
        return
    telling.tell(_on_hold(telling, held))


def _ask_before(telling: Telling, inspection: Inspection) -> None:
    """Ask of the rig what was to be done before; what was not done has the rig on hold."""
    rules = telling.expansion.procedure.shown_before
    for question in inspection.questions:
        waiting = tuple(one for one in question.waiting if one.rule in rules)
        if waiting:
            telling.ask_too(replace(question, waiting=waiting))


def _on_hold(telling: Telling, held: Sequence[Cause]) -> Finding:
    procedure = telling.expansion.procedure
    return Finding(
        rule=f"procedures/{procedure.name}",
        signal=held[0].told.first.signal,  # the gravest comes first
        claim=f"The inspection of the rig has nothing against it when this begins: {procedure.title}.",
        thing="rig",
        place=telling.record.rig_place,
        found=tuple(Found("rig", "on hold", hold_words(one.told), one.told.first.place) for one in held),
        required="no finding of the rig's own inspection on that day at or above the hold level",
        harm="Gas is let into a rig with a defect that can kill or injure.",
        put_right="Put right what the inspection found, and inspect the rig again.",
        sources=(find_source(COMMON_PRACTICE, {}),),
        limits=(),
        rule_place=procedure.place,
    )
