"""Values that are asked twice: one reading in eight once more before gas is let on, without what was read before.

Who recites a value without looking gives the same one again, or another one; the second tells. Which values come again
is fixed by the thing, the fact and the day alone, so that stopping and going on changes nothing, and cannot be guessed.
One in eight is ours, no published number.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Iterator, Mapping

from rigcheck.asking.answers import Answer
from rigcheck.asking.walk import Page
from rigcheck.facts.witness import Witness, settled
from rigcheck.quantity.notation import NotRead
from rigcheck.rig.thing import Thing
from rigcheck.rules.looks import Look

__all__ = ["comes_again", "differing"]

_ONE_IN = 8
_READ_OFF = ("read", "measure")
_Value = str | tuple[str, ...]


def comes_again(look: Look, thing: Thing, name: str, day: int) -> bool:
    """Whether a reading that was taken at a look is asked once more; words are not read off a scale or a plate."""
    fact = thing.kind.facts.get(name)
    if look.act not in _READ_OFF or fact is None or fact.measure in ("words", "several_words", "yes_no"):
        return False
    return zlib.crc32(f"{day} {thing.path} {name}".encode()) % _ONE_IN == 0


def differing(page: Page, answer: Answer, before: Mapping[tuple[str, str], Iterable[_Value]]) -> Iterator[str]:
    """Yield in a sentence each what was answered otherwise the first time; `before`: what the look said until now."""
    for thing in page.things if page.again else ():
        for name in page.facts:
            now, said = answer.values.get((thing.path, name)), [*before.get((thing.path, name), ())]
            if now is not None and said and not _agree(thing, name, said[-1], now):
                was, told = (one if isinstance(one, str) else ", ".join(one) for one in (said[-1], now))
                label = thing.kind.facts[name].label
                yield f"{thing.label}, {label}: {was} before, {told} now. Both stand in the look; the last counts."


def _agree(thing: Thing, name: str, one: _Value, other: _Value) -> bool:
    if isinstance(one, tuple) or isinstance(other, tuple):
        return one == other
    fact = thing.kind.facts[name]
    try:
        said = [Witness(fact.read(text), "seen", (thing, name)) for text in (one, other)]
    except NotRead:  # it was taken back between
        return True
    return settled(said)[1]
