"""The walk in a terminal: a question at a time, plain keys, on a phone's forty columns too.

On a terminal words can be picked with the arrow keys; where lines only come and go, the same words are typed.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable

from rigcheck.asking.answers import Answer, checked, none_of_these, ticked
from rigcheck.asking.reasons import reasons_for
from rigcheck.asking.walk import Page, Stop
from rigcheck.cli.console import Console
from rigcheck.cli.walk_on_disk import WalkOnDisk
from rigcheck.judge.inspection import explain
from rigcheck.quantity.notation import NotRead
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.report.text.page_text import (
    choices_of,
    end_lines,
    fact_lines,
    find_lines,
    page_lines,
    stop_lines,
    what_else,
    why_lines,
)
from rigcheck.rig.fact import Fact
from rigcheck.rig.thing import Thing
from rigcheck.rules.looks import looks_of
from rigcheck.rules.rule import Signal

__all__ = ["Keyboard", "Stopped", "TerminalWalk", "keyboard"]

Keyboard = Callable[[str, list[str]], str]
"""Takes what stands before the cursor and the words to pick from; returns the line that was typed. Raises EOFError."""

_KEYS = "x cannot tell · ? why · b back · q stop"
_PROMPT = "x ? b q > "  # what is said of them once has scrolled away by the second question
_MENU = 5  # rows that the words to pick from are shown in: eight are a third of a small screen
_MANY = 12  # words after which the question has scrolled away on a screen of 24 rows


class Stopped(Exception):
    """Whoever is asked wants to stop."""


class _Back(Exception):
    """Whoever is asked wants to see the page before."""


class _NotTold(Exception):
    def __init__(self, because: str) -> None:
        super().__init__(because)
        self.because = because


def keyboard() -> Keyboard:
    """Return how lines are typed here."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        return _typed
    from prompt_toolkit import prompt  # slow to load, and of no use in a pipe
    from prompt_toolkit.completion import WordCompleter

    def picked(before: str, words: list[str]) -> str:
        return prompt(
            before,
            completer=WordCompleter(words, sentence=True),
            complete_while_typing=bool(words),
            reserve_space_for_menu=_MENU if words else 0,
        )

    return picked


def _typed(before: str, words: list[str]) -> str:
    sys.stdout.write(before)
    sys.stdout.flush()
    line = sys.stdin.readline()
    if not line:
        raise EOFError
    return line.rstrip("\n")


class TerminalWalk:
    """One walk, asked and answered on a terminal."""

    def __init__(self, going: WalkOnDisk, console: Console, keys: Keyboard, hold_at: Signal) -> None:
        self.going, self.console, self.keys, self.hold_at = going, console, keys, hold_at
        self.looks = looks_of(going.pack)
        self.before: list[Page] = []
        self.met: Thing | None = None  # of which is asked now
        self.station: str | None = None

    def run(self) -> None:
        """Ask until nothing is left, or what is left can be told once the rig was at work. Raises `Stopped`."""
        page, back, over = self.going.walk.next_page, False, self.going.walk.after_work
        while page is not None and (back or over or not self.going.walk.after_work):
            self._head(page, back=back)
            try:
                answer = self._answer(page)
            except _Back:
                page, back = (self.before.pop(), True) if self.before else (page, back)
                continue
            found = self.going.take(page, answer)
            self.before.append(page)
            for told in self.going.differing:
                self._show([Line(), *wrapped(told, self.console.width, style="stress")])
            self._show(find_lines(found, self.console.width))
            page, back = self.going.walk.next_page, False
            if more := what_else(page, self.going.hot):
                self._show(wrapped(more, self.console.width, style="stress"))

    def end(self) -> str:
        """Show where the walk came to; return the state of the rig."""
        state = explain(self.going.judged).state(self.hold_at)
        self._show(end_lines(self.going.walk, self.looks, state, str(self.going.look), self.console.width))
        return state

    # --- one page ---

    def _head(self, page: Page, *, back: bool) -> None:
        stop = self.going.walk.stops[0] if self.going.walk.stops else None
        if stop is not None and stop.station != self.station and not back:
            self._close(stop)
        self._show(page_lines(page, self.console.width, self.going.walk, self.going.pack.rules))
        if back:
            told = "It was answered. A new answer is written below the old one, and counts."
            self._show(wrapped(told, self.console.width, style="stress"))

    def _close(self, stop: Stop) -> None:
        self.station = stop.station
        known = self.looks.stations.get(stop.station)
        count = sum(len(one.pages) for one in self.going.walk.stops if one.station == stop.station)
        self._show(stop_lines(known.title if known else stop.title, count, self.console.width))
        self._show(labelled("keys", _KEYS, self.console.width, column=6, label_style="quiet"))

    def _answer(self, page: Page) -> Answer:
        if page.listed is not None:
            return self._list(page)
        values: dict[tuple[str, str], str | tuple[str, ...]] = {}
        not_told: dict[tuple[str, str], str] = {}
        if page.look.act == "read":  # a marking is in the hand: all of it, then the next one
            rounds = [(name, [thing]) for thing in page.things for name in page.facts]
        else:
            rounds = [(name, list(page.things)) for name in page.facts]
        for name, things in rounds:
            self._fact(page, name, [one for one in things if (one.path, name) in page.open], values, not_told)
        return Answer(values, not_told)

    def _fact(
        self,
        page: Page,
        name: str,
        asked: list[Thing],
        values: dict[tuple[str, str], str | tuple[str, ...]],
        not_told: dict[tuple[str, str], str],
    ) -> None:
        """Ask one fact of each thing; the same on all of them costs their number."""
        for at, thing in enumerate(asked):
            self.met = thing
            fact, one = thing.kind.facts[name], page.open[thing.path, name]
            ask = one.ask if one.name == name else fact.entry.ask
            self._show(fact_lines(thing, fact, ask, self.console.width, one.too_close))
            if len(choices_of(fact)) > _MANY:
                self._show([Line(), *wrapped(f"{thing.label}: {ask}", self.console.width, style="head")])
            rest = asked[at + 1 :] if at == 0 else []
            try:
                value = self._value(page, fact)
            except _NotTold as error:
                not_told[thing.path, name] = error.because
                if rest and error.because != self.looks.absent and self._same_on_all(len(asked)):
                    not_told |= {(other.path, name): error.because for other in rest}
                    return
                continue
            values[thing.path, name] = value
            if rest and self._same_on_all(len(asked)):
                values |= {(other.path, name): value for other in rest}
                return

    def _value(self, page: Page, fact: Fact) -> str | tuple[str, ...]:
        words = [word for word, _ in choices_of(fact)]
        while True:
            typed = self._line(page, words)
            if words and typed.isdecimal() and not 1 <= int(typed) <= len(words):
                told = f"There is no {typed}. Write a number from 1 to {len(words)}, or the word."
                self._show(wrapped(told, self.console.width, style="stress"))
                continue
            try:
                return checked(fact, _by_number(typed, words, several=fact.measure == "several_words"))
            except NotRead as error:
                self._show(wrapped(f"{error.wrong} {error.write}", self.console.width, style="stress"))

    def _same_on_all(self, count: int) -> bool:
        told = f"The same on all of them? Type how many you looked at; Enter goes on one by one. ({count} are listed)"
        self._show(wrapped(told.partition(" (")[0], self.console.width, style="quiet"))
        typed = _meant(self.keys("how many > ", []))
        if typed and typed != str(count):
            self._show(wrapped(f"{count} are there. One by one then.", self.console.width, style="stress"))
        return typed == str(count)

    def _list(self, page: Page) -> Answer:
        assert page.listed is not None
        shown = [
            number
            for number, tick in enumerate(page.listed.ticks)
            if any((thing.path, name) in page.open for thing in page.things for name in tick.tells)
        ]
        ticks: dict[str, list[int]] = {}
        not_told: dict[tuple[str, str], str] = {}
        for at, thing in enumerate(page.things):
            self.met = thing
            self._show([Line(), *wrapped(thing.label, self.console.width, style="place")])
            self._show(wrapped("Which of these do you see? Write all, as 1, 3", self.console.width, style="quiet"))
            for key, number in enumerate(shown, start=1):
                tick = page.listed.ticks[number]
                self._show(labelled(f"{key:>3}", tick.shows, self.console.width, column=6))
            self._show(labelled("  0", page.listed.none, self.console.width, column=6))
            try:
                ticks[thing.path] = [shown[key - 1] for key in self._ticks(page, len(shown))]
            except _NotTold as error:
                not_told |= {(path, name): error.because for path, name in page.open if path == thing.path}
                continue
            if at == 0 and not ticks[thing.path] and len(page.things) > 1 and self._same_on_all(len(page.things)):
                break
        told = ticked(page, ticks) if any(ticks.values()) else none_of_these(page)
        return Answer({key: value for key, value in told.values.items() if key not in not_told}, not_told)

    def _ticks(self, page: Page, count: int) -> list[int]:
        while True:
            typed = self._line(page, [])
            picked = [one for one in typed.replace(",", " ").split() if one]
            if picked == ["0"]:
                return []
            if picked and all(one.isdecimal() and 1 <= int(one) <= count for one in picked):
                return sorted(set(map(int, picked)))
            self._show(wrapped(f"Write numbers from 1 to {count}, or 0.", self.console.width, style="stress"))

    # --- one line ---

    def _line(self, page: Page, words: list[str]) -> str:
        """Return what was typed, when it is an answer. Raises `Stopped`, `_Back`, `_NotTold`."""
        while True:
            typed = _meant(self.keys(_PROMPT, words))
            if typed == "x":
                raise _NotTold(self._because())
            if typed == "?":
                self._show(why_lines(page, self.going.pack.rules, self.console.width))
            elif typed:
                return typed

    def _because(self) -> str:
        """Return why somebody cannot tell."""
        reasons = list(reasons_for(self.looks, [self.met] if self.met is not None else []).items())
        self._show(wrapped("Why not?", self.console.width, style="quiet"))
        for number, (_, sentence) in enumerate(reasons, start=1):
            self._show(labelled(f"{number:>3}", sentence, self.console.width, column=6))
        while True:
            typed = _meant(self.keys("> ", [name for name, _ in reasons]))
            if typed.isdecimal() and 1 <= int(typed) <= len(reasons):
                return reasons[int(typed) - 1][0]
            if typed in dict(reasons):
                return typed

    def _show(self, lines: Iterable[Line]) -> None:
        self.console.show(lines)


def _meant(typed: str) -> str:
    """Return what was typed. Raises `Stopped`, `_Back`: both are heard wherever something is typed."""
    typed = typed.strip()
    if typed == "q":
        raise Stopped
    if typed == "b":
        raise _Back
    return typed


def _by_number(typed: str, words: list[str], *, several: bool) -> str:
    """Return the words that stand for the numbers that were typed."""
    parts = [one.strip() for one in typed.split(",")] if several else [typed]
    named = [words[int(one) - 1] if one.isdecimal() and 1 <= int(one) <= len(words) else one for one in parts]
    return ", ".join(named)
