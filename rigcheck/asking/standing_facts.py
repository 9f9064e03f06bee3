"""What of a look belongs into the description of its rig: facts that stand until the thing is changed."""

from __future__ import annotations

from collections.abc import Iterable
from collections.abc import Mapping as Pairs
from datetime import date

from msgspec import Struct

from rigcheck.asking.given_answers import given_answers
from rigcheck.rig.fact import UNKNOWN_WORDS
from rigcheck.rig.look_file import LookFile
from rigcheck.rig.thing import Rig, Thing
from rigcheck.text.yamlfile import Scalar, Sequence, file_of

__all__ = ["Sight", "standing_facts"]

_Value = str | tuple[str, ...]


class Sight(Struct, frozen=True):
    """Standing facts of one thing that one person saw on one day (`2026-11-25`), as they were written.

    `otherwise`: what the description says itself of those that it says something else of.
    """

    thing: Thing
    day: str
    by: str
    facts: Pairs[str, _Value]
    otherwise: Pairs[str, str]


def standing_facts(looks: Iterable[LookFile], rig: Rig) -> list[Sight]:
    """Return what looks at a rig say of standing facts, by look and thing; the last that each of them says."""
    return [sight for look in sorted(looks, key=lambda one: (one.day, one.file)) for sight in _of_look(look, rig)]


def _of_look(look: LookFile, rig: Rig) -> Iterable[Sight]:
    by_thing: dict[str, dict[str, _Value]] = {}
    things = {thing.path: thing for thing in rig.things}
    for (path, name), said in given_answers(look, rig).items():
        if not things[path].kind.facts[name].entry.lasts and said[-1] not in UNKNOWN_WORDS:
            by_thing.setdefault(path, {})[name] = said[-1]
    day = date.fromordinal(look.day).isoformat()
    for path in sorted(by_thing, key=list(things).index):
        facts, thing = by_thing[path], things[path]
        otherwise = {name: text for name in facts if (text := _said_otherwise(thing, name, look.file))}
        yield Sight(thing, day, look.by, facts, otherwise)


def _said_otherwise(thing: Thing, name: str, look: str) -> str:
    """Return what the description itself says of a fact, where that is something else than the look says."""
    node = thing.places.get(name)
    if not isinstance(node, (Scalar, Sequence)) or file_of(node, ""):  # of the standard rig, or of another file
        return ""
    seen = [one.value for one in thing.said.get(name, ()) if one.place.file == look]
    if not seen or seen[-1] == thing.facts[name]:
        return ""
    return node.text if isinstance(node, Scalar) else ", ".join(_texts(node))


def _texts(node: Sequence) -> Iterable[str]:
    return (one.text for one in node.items if isinstance(one, Scalar))
