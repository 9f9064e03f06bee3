"""What the record of a procedure states of the rig that it was done with: sights, as those of a look.

Values say it in `answers`, steps that were done in `tells`. Of several tries of one step the last counts.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigcheck.judge.judged import judge
from rigcheck.procedure.record_reader import Done, Record, read_steps
from rigcheck.procedure.sheet import prepare
from rigcheck.quantity.notation import read_day
from rigcheck.quantity.wording import shown_day
from rigcheck.rig.fact import Value
from rigcheck.rig.thing import Rig, Statement, Thing
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of
from rigcheck.rules.steps import AS_RECORDED
from rigcheck.text.faults import Fault, Refused
from rigcheck.text.place import Place

__all__ = ["lay_records"]


def lay_records(records: Iterable[Record], rig: Rig, pack: Pack) -> tuple[Fault, ...]:
    """Lay what records of a rig state into its things; return what is wrong with those that are left out."""
    stated: list[tuple[Record, Done]] = []
    faults: list[Fault] = []
    for record in records:
        try:
            stated += [(record, done) for done in _steps(record, rig, pack)]
        except Refused as refused:
            faults += refused.faults
    for record, done in sorted(stated, key=lambda one: (one[0].day, one[0].file)):
        thing = done.instance.thing
        of = rig.root if thing is None else thing.origin or thing
        for name, value, place in _statements(record, done):
            _lay(of, name, Statement(value, "seen", record.day, record.by, place))
    return tuple(faults)


def _steps(record: Record, rig: Rig, pack: Pack) -> tuple[Done, ...]:
    procedure = procedures_of(pack).get(record.procedure)
    if procedure is None:  # judging the record says so
        return ()
    expansion, _ = prepare(judge(rig, pack, day=record.day), procedure)
    return read_steps(record, expansion)


def _statements(record: Record, done: Done) -> Iterator[tuple[str, Value, Place]]:
    step = done.instance.step
    for name, value in step.tells.items():
        yield name, read_day(shown_day(record.day)) if value is AS_RECORDED else value, done.place
    for key, value in done.values.items():
        for name, by_word in step.values[key].answers.items():
            if not by_word:
                yield name, value, done.places[key]
            elif isinstance(value, str) and value in by_word:
                yield name, by_word[value], done.places[key]


def _lay(thing: Thing, name: str, statement: Statement) -> None:
    kept = thing.said.setdefault(name, [])
    kept[:] = [one for one in kept if one.place.file != statement.place.file]
    kept.append(statement)
