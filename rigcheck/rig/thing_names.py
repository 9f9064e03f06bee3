"""What people write to say which thing they mean: its tag, place in the rig or name, or what a report calls it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from rigcheck.rig.shared_tags import same_tag
from rigcheck.rig.thing import Thing

__all__ = ["NamedThings", "folded_name", "is_named_for_good", "is_same_name", "tag_of_another"]


class NamedThings:
    """The things of a rig by what a word may call them; made once where many words are looked up."""

    def __init__(self, things: Iterable[Thing]) -> None:
        self.things = tuple(things)
        self._tagged: dict[str, list[Thing]] = {}
        self._called: dict[str | tuple[str, ...], list[Thing]] = {}
        for one in self.things:
            if one.tag:
                self._tagged.setdefault(folded_name(one.tag), []).append(one)
            called = one.facts.get("name")
            names: list[str | tuple[str, ...]] = [_steps(one.path), folded_name(one.label)]
            names += [folded_name(called)] if isinstance(called, str) else []
            for name in dict.fromkeys(names):
                self._called.setdefault(name, []).append(one)

    def called(self, word: str) -> list[Thing]:
        """Return the things that a word names: by tag, or else by place in the rig, name or label."""
        tagged = self._tagged.get(folded_name(word))
        if tagged:
            return tagged
        found = [*self._called.get(_steps(word), ()), *self._called.get(folded_name(word), ())]
        return list(dict.fromkeys(found))


def is_named_for_good(word: str, thing: Thing) -> bool:
    """Whether a word that names a thing still does when parts come and go before it.

    A number in what a report calls a thing is counted in the order of flow.
    """
    return is_same_name(word, thing.tag) or _is_at(thing, word) or not any(one.number for one in _up_from(thing))


def is_same_name(one: str, other: str) -> bool:
    """Whether two names are the same but for case, blanks and quotes."""
    return folded_name(one) == folded_name(other)


def tag_of_another(seen: Thing, thing: Thing) -> str:
    """Return the tag that what was seen bears, where it is another one than that of the thing; else nothing."""
    return seen.tag if seen.tag and thing.tag and not is_same_name(seen.tag, thing.tag) else ""


def _is_at(thing: Thing, word: str) -> bool:
    called = thing.facts.get("name")
    return _steps(word) == _steps(thing.path) or (isinstance(called, str) and is_same_name(called, word))


def _steps(path: str) -> tuple[str, ...]:
    """Return a place in a rig step by step: lines[0].parts[3] and lines.0.parts.3 are the same."""
    return tuple(re.split(r"[\[\].]+", path.strip().rstrip("]")))


def _up_from(thing: Thing) -> Iterator[Thing]:
    at: Thing | None = thing
    while at is not None:
        yield at
        at = at.parent


def folded_name(text: str) -> str:
    """Return a name without what two ways of writing it differ in: case, blanks and quotes."""
    return same_tag(text.replace("“", "").replace("”", "").replace('"', ""))
