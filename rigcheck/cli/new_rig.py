"""A rig that has no description yet, begun on the terminal: a few questions, and three lines that are shown first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from rigcheck.asking.beginnings import Beginning, beginning_of, begun_description, next_choice
from rigcheck.cli.ask_terminal import Keyboard, Stopped
from rigcheck.cli.console import Console
from rigcheck.cli.draft import new_file
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.rules.limits import LOCAL_CODES
from rigcheck.rules.pack import Pack
from rigcheck.rules.standard_rigs import standard_rig, standard_rig_files

__all__ = ["begin_rig"]


def begin_rig(path: Path, pack: Pack, console: Console, keys: Keyboard) -> None:
    """Ask what rig it is, show its description, and write it when that is wanted. Raises `Stopped`."""
    asking = _Asking(console, keys)
    console.show(wrapped(f"There is no {path} yet. A few questions begin it; q stops.", console.width, style="head"))
    left = tuple(_beginnings(pack))
    while (choice := next_choice(left)) is not None:
        words = list(choice.answers)
        left = choice.answers[words[asking.one_of(choice.ask, words)]]
    chosen = left[0]
    codes = list(LOCAL_CODES)
    code = codes[
        asking.one_of("Which country's code is in force where it stands? (general takes the strictest)", codes)
    ]
    called = asking.text("What do you call this rig?")
    text = begun_description(called, code, chosen.name)
    console.show([Line(), *wrapped(f"{chosen.title}. This is written:", console.width, style="head")])
    console.show(Line((("place", row),)) for row in text.splitlines())
    told = "What differs from it is written below: a part that is not there, one more, another one."
    console.show(wrapped(told, console.width, style="quiet"))
    if asking.one_of(f"Write {path}?", ["write it", "stop"]):
        raise Stopped
    new_file(path, text.encode())


def _beginnings(pack: Pack) -> Iterable[Beginning]:
    for name in standard_rig_files(pack):
        found = standard_rig(pack, name)
        if found is not None:
            yield beginning_of(name, found.rig)


class _Asking:
    def __init__(self, console: Console, keys: Keyboard) -> None:
        self.console, self.keys = console, keys

    def one_of(self, ask: str, words: Sequence[str]) -> int:
        """Return the number of the answer, from nought."""
        self.console.show([Line(), *wrapped(ask, self.console.width, style="head")])
        for number, word in enumerate(words, start=1):
            self.console.show(labelled(f"{number:>3}", word, self.console.width, column=6))
        while True:
            typed = self._line(list(words))
            if typed in words:
                return words.index(typed)
            if typed.isdecimal() and 1 <= int(typed) <= len(words):
                return int(typed) - 1
            self.console.show(wrapped(f"Write a number from 1 to {len(words)}.", self.console.width, style="stress"))

    def text(self, ask: str) -> str:
        """Return a name that was typed."""
        self.console.show([Line(), *wrapped(ask, self.console.width, style="head")])
        while True:
            typed = " ".join(self._line([]).split())
            if typed and typed.isprintable():
                return typed

    def _line(self, words: list[str]) -> str:
        typed = self.keys("> ", words).strip()
        if typed == "q":
            raise Stopped
        return typed
