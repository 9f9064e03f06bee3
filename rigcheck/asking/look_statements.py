"""What the rows of a look state, thing by thing: of those it names, of what is built into them, of every one."""

from __future__ import annotations

from collections.abc import Iterator

from rigcheck.rig.look_file import LookFile
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rig.thing_names import NamedThings
from rigcheck.text.yamlfile import Mapping, Node, Scalar, Sequence

__all__ = ["look_statements"]


def look_statements(look: LookFile, rig: Rig) -> Iterator[tuple[Thing, str, Node]]:
    """Yield thing, fact and what is written of it, in the order of the look; what the rig has not is passed over."""
    named = NamedThings(rig.things)
    for entry in look.entries:
        every, word = entry.items.get("every"), entry.items.get("thing")
        if isinstance(every, Mapping):
            for key, body in every.items.items():
                for thing in named.things:
                    if key in {base.replace(" ", "_") for base in thing.kind.lineage}:
                        yield from _stated_of(thing, body)
        else:
            for thing in named.called(word.text) if isinstance(word, Scalar) else ():
                yield from _stated_of(thing, entry)


def _stated_of(thing: Thing, body: Node) -> Iterator[tuple[Thing, str, Node]]:
    for name, node in body.items.items() if isinstance(body, Mapping) else ():
        if name in thing.kind.facts:
            yield thing, name, node
        elif name in thing.kind.holds:
            held = thing.facts.get(name)
            bodies = node.items if isinstance(node, Sequence) else [node]
            for one, inner in zip(held if isinstance(held, tuple) else (held,), bodies, strict=False):
                if isinstance(one, Thing):
                    yield from _stated_of(one, inner)
