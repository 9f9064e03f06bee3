"""A procedure done by the hand, with a terminal beside it: one step at a time, the emergency always one key away."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime

from rigcheck.asking.answers import checked
from rigcheck.cli.ask_terminal import Keyboard, Stopped
from rigcheck.cli.console import Console
from rigcheck.cli.record_on_disk import RecordOnDisk
from rigcheck.judge.inspection import explain
from rigcheck.procedure.expansion import Instance
from rigcheck.procedure.progress import entry_values, timed_for
from rigcheck.procedure.sheet import holding, sheet_of
from rigcheck.quantity.notation import NotRead
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.report.text.page_text import choices_of
from rigcheck.report.text.step_text import (
    begin_lines,
    emergency_lines,
    record_lines,
    step_lines,
    step_why_lines,
    value_lines,
    verdict_lines,
)
from rigcheck.rules.procedures import in_the_day, procedures_of, ways_out
from rigcheck.rules.rule import Signal
from rigcheck.rules.steps import Procedure, StepValue

__all__ = ["Clock", "ProcedureTerminal"]

Clock = Callable[[], datetime]

_KEYS = "d done · o another step · c correct · n leave out · ? why · ! emergency · q stop"
_VALUE_KEYS = "x cannot tell · b back · ! emergency · q stop"


class _Back(Exception):
    """Whoever is asked for a value wants to see the step again."""


class ProcedureTerminal:
    """One procedure, done and recorded at a terminal."""

    def __init__(
        self, going: RecordOnDisk, console: Console, keys: Keyboard, hold_at: Signal, clock: Clock = datetime.now
    ) -> None:
        self.going, self.console, self.keys, self.hold_at, self.clock = going, console, keys, hold_at, clock
        self.inspection = explain(going.judged)

    def begin(self) -> bool:
        """Show what comes first; return whether the procedure may be begun as far as the rig is known."""
        sheet = sheet_of(self.going.judged, self.going.procedure, self.inspection, self.hold_at)
        self._show(begin_lines(sheet, self.console.width))
        if not sheet.rows:
            self._say("It has no step for this rig.", "stress")
            return False
        if not self.going.procedure.despite_hold and holding(self.inspection, self.hold_at):
            for told in sheet.held_by:
                self._show(labelled("hold", told, self.console.width, column=9, label_style="danger"))
            self._say("Put right what holds the rig first. If gas is on: shut it down.", "stress")
            self._say_ways_out()
            return False
        if self.going.progress.done:
            last = self.going.progress.done[-1].instance.label
            self._say(f"Going on after: {last}. Look first whether that is still so.")
        self._show(labelled("keys", _KEYS, self.console.width, column=6, label_style="quiet"))
        return True

    def run(self) -> None:
        """Go through the steps until none is left that may be done. Raises `Stopped`."""
        while self.going.progress.now:
            self._step(self.going.progress.now[0])

    def end(self) -> int:
        """Show how the record came out; return 1 where something is against it, else 0."""
        if self.going.path is None:
            self._say("Nothing was done, and nothing is written.")
            return 0
        self.going.stop(self.clock())
        told = self.going.verdict(self.hold_at)
        state = told.state(self.hold_at)
        self._show(record_lines(told, state, self.going.progress, str(self.going.path), self.console.width))
        if not self.going.progress.finished:
            self._say_ways_out()
        return 1 if state == "on hold" else 0

    # --- one step ---

    def _step(self, one: Instance) -> None:
        self._show(step_lines(self.going.progress, one, self.console.width))
        while True:
            typed = self._line("done? > ", ["d", "o", "c", "n", "?", "!", "q"])
            if typed == "?":
                self._show(step_why_lines(one, self.console.width))
            elif typed == "n" and not one.required:
                self.going.pass_over(one)
                return
            elif typed == "n":
                self._say("This step is not left out. Do it, or stop with q.", "stress")
            elif typed in ("o", "c"):
                other = self._other() if typed == "o" else self._recorded()
                if other is not None:
                    self._step(other)
                    return
            elif typed == "d":
                if self._record(one):
                    return
            else:
                self._show(labelled("keys", _KEYS, self.console.width, column=6, label_style="quiet"))

    def _other(self) -> Instance | None:
        """Return another step that somebody wants to do, or has done already."""
        left = self.going.progress.left
        now = {one.number for one in self.going.progress.now}
        numbered = sorted(
            enumerate(left, start=1), key=lambda row: row[1].number in now
        )  # a small screen shows the end
        for key, one in numbered:
            early = "" if one.number in now else "   (its turn has not come)"
            self._show(labelled(f"{key:>3}", f"{one.label}{early}", self.console.width, column=6))
        typed = self._line("which, or b > ", [])
        if not (typed.isdecimal() and 1 <= int(typed) <= len(left)):
            return None
        chosen = left[int(typed) - 1]
        waits = self.going.progress.waits_for(chosen)
        if waits:
            told = ", ".join(one.label for one in waits[:4]) + (f" and {len(waits) - 4} more" if waits[4:] else "")
            self._say(f"Not yet: first {told}. Write it down only if it was done already.", "danger")
        return chosen

    def _recorded(self) -> Instance | None:
        """Return a step that is in the record, and that somebody wants to write once more."""
        last = {one.instance.number: one for one in self.going.progress.done}
        done = [last[number] for number in sorted(last)]
        for key, one in enumerate(done, start=1):
            told = f"{one.instance.label}: {entry_values(one)}"
            self._show(labelled(f"{key:>3}", told, self.console.width, column=6))
        if not done:
            self._say("Nothing is recorded yet.")
            return None
        typed = self._line("which, or b > ", [])
        if not (typed.isdecimal() and 1 <= int(typed) <= len(done)):
            return None
        self._say("What you record now counts; the old line stays beside it.")
        return done[int(typed) - 1].instance

    def _record(self, one: Instance) -> bool:
        values: dict[str, str] = {}
        try:
            for value in one.step.values.values():
                told = self._value(one, value)
                if told is not None:
                    values[value.name] = told
        except _Back:
            self._show(step_lines(self.going.progress, one, self.console.width))
            return False
        progress = self.going.take(one, self.clock(), values)
        self._show(verdict_lines(progress.last, self.console.width))
        if not self.going.procedure.despite_hold and any(one.signal == "danger" for one in progress.last.findings):
            self._say_ways_out()
        return True

    # --- its values ---

    def _value(self, one: Instance, value: StepValue) -> str | None:
        """Return what was read off, as it is written; None where nobody could tell. Raises `_Back`, `Stopped`."""
        speaker = self.going.progress.speaker
        must = speaker.required(speaker.wanted(value), one.thing)
        self._show(value_lines(value, must, self.console.width))
        words = [word for word, _ in choices_of(value.fact)]
        least = timed_for(value, one, speaker)
        if least is not None:
            self._say("t starts a clock" + (f"; at least {least:g} s" if least else ""), "quiet")
        while True:
            typed = self._line("> ", words)
            if typed == "b":
                raise _Back
            if typed == "x":
                return None
            if typed == "t" and least is not None:
                typed = self._timed(least)
            if typed.isdecimal() and 1 <= int(typed) <= len(words):
                typed = words[int(typed) - 1]
            try:
                found = checked(value.fact, typed)
            except NotRead as error:
                self._say(f"{error.wrong} {error.write}", "stress")
                self._show(labelled("keys", _VALUE_KEYS, self.console.width, column=6, label_style="quiet"))
                continue
            return found if isinstance(found, str) else ", ".join(found)

    def _timed(self, least: float) -> str:
        """Return how long something was held, by the clock: from one Enter to the next."""
        self.keys("Enter when it begins > ", [])
        began = self.clock()
        told = f"Running since {began:%H:%M:%S}"
        ends = f", until {datetime.fromtimestamp(began.timestamp() + least, began.tzinfo):%H:%M:%S} at least"
        self._say(told + (ends if least else ""), "stress")
        self.keys("Enter when it ends > ", [])
        seconds = int((self.clock() - began).total_seconds())  # a part of a second was not held for sure
        self._say(f"{seconds} s by the clock.")
        return f"{seconds} s"

    # --- one line ---

    def _line(self, before: str, words: list[str]) -> str:
        """Return what was typed, when it is neither an emergency nor the end. Raises `Stopped`."""
        while True:
            typed = self.keys(before, words).strip()
            if typed == "q":
                raise Stopped
            if typed == "!":
                self._emergency()
            elif typed:
                return typed

    def _emergency(self) -> None:
        """Show what to do now; the record waits."""
        sheets = [sheet_of(self.going.judged, one, self.inspection) for one in self._procedures(emergency=True)]
        sheets = [sheet for sheet in sheets if sheet.rows]
        for key, sheet in enumerate(sheets, start=1):
            self._show(labelled(f"{key:>3}", sheet.title, self.console.width, column=6, style="danger"))
        typed = self.keys("which > ", []).strip()
        if typed.isdecimal() and 1 <= int(typed) <= len(sheets):
            self._show(emergency_lines(sheets[int(typed) - 1], self.console.width))
        self._say("The record waits where it was. q stops it.")

    def _procedures(self, *, emergency: bool) -> list[Procedure]:
        return in_the_day(one for one in procedures_of(self.going.pack).values() if one.emergency is emergency)

    def _say_ways_out(self) -> None:
        """Name what may be done though the rig is on hold, to leave it without gas."""
        names = [one.name for one in ways_out(procedures_of(self.going.pack).values())]
        self._say(f"To leave it without gas, by the hand; NAME is one of: {', '.join(names)}", "quiet")
        self._show([Line((("", f"rigcheck ask {self.going.rig} NAME"),))])

    def _say(self, text: str, style: str = "") -> None:
        self._show([Line(), *wrapped(text, self.console.width, style=style)])

    def _show(self, lines: Iterable[Line]) -> None:
        self.console.show(lines)
