"""What broke a rule, put in words: each value once, with all that it was found on."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Literal, NamedTuple

from msgspec import Struct

from rigcheck.facts.explanation import ShownWorking
from rigcheck.text.place import Place

__all__ = ["Found", "Graver", "as_said", "found_words", "without_owners"]

_MOST_VALUES = 4
_MOST_OWNERS = 3
_WHOLE = "rig"
_JOINED = re.compile(r"(?<![\w-])[a-z]+(?:-[a-z]+)+(?![\w-])")


Sort = Literal["word", "quantity", "neighbour"]

Graver = Literal["more", "less", ""]
"""On which side a quantity is the graver the further it goes; empty where that cannot be said of it alone."""


class Found(Struct, frozen=True):
    """One fact that broke a rule; `working` shows how it was worked out, if it was.

    `sort`: whether it is a word, a quantity, or a neighbour that should be another thing.
    `bound`: what a quantity had to be, as 'at least 60 min', where that can be said of it alone; of a neighbour,
    what should stand there. `follows_from`: where it only follows, the place, name and value of the statement that it
    follows from. `ends`: of a quantity, its least and greatest value, in base units. `counted_from`: of a time that is
    counted from a day or to one, that day (its first, where it is stated as a month), for such a time grows by itself.
    """

    thing: str
    fact: str
    value: str
    place: Place
    working: ShownWorking | None = None
    sort: Sort = "word"
    bound: str = ""
    follows_from: tuple[Place, str, str] | None = None
    ends: tuple[float, float] | None = None
    graver: Graver = ""
    counted_from: str = ""

    @property
    def spoken(self) -> str:
        """The value as a person says it, with the bound that it misses."""
        if self.sort == "word":
            return as_said(self.value)
        missed = f"{'no' if self.sort == 'neighbour' else 'must be'} {self.bound}" if self.bound else ""
        return ", ".join(filter(None, (self.value, missed)))


def as_said(text: str) -> str:
    """Return text with the words that are typed with hyphens as a person says them.

    >>> as_said("nothing-wrong")
    'nothing wrong'
    """
    return _JOINED.sub(lambda word: word[0].replace("-", " "), text)


class _Told(NamedTuple):
    """A fact with its values, and in brackets whose it is."""

    fact: str
    owners: tuple[str, ...]
    values: tuple[str, ...]

    @property
    def words(self) -> str:
        return f"{self.fact}: {_listed(self.values, _MOST_OWNERS)}"


def found_words(thing: str, every: Iterable[Found]) -> str:
    """Return what was found on a thing: each fact once with its values, and whose it is where it is another thing's.

    >>> here = Place("rig.yaml", 1, 1)
    >>> found_words("rig", [Found("overnight", "hoses vented", "no", here), Found("overnight", "locked", "no", here)])
    'hoses vented: no, locked: no (overnight)'
    """
    told = list(_by_owners(thing, every))
    left = len(told) - _MOST_VALUES
    words = list(_in_brackets(told[:_MOST_VALUES]))
    return "; ".join((*words, f"and {left} more") if left > 0 else words)


def without_owners(every: Iterable[Found]) -> str:
    """Return facts and values alone: what the same breach on several things has in common."""
    return _bare_words(tuple([(one.fact, one.value, one.sort, one.bound) for one in every]))


@lru_cache(maxsize=256)
def _bare_words(said: tuple[tuple[str, str, Sort, str], ...]) -> str:
    """Return facts and values in words; thousands of things of a register are found to be the same."""
    nowhere = Place("", 1, 1)
    return found_words("", (Found("", fact, value, nowhere, None, sort, bound) for fact, value, sort, bound in said))


def _by_owners(thing: str, every: Iterable[Found]) -> Iterator[_Told]:
    """Yield values put together: those of one fact and thing, then the things of one value."""
    values: dict[tuple[str, str], dict[str, None]] = {}
    for found in every:
        owner = _short_owner(found, thing)
        values.setdefault((found.fact, owner), {})[found.spoken] = None
    owners: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for (fact, owner), said in values.items():
        owners.setdefault((fact, tuple(said)), []).append(owner)
    yield from (_Told(fact, tuple(whose), said) for (fact, said), whose in owners.items())


def _short_owner(found: Found, thing: str) -> str:
    """Return whose a fact is; the argon line need not say again that its gas is argon, nor a gauge whose it is."""
    if found.thing in (thing, _WHOLE):
        return ""
    return found.thing.removeprefix(f"{found.value} " if found.sort == "word" else "").removeprefix(f"{thing}, ")


def _in_brackets(told: list[_Told]) -> Iterator[str]:
    """Yield facts in their order, those of the same other things with one bracket."""
    number = 0
    while number < len(told):
        owners, run = told[number].owners, [told[number]]
        while any(owners) and number + len(run) < len(told) and told[number + len(run)].owners == owners:
            run.append(told[number + len(run)])
        number += len(run)
        whose = _owner_words([one for one in owners if one])
        yield f"{', '.join(one.words for one in run)}{f' ({whose})' if whose else ''}"


def _owner_words(owners: list[str]) -> str:
    """Return whose it is; joints of one line name it once, as 'oxygen joint, cylinder to regulator; hose to torch'."""
    first, comma, _ = owners[0].partition(", ") if owners else ("", "", "")
    head = f"{first}{comma}"
    short = [one.removeprefix(head) for one in owners[1:] if comma and one.startswith(head)]
    return _listed([owners[0], *short], _MOST_OWNERS, "; ") if len(short) == len(owners) - 1 >= 1 else _plain(owners)


def _plain(owners: list[str]) -> str:
    return _listed(owners, _MOST_OWNERS, "; ")


def _listed(words: list[str] | tuple[str, ...], most: int, joint: str = "") -> str:
    joint = joint or ("; " if any(", " in word for word in words) else ", ")
    left = len(words) - most
    return joint.join(words[:most]) + f" and {left} more" if left > 0 else joint.join(words)
