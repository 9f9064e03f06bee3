"""Tags that things of several rigs bear: no thing stands in two rigs at once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple
from unicodedata import normalize

from rigcheck.rig.thing import Rig, Thing
from rigcheck.rig.vocabulary import Vocabulary
from rigcheck.text.place import Place

__all__ = ["MetTag", "fleet_of", "same_tag", "tags_of"]

_FLEET, _SHARED = "fleet", "shared tag"
_MOST_NAMED = 4  # rigs that bear a tag


class MetTag(NamedTuple):
    """A tag as a rig has it: what bears it, in which rig, and where that is written."""

    tag: str
    thing: str
    rig: str
    place: Place


def same_tag(tag: str) -> str:
    """Return what two spellings of one tag have in common: letters are the same in whatever form they are coded."""
    return " ".join((tag if tag.isascii() else normalize("NFKC", tag)).casefold().split())


def tags_of(rig: Rig) -> tuple[MetTag, ...]:
    """Return the tags of a rig; none of a site or a register, whose things stand in no rig."""
    if rig.root.kind.name != "rig":
        return ()
    tagged = (thing for thing in rig.things if thing.tag)
    return tuple(MetTag(thing.tag, thing.label, rig.title, rig.place(thing, "tag")) for thing in tagged)


def fleet_of(met: Iterable[MetTag], vocabulary: Vocabulary) -> Rig | None:
    """Return the tags that stand in several rigs as a value that can be judged; None where there are none.

    What one file says for several rigs, as a site of its people, is one thing; so are two descriptions of one rig.
    """
    kind = vocabulary.kinds.get(_SHARED)
    shared = {tag: several for tag, several in _by_tag(met).items() if len(several) > 1}
    if kind is None or not shared:
        return None
    rigs = list(dict.fromkeys(one.rig for several in shared.values() for one in several))
    file = next(iter(shared.values()))[0].place.file
    root = Thing(vocabulary.kinds[_FLEET], _FLEET, None, 1, 1)
    root.facts["name"] = " and ".join(rigs) if len(rigs) < 3 else f"{len(rigs)} rigs"
    made = [root]
    for several in shared.values():
        at = several[-1].place
        called = " and ".join(f"{one.thing} of “{one.rig}” ({one.place})" for one in several[:_MOST_NAMED])
        called += f" and {len(several) - _MOST_NAMED} more" if len(several) > _MOST_NAMED else ""
        thing = Thing(kind, f"tag {several[0].tag}: {called}", root, at.line, at.column, at.file)
        thing.facts["bearers"] = tuple(one.rig for one in several)
        made.append(thing)
    for thing in made:
        thing.seal()
    return Rig(file, root, tuple(made), frozenset())


def _by_tag(met: Iterable[MetTag]) -> Mapping[str, list[MetTag]]:
    """Return the tags with the rigs that have them, each rig and each place once."""
    found: dict[str, list[MetTag]] = {}
    known: set[tuple[str, str | Place]] = set()
    for one in met:
        same = same_tag(one.tag)
        of_this: set[tuple[str, str | Place]] = {(same, one.rig), (same, one.place)}
        if not of_this & known:
            known |= of_this
            found.setdefault(same, []).append(one)
    return found
