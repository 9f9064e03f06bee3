"""A rig that has no description yet, begun on the terminal: a few questions, and some lines that are shown first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from types import MappingProxyType

from rigcheck.asking.beginnings import Beginning, beginning_of, begun_description, built_description, next_choice
from rigcheck.cli.ask_terminal import Keyboard, Stopped
from rigcheck.cli.console import Console
from rigcheck.cli.draft import new_file
from rigcheck.cli.endings import form_for
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.rig.vocabulary import Vocabulary
from rigcheck.rules.limits import LOCAL_CODES
from rigcheck.rules.pack import Pack
from rigcheck.rules.standard_rigs import standard_rig, standard_rig_files
from rigcheck.text.faults import nearest_word

__all__ = ["begin_rig"]

_NONE_OF_THESE = "none of these: put it together part by part"
_NO_MORE = "no more gas"
_ENDS = ("torch", "trolley")


def begin_rig(path: Path, pack: Pack, console: Console, keys: Keyboard) -> None:
    """Ask what rig it is, show its description, and write it when that is wanted. Raises `Stopped`."""
    form_for(path, None, ("yaml",))
    asking = _Asking(console, keys)
    console.show(wrapped(f"There is no {path} yet. A few questions begin it; q stops.", console.width, style="head"))
    chosen = _standard(asking, pack)
    lines, ends = ((), ()) if chosen is not None else _built(asking, pack.vocabulary)
    codes = list(LOCAL_CODES)
    means = pack.vocabulary.kinds["rig"].facts["local_code"].words
    code = codes[asking.one_of("Which country's code is in force where it stands?", codes, means)]
    called = asking.text("What do you call this rig?")
    if chosen is not None:
        text = begun_description(called, code, chosen.name, chosen.process)
        told = "What differs from it is written below: a part that is not there, one more, another one."
    else:
        text, told = built_description(called, code, lines, ends), "Each part can be told more of, below it."
    console.show([Line(), *wrapped("This is written:", console.width, style="head")])
    console.show(Line((("place", row),)) for row in text.splitlines())
    console.show(wrapped(told, console.width, style="quiet"))
    if asking.one_of(f"Write {path}?", ["write it", "stop"]):
        raise Stopped
    new_file(path, text.encode())


def _standard(asking: _Asking, pack: Pack) -> Beginning | None:
    """Return the standard rig that a rig is like, or None. What was not asked of the last one left is said of it."""
    left, asked = tuple(_beginnings(pack)), set[str]()
    while (choice := next_choice(left)) is not None:
        words = list(choice.answers)
        number = asking.one_of(choice.ask, [*words, _NONE_OF_THESE])
        if number == len(words):
            return None
        asked.add(choice.ask)
        left = choice.answers[words[number]]
    asking.console.show([Line(), *wrapped(f"{left[0].title}.", asking.console.width, style="head")])
    for ask, answer in left[0].marks.items():
        if ask not in asked:
            asking.console.show(labelled("  -", f"{ask} {answer}", asking.console.width, column=4))
    return None if asking.one_of("Is your rig like this one?", ["yes", _NONE_OF_THESE]) else left[0]


def _beginnings(pack: Pack) -> Iterable[Beginning]:
    for name in standard_rig_files(pack):
        found = standard_rig(pack, name)
        if found is not None:
            yield beginning_of(name, found.rig)


# --- a rig that is like no standard rig ---


def _built(asking: _Asking, vocabulary: Vocabulary) -> tuple[list[tuple[str, list[str]]], list[str]]:
    """Return the lines of a rig, each with its parts in the order of the flow, and what it has besides."""
    gases = list(vocabulary.kinds["line"].facts["gas"].words)
    lines: list[tuple[str, list[str]]] = []
    while True:
        number = asking.one_of(
            "Which gas?" if not lines else "Which gas besides?", [*gases, *([_NO_MORE] * bool(lines))]
        )
        if number == len(gases):
            break
        lines.append((gases[number], asking.parts(gases[number], vocabulary)))
    return lines, [one for one in _ENDS if not asking.one_of(f"Is there a {one}?", ["yes", "no"])]


class _Asking:
    def __init__(self, console: Console, keys: Keyboard) -> None:
        self.console, self.keys = console, keys

    def one_of(self, ask: str, words: Sequence[str], means: Mapping[str, str] = MappingProxyType({})) -> int:
        """Return the number of the answer, from nought; `means`: what some of the words mean."""
        self.console.show([Line(), *wrapped(ask, self.console.width, style="head")])
        for number, word in enumerate(words, start=1):
            shown = f"{word}: {means[word]}" if means.get(word) else word
            self.console.show(labelled(f"{number:>3}", shown, self.console.width, column=6))
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

    def parts(self, gas: str, vocabulary: Vocabulary) -> list[str]:
        """Return the parts that a gas goes through, in the order of the flow."""
        ask = f"What does the {gas} go through, from the supply to the torch? As: cylinder, regulator, arrester, hose"
        self.console.show([Line(), *wrapped(ask, self.console.width, style="head")])
        known = {kind.name: kind.key for kind in vocabulary.parts.values()}
        self.console.show(wrapped(f"Known: {', '.join(known)}.", self.console.width, style="quiet"))
        while True:
            named = [" ".join(one.replace("_", " ").split()).casefold() for one in self._line([]).split(",")]
            strange = [one for one in named if one not in known]
            if not strange:
                return [known[one] for one in named]
            near = nearest_word(strange[0], known)
            told = f"{strange[0]!r} is no part of a line." + (f" Write {near!r}?" if near else "")
            self.console.show(wrapped(told, self.console.width, style="stress"))

    def _line(self, words: list[str]) -> str:
        typed = self.keys("> ", words).strip()
        if typed == "q":
            raise Stopped
        return typed
