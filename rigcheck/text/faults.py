"""Faults of what somebody wrote, as values; their text is made last."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice
from typing import NamedTuple

from rigcheck.text.harmless import visible
from rigcheck.text.place import Place

__all__ = [
    "MOST_FAULTS",
    "Fault",
    "Refused",
    "keep_fault",
    "nearest_name",
    "nearest_word",
    "shown_text",
    "unread_words",
    "with_article",
]

MOST_FAULTS = 100
"""Faults of one file that are told; who has more has to mend these first."""
_CLOSE = 3  # words as like
_MOST_LIKENED = 2_000
_LONGEST = 60
_FEW = 3
_SLIP = 0.75


class Fault(NamedTuple):
    """One thing that cannot be read: where, what stands there, and what to write instead.

    `alone`: it leaves one statement unread, and the rest of the file means what it says without it.
    """

    place: Place
    read: str
    write: str
    near: str = ""
    alone: bool = False

    def __str__(self) -> str:
        near = f" Nearest known word: {self.near}." if self.near else ""
        return f"{self.place}: {self.read} {self.write}{near}"


class Refused(Exception):
    """A file that was not taken, with all of its faults in the order of their places."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(sorted(faults, key=lambda fault: fault.place))
        super().__init__(self.faults)

    def __str__(self) -> str:
        return "\n".join(map(str, self.faults))


def unread_words(unread: Iterable[Fault]) -> tuple[str, ...]:
    """Return a sentence for what is handed to others: how much of a rig is not in it, and where that stands."""
    places = [str(fault.place) for fault in unread]
    if not places:
        return ()
    told = "1 statement" if len(places) == 1 else f"{len(places)} statements"
    more = f" and {len(places) - _FEW} more" if len(places) > _FEW else ""
    return (f"Made without {told} that cannot be read: {', '.join(places[:_FEW])}{more}.",)


def keep_fault(kept: list[Fault], fault: Fault) -> None:
    """Put a fault with those of its file. Raises `Refused` once they are more than anybody reads.

    One slip that is read for several things, as under `every_joint`, is told once.
    """
    if any((one.place, one.write, one.near) == (fault.place, fault.write, fault.near) for one in kept):
        return
    kept.append(fault)
    if len(kept) >= MOST_FAULTS:
        more = Fault(fault.place, "Reading stopped here; more may be wrong further on.", "Mend these first.")
        raise Refused([*kept, more])


def nearest_word(word: str, known: Iterable[str], likeness: float = 0.65) -> str:
    """Return the known word that `word` most likely stands for, or an empty string; `likeness` runs from 0 to 1."""
    from difflib import SequenceMatcher, get_close_matches  # slow to load, and wanted only for a fault

    written = _folded(word)[:_LONGEST]
    folded = {_folded(name): name for name in known}
    if len(folded) > _MOST_LIKENED:  # the tags of a register: of so many a slip is told by how it begins
        alike = (one for one in folded if one[:1] == written[:1] and abs(len(one) - len(written)) < _FEW)
        folded = {one: folded[one] for one in islice(alike, _MOST_LIKENED)}
    close = get_close_matches(written, folded, n=_CLOSE, cutoff=likeness)
    # of words that are as like, the one that begins with the same letter: that is rarely the slip
    close.sort(key=lambda one: (-SequenceMatcher(None, one, written).ratio(), one[:1] != written[:1]))
    return folded[close[0]] if close else ""


def nearest_name(name: str, known: Iterable[str]) -> str:
    """Return the known name of a fact or a thing that `name` is a slip of, or shares all of its words with.

    Likeness alone is not enough: a list of eighty names has one that looks somewhat like any word.
    """
    names = list(known)
    written = set(_folded(name).split())
    sharing = [one for one in names if written and (written <= (own := set(_folded(one).split())) or own <= written)]
    return nearest_word(name, names, _SLIP) or nearest_word(name, sharing, 0.0)


def with_article(noun: str) -> str:
    """Return 'a hose', 'an arrester', or 'tools' where the word is a plural."""
    if noun.endswith("s") and not noun.endswith("ss"):
        return noun
    return f"{'an' if noun[:1] in 'aeiou' else 'a'} {noun}"


def shown_text(text: str) -> str:
    """Return what was written, quoted, short and on one line, for a message."""
    short = text if len(text) <= _LONGEST else text[: _LONGEST - 1] + "…"
    return f"'{visible(short)}'"


def _folded(word: str) -> str:
    return word.casefold().replace("_", " ").replace("-", " ")
