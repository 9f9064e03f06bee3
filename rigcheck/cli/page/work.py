"""One procedure that is done in one browser: its record on the disk, and the clocks that run."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from rigcheck.asking.answers import checked
from rigcheck.cli.page.answer_form import Form
from rigcheck.cli.page.round import Round
from rigcheck.cli.record_on_disk import RecordOnDisk
from rigcheck.procedure.expansion import Instance
from rigcheck.quantity.notation import NotRead
from rigcheck.report.html.asked_page import CANNOT_TELL
from rigcheck.report.html.work_page import clock_mark
from rigcheck.rig.fact import Fact, Value
from rigcheck.rules.steps import Procedure

__all__ = ["Work", "values_of"]


class Work:
    """A procedure as somebody does it; what was recorded is in the file alone."""

    def __init__(self, round_: Round, procedure: Procedure, by: str) -> None:
        """Find a record to go on with, and read what there is. Raises `Refused`, OSError."""
        self.procedure = procedure
        self.going = RecordOnDisk(
            round_.rig,
            procedure,
            round_.pack,
            round_.day,
            by,
            local_code=round_.local_code,
            register=round_.register,
        )
        self._clocks: dict[tuple[int, str], datetime] = {}

    @property
    def path(self) -> str:
        """Where its page is."""
        return f"/work/{self.procedure.name}"

    @property
    def count(self) -> int:
        """How many steps were recorded."""
        return len(self.going.progress.done)

    def read(self) -> None:
        """Read all again: somebody may have found something, or have written in the record. Raises `Refused`."""
        self.going.read_all()

    def numbered(self, text: str) -> Instance | None:
        """Return the step that has a number; None where none has."""
        known = {str(one.number): one for one in self.going.progress.expansion.instances}
        return known.get(text)

    def was_just(self, one: Instance, count: str, values: Mapping[str, str]) -> bool:
        """Whether the step that is sent is the last one that was recorded, with the same values: it was sent twice."""
        done = self.going.progress.done
        if count != str(self.count - 1) or not done or done[-1].instance.number != one.number:
            return False
        known = one.step.values
        return done[-1].values == {name: _read(known[name].fact, text) for name, text in values.items()}

    def take(self, one: Instance, at: datetime, values: Mapping[str, str]) -> None:
        """Write a step. Raises `ProblemFound`, `Refused`: then nothing is written."""
        self.going.take(one, at, values)
        for name in one.step.values:
            self._clocks.pop((one.number, name), None)

    def clocked(self, one: Instance, name: str, now: datetime, form: Form) -> Form | None:
        """Start the clock of a value, or read it off into what is typed; return what is typed then.

        None where it was started or read elsewhere since the form was shown: then it stays as it is.
        """
        key = one.number, name
        if name not in one.step.values:
            return form
        if form.get(f"{name}-since", [""])[0] != clock_mark(self._clocks.get(key)):
            return None
        began = self._clocks.pop(key, None)
        if began is None:
            self._clocks[key] = now
            return form
        seconds = int((now - began).total_seconds())  # a part of a second was not held for sure
        return {**form, name: [f"{seconds} s"]}

    def clocks_of(self, one: Instance) -> Mapping[str, datetime]:
        """Return when the clocks that run for a step were started, by value."""
        return {name: began for (number, name), began in self._clocks.items() if number == one.number}


def _read(fact: Fact, text: str) -> Value:
    return fact.words_in(text) if fact.measure == "several_words" else fact.read(text)


def values_of(one: Instance, form: Form) -> tuple[Mapping[str, str], Mapping[str, str]]:
    """Return what was read off at a step, as it is recorded, and what is wrong by the name of the value.

    What nobody could tell is left out.
    """
    values: dict[str, str] = {}
    wrong: dict[str, str] = {}
    for name, value in one.step.values.items():
        sent = [text.strip() for text in form.get(name, []) if text.strip()]
        if CANNOT_TELL in sent and len(sent) > 1:
            wrong[name] = "Both a value and “I cannot tell” are marked. Take one away."
        elif CANNOT_TELL in sent:
            continue
        elif not sent:
            wrong[name] = "Answer this, or mark that you cannot tell."
        else:
            try:
                found = checked(value.fact, ", ".join(sent))
                values[name] = found if isinstance(found, str) else ", ".join(found)
            except NotRead as error:
                wrong[name] = f"{error.wrong} {error.write}"
    return values, wrong
