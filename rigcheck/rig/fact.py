"""One fact that can be stated: its declaration, and how its text becomes a value."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import NamedTuple

from rigcheck.quantity.interval import Interval
from rigcheck.quantity.notation import NotRead, example_of, read_day, read_quantity
from rigcheck.rig.number_range import NumberRange, number_range, size_of
from rigcheck.rig.vocabulary_file import FactEntry
from rigcheck.text.faults import nearest_word, shown_text

__all__ = ["NEVER_WORD", "NONE_WORD", "UNKNOWN_WORDS", "Choice", "Fact", "Value", "asked_with"]

Value = Interval | str | bool | tuple[str, ...] | None
"""What a fact can be: a number, a word or text, yes or no, several words, or none."""

NONE_WORD = "none"
NEVER_WORD = "never"
"""What people write for a day that there is none of."""
UNKNOWN_WORDS = ("unknown", "not known", "?")
"""Written out, these say the same as leaving the line out: it is not known."""

_YES_NO = {"yes": True, "no": False, "true": True, "false": False, "y": True, "n": False}
_DENIALS = (NONE_WORD, "nothing", "not-marked", "not-asked")
"""Words of a list that deny all others of it: a rule that looks for one of them would pass over what stands beside."""
_LONGEST_TEXT = 400
_MOST_CACHED = 4096


class Choice(NamedTuple):
    """Words to choose from, each with what it means, and other spellings of them."""

    words: Mapping[str, str]
    also_written: Mapping[str, str]


_NO_LISTS: Mapping[str, Choice] = {}


class Fact:
    """A named fact of a kind of thing; `known` keeps the values of texts that were read before.

    What is unusual is not kept there, so that whoever reads it is told each time.
    `lists` has the words that several facts share, by name. Raises KeyError where the entry names another one.
    """

    __slots__ = ("__dict__", "_folded", "also_written", "entry", "known", "measure", "name", "words")

    def __init__(self, name: str, entry: FactEntry, lists: Mapping[str, Choice] = _NO_LISTS) -> None:
        self.name, self.entry = name, entry
        words = entry.words if entry.words is not None else entry.several_words
        self.words: Mapping[str, str]
        self.also_written: Mapping[str, str]
        self.words, self.also_written = lists[words] if isinstance(words, str) else (words or {}, entry.also_written)
        if NONE_WORD in self.words and "no" not in self.words:
            self.also_written = {"no": NONE_WORD, **self.also_written}
        self.measure = entry.measure or ("words" if entry.words is not None else "several_words")
        self._folded: dict[str, str] = {}
        self.known: dict[str, Value] = {}

    def takes(self, texts: Iterable[str]) -> bool:
        """Whether the fact can be stated by these texts: by one, or by several of its words."""
        try:
            values = [self.read(text) for text in texts]
        except NotRead:
            return False
        return not self.computed and (len(values) == 1 or bool(values and self.measure == "several_words"))

    @property
    def label(self) -> str:
        """The name in words."""
        return self.name.replace("_", " ")

    @property
    def computed(self) -> bool:
        """Whether the fact is worked out and cannot be stated in a rig."""
        return self.entry.computed or bool(self.entry.from_day)

    @property
    def counted_from(self) -> str:
        """The fact of the same thing that says from or to which day it is counted; nothing where it is no such time."""
        return self.entry.from_day or self.entry.counted_from

    @property
    def is_told_anew(self) -> bool:
        """Whether it is told of each rig, job or day anew, so that no settings say it of many rigs."""
        return self.entry.lasts != "" or self.entry.as_fitted or self.name in ("tag", "name")

    @property
    def goes_along(self) -> bool:
        """Whether it goes with a thing to another rig: not how it is fitted, nor most of what was so for a day."""
        entry = self.entry
        lasting = entry.lasts in ("", "again") or entry.goes_along
        return lasting and not entry.as_fitted and self.name not in ("tag", "name")

    def read(self, text: str) -> Value:
        """Return the value that `text` states. Raises `NotRead`."""
        try:
            return self.known[text]
        except KeyError:
            value = self._read(text)
            if self.is_usual(value):
                if len(self.known) >= _MOST_CACHED:
                    self.known.clear()
                self.known[text] = value
            return value

    @cached_property
    def range(self) -> NumberRange | None:
        """The ends of what its number can mean; None for what is no number."""
        return number_range(self.entry)

    def is_usual(self, value: Value) -> bool:
        """Whether a value lies where such values mostly lie; words, and numbers of which nothing is said, do."""
        return not isinstance(value, Interval) or self.range is None or self.range.is_usual(value)

    def _read(self, text: str) -> Value:
        if self.measure in ("words", "several_words"):
            return (self._only_word(text),) if self.measure == "several_words" else self.word(text)
        if self.entry.may_be_none and text.strip().casefold() in self._none_words:
            return None
        if self.measure == "text":
            return _checked_text(text)
        if self.measure == "yes_no":
            return self._yes_no(text)
        return self._number(text)

    @property
    def _none_words(self) -> tuple[str, ...]:
        return (NONE_WORD, NEVER_WORD) if self.measure == "day" else (NONE_WORD,)

    def _yes_no(self, text: str) -> bool:
        value = _YES_NO.get(text.strip().casefold())
        if value is None:
            value = _YES_NO.get(self._spelt().get(_folded(text), ""))
        if value is None:
            raise NotRead(f"{shown_text(text)} is neither yes nor no.", "Write yes or no.")
        return value

    def _number(self, text: str) -> Interval:
        try:
            value = read_day(text) if self.measure == "day" else read_quantity(text, self.measure)
        except NotRead as error:
            if self.entry.example in ("", text):  # the vocabulary's own example may be what is wrong
                raise
            own = error.write.replace(f"'{example_of(self.measure)}'", f"'{self.entry.example}'")  # 15 m is no bore
            none = f" Write {NONE_WORD} if there is none." if self.entry.may_be_none else ""
            raise NotRead(error.wrong, own + none) from None
        if self.entry.by_size:
            value = size_of(value)
        if self.range is not None:
            self.range.refuse_beyond(value, text)
        return value

    def word(self, text: str) -> str:
        """Return the one of its words that `text` states, also in another spelling of it. Raises `NotRead`."""
        if text in self.words:
            return text
        word = self._spelt().get(_folded(text))
        if word is None:
            near = nearest_word(text, self._folded, _SLIP)
            near = self._folded.get(near, near)
            hint = f" Nearest known word: {near}." if near else ""
            raise NotRead(
                f"{shown_text(text)} is not one of its words.",
                f"Write one of: {', '.join(self.words)}.{hint}",
            )
        return word

    def spelt(self, text: str) -> str:
        """Return the one of its words that a text is or spells otherwise; nothing where it is none of them."""
        return self._spelt().get(_folded(text), "") if self.measure != "yes_no" else ""

    def _spelt(self) -> dict[str, str]:
        """Return each spelling with its word; made when first needed: most rigs write the words as they are."""
        if not self._folded:
            self._folded = {_folded(word): word for word in self.words}
            self._folded |= {_folded(word): to for word, to in self.also_written.items()}
        return self._folded

    def _only_word(self, text: str) -> str:
        try:
            return self.word(text)
        except NotRead as error:
            try:
                words = self.words_in(text)
            except NotRead:
                raise error from None
            raise NotRead(error.wrong, f"Write a list: [{', '.join(words)}].") from None

    def words_in(self, text: str) -> tuple[str, ...]:
        """Return the words that `text` states one after the other, as 'NV, FA' or 'NV FA'. Raises `NotRead`."""
        found: list[str] = []
        for part in filter(None, map(str.strip, re.split(r"[,;/+&]", text))):
            try:
                found.append(self.word(part))
            except NotRead:
                if " " not in part:
                    raise
                found += map(self.word, part.split())  # as they stand on the body of an arrester
        return self.together(found)

    def together(self, words: Iterable[str]) -> tuple[str, ...]:
        """Return words that stand in one list. Raises `NotRead` where one denies what another one says."""
        found = tuple(dict.fromkeys(words))
        denial = next((word for word in found if word in _DENIALS), "")
        if denial and len(found) > 1:
            others = ", ".join(word for word in found if word != denial)
            raise NotRead(f"{shown_text(denial)} stands beside {others}.", f"Write {denial!r} alone, or take it out.")
        return found


def asked_with(key: str, facts: Iterable[Fact]) -> str:
    """Return the name of the one fact whose question has all words of a key, or nothing where not one alone has.

    >>> from rigcheck.rig.vocabulary_file import FactEntry
    >>> asked_with("marks", [Fact("functions", FactEntry(measure="text", means="", ask="Which are marked?"))])
    'functions'
    """
    wanted = {_stem(word) for word in _folded(key).split()}
    found = [
        fact.name for fact in facts if wanted <= {_stem(word) for word in re.findall(r"\w+", fact.entry.ask.casefold())}
    ]
    return found[0] if wanted and len(found) == 1 else ""


def _stem(word: str) -> str:
    """Return a word without its commonest endings, so that marks, marked and marking are one."""
    return re.sub(r"(?:ing|ed|s)$", "", word) if len(word) > _SHORT else word


_SHORT = 3  # letters; shorter words have no ending to lose
_SLIP = 0.75  # looser, and another word is offered for a thing that is not named: an O-clip for a screw clip


def _folded(text: str) -> str:
    return re.sub(r"[\s_-]+", " ", text.strip().casefold())


def _checked_text(text: str) -> str:
    if len(text) > _LONGEST_TEXT:
        raise NotRead(f"The text has {len(text)} characters.", f"Write at most {_LONGEST_TEXT}.")
    return " ".join(text.split())
