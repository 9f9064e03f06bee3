"""Sights that name a place of a rig, and not the tag that the part there bears: whether they are of that part.

A part is changed and its place stays, so what was seen at a place may be of the part that was there before.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigcheck.quantity.interval import Interval
from rigcheck.quantity.wording import shown_day
from rigcheck.rig.look_file import LookFile
from rigcheck.rig.thing import Thing
from rigcheck.rig.thing_names import NamedThings, is_same_name
from rigcheck.text.faults import shown_text

__all__ = ["SightsByPlace"]

_NOT_A_PART = ("rig", "line")


class SightsByPlace:
    """What looks say of the tags at the places of one rig, and of where tagged things were besides."""

    def __init__(self, looks: Iterable[LookFile], things: Iterable[Thing]) -> None:
        self.read: dict[Thing, list[tuple[int, str, str]]] = {}  # day, tag and look, by the thing of the place
        self.elsewhere: dict[Thing, int] = {}  # the last day on which a tagged thing was seen at another rig
        self.counted: dict[str, list[str]] = {}
        named = NamedThings(things)
        for look in sorted(looks, key=lambda look: look.day):
            for word, tag in look.tags():
                found = named.called(word)
                read = tag or (word if len(found) == 1 and is_same_name(word, found[0].tag) else "")
                if len(found) == 1 and read:
                    self.read.setdefault(found[0], []).append((look.day, read, look.file))

    def not_of(self, thing: Thing, look: LookFile, *, of_many: bool) -> str:
        """Return why what a look saw at the place of a thing is of another one, or nothing where it counts.

        What counts without anybody having read the tag there is kept, to be told; `of_many`: of every thing of a kind,
        whichever was there, which says so itself.
        """
        bearer = next(_bearers(thing), None)
        if bearer is None:
            return ""
        read = self.read.get(bearer, ())
        if any(file == look.file and is_same_name(tag, bearer.tag) for _, tag, file in read):
            return ""
        before = [one for one in read if one[0] <= look.day]
        nearest = before[-1] if before else read[0] if read else None
        if nearest is not None and not is_same_name(nearest[1], bearer.tag):
            return f"{shown_text(nearest[1])} was there on {shown_day(nearest[0])}"
        if before:
            return ""
        if self.elsewhere.get(bearer, 0) >= look.day:
            return f"{bearer.tag} was at another rig on {shown_day(self.elsewhere[bearer])}"
        if _made(bearer) > look.day:
            return f"{bearer.tag} was made after it"
        tags = self.counted.setdefault(f"{look.file}, {shown_day(look.day)}", [])
        tags += [] if of_many or bearer.tag in tags else [bearer.tag]
        return ""

    def told(self) -> tuple[str, ...]:
        """Return, by look, the tags of parts for which it counts though it has their places alone."""
        return tuple(f"{', '.join(tags)} ({look})" for look, tags in self.counted.items() if tags)


def _bearers(thing: Thing) -> Iterator[Thing]:
    """Yield a thing and what it is built into, where they bear a tag."""
    at: Thing | None = thing
    while at is not None and at.kind.name not in _NOT_A_PART:
        if at.tag:
            yield at
        at = at.parent


def _made(thing: Thing) -> float:
    """Return the first day on which a thing can have been made, as far as that is known."""
    values = [thing.facts.get("made"), *(one.value for one in thing.said.get("made", ()))]
    return max((value.lo for value in values if isinstance(value, Interval)), default=0)
