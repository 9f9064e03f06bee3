"""What people write to say which thing they mean: its tag, place in the rig or name, or what a report calls it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from rigcheck.rig.thing import Thing

__all__ = ["is_named_for_good", "is_same_name", "named_things"]


def named_things(word: str, things: Iterable[Thing]) -> Iterator[Thing]:
    """Yield the things that a word names: by tag, or else by place in the rig, name or label."""
    listed = list(things)
    tagged = [one for one in listed if one.tag and is_same_name(one.tag, word)]
    if tagged:
        yield from tagged
        return
    yield from (one for one in listed if _is_at(one, word) or is_same_name(one.label, word))


def is_named_for_good(word: str, thing: Thing) -> bool:
    """Whether a word that names a thing still does when parts come and go before it.

    A number in what a report calls a thing is counted in the order of flow.
    """
    return is_same_name(word, thing.tag) or _is_at(thing, word) or not any(one.number for one in _up_from(thing))


def is_same_name(one: str, other: str) -> bool:
    """Whether two names are the same but for case, blanks and quotes."""
    return _folded(one) == _folded(other)


def _is_at(thing: Thing, word: str) -> bool:
    called = thing.facts.get("name")
    return _steps(word) == _steps(thing.path) or (isinstance(called, str) and is_same_name(called, word))


def _steps(path: str) -> list[str]:
    """Return a place in a rig step by step: lines[0].parts[3] and lines.0.parts.3 are the same."""
    return re.split(r"[\[\].]+", path.strip().rstrip("]"))


def _up_from(thing: Thing) -> Iterator[Thing]:
    at: Thing | None = thing
    while at is not None:
        yield at
        at = at.parent


def _folded(text: str) -> str:
    return " ".join(text.casefold().replace("“", "").replace("”", "").replace('"', "").split())
