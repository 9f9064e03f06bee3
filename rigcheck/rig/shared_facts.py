"""What the rigs of a site share: written once in the site file, and laid into each rig that names it."""

from __future__ import annotations

from msgspec import Struct

from rigcheck.rig.thing import Thing
from rigcheck.rig.thing_reader import Reading
from rigcheck.rig.vocabulary import Vocabulary
from rigcheck.text.faults import Refused, shown_text
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, Node, Scalar, Sequence, read_yaml

__all__ = ["SHARED", "SharedFacts", "lay_shared", "shared_facts", "site_body"]

SHARED = ("site", "job", "tools", "people", "breaks", "overnight")
"""The things of a rig that a site file may state for all of them."""


class SharedFacts(Struct, frozen=True):
    """What a site file states for every rig that it lists; `rigs`: their files, as the site file writes them."""

    file: str
    stated: Mapping
    rigs: tuple[str, ...]


def site_body(data: bytes, reading: Reading) -> Mapping:
    """Return the top of a site file, its shape looked over; other faults are kept by `reading`. Raises `Refused`."""
    root = read_yaml(data, reading.file, reading.faults)
    if not isinstance(root, Mapping) or "site" not in root.items:
        reading.refuse(root, "This is no site file.", "Begin with 'site: what the place is called'.")
        raise Refused(reading.faults)
    shared = root.items.get("shared")
    if shared is not None and not isinstance(shared, Mapping):
        reading.refuse(shared, "What the rigs share is no mapping.", "Write 'shared:' and in it 'site: {…}'.")
    for node in _listed(root):
        entry = node.items.get("file") if isinstance(node, Mapping) else None
        if not isinstance(entry, Scalar) or not entry.text.strip():
            write = "Write '- file: plate-shop.yaml', the path of the rig's file seen from here."
            reading.refuse(node, "This entry names no rig file.", write)
    return root


def shared_facts(data: bytes, file: str, vocabulary: Vocabulary) -> SharedFacts:
    """Return what a site file shares. Raises `Refused`; its other facts are read by `load_premises`."""
    reading = Reading(file, vocabulary)
    root = site_body(data, reading)
    if reading.faults:
        raise Refused(reading.faults)
    stated = root.items.get("shared")
    files = (node.items["file"] for node in _listed(root) if isinstance(node, Mapping))
    rigs = tuple(one.text for one in files if isinstance(one, Scalar))
    return SharedFacts(file, stated if isinstance(stated, Mapping) else Mapping(1, 1), rigs)


def lay_shared(reading: Reading, root: Thing, shared: SharedFacts) -> None:
    """Lay what the rigs of a site share into one of them: what the rig states itself stands.

    People of the site work with the rig beside its own.
    """
    other = Reading(shared.file, reading.vocabulary)
    for key, node in shared.stated.items.items():
        held = root.kind.holds.get(key)
        if key not in SHARED or held is None:
            read = f"{shown_text(key)} cannot be shared by the rigs of a site."
            other.refuse(shared.stated.keys[key], read, f"Write one of: {', '.join(SHARED)}.")
        elif held.many:
            _add(other, root, key, node)
        else:
            _lay(other, root, key, node)
    for thing in other.things:
        thing.file = shared.file
    reading.things += other.things
    reading.faults += (fault._replace(alone=True) for fault in other.faults)


def _add(other: Reading, root: Thing, key: str, node: Node) -> None:
    own = root.facts.get(key, ())
    other.inner(root, key, node)
    root.facts[key] = everybody = (*own, *root.facts[key])
    for number, one in enumerate(everybody, start=1):
        one.number = number if len(everybody) > 1 else 0


def _lay(other: Reading, root: Thing, key: str, node: Node) -> None:
    own = root.facts.get(key)
    if own is None:
        if key not in root.facts:  # else the rig says that it has none
            other.inner(root, key, node)
        return
    said = Thing(own.kind, key, root, node.line, node.column)
    other.fill(said, node)
    for name, where in said.places.items():
        if name not in own.places:
            own.facts[name] = said.facts[name]
            own.places[name] = Place(other.file, where.line, where.column)


def _listed(root: Mapping) -> list[Node]:
    rigs = root.items.get("rigs")
    return rigs.items if isinstance(rigs, Sequence) else [] if rigs is None else [rigs]
