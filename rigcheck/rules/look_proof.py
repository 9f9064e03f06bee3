"""Proof of the looks: each fact is answered once, by an act that can know it, and no danger hides in a list."""

from __future__ import annotations

from collections.abc import Iterator

from rigcheck.condition.named_facts import named_facts
from rigcheck.rig.fact import Fact
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.looks import Look, Looks, looks_of
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Fault
from rigcheck.text.place import Place

__all__ = ["dangerous_facts", "prove_looks"]

_IDENTITY = ("kind", "name", "tag")
_CHOICES = ("words", "yes_no")
_SENSES = ("look", "touch", "try")
_SENSED = (*_CHOICES, "several_words", "count")
"""What eyes, hands and a trial can tell; a figure, a day or a text is read off, measured or asked for."""


def prove_looks(pack: Pack) -> list[Fault]:
    """Return what is wrong with the looks of a pack, each with its place. Raises `Refused` where one is unreadable."""
    looks = looks_of(pack)
    if not looks.looks:
        return []
    return [*_unanswered(pack, looks), *_stale(pack, looks), *_wrong(pack, looks)]


def dangerous_facts(pack: Pack) -> frozenset[tuple[str, str]]:
    """Return kind and name of the facts that a DANGER rule holds a thing to."""
    found: set[tuple[str, str]] = set()
    for rule in pack.rules.values():
        if rule.signal == "danger":
            found |= set(named_facts(rule.holds, rule.kind, pack.vocabulary))
    return frozenset(found)


def _unanswered(pack: Pack, looks: Looks) -> Iterator[Fault]:
    place = Place(_stations_file(pack), 1, 1)
    passed_over: dict[tuple[str, str], None] = {}
    for kind in pack.vocabulary.kinds.values():
        if kind.name in looks.beyond:
            continue
        for fact in _stated(kind):
            if any(f"{base}.{fact.name}" in looks.beyond for base in kind.lineage):
                continue
            answered = looks.answering(kind.lineage, fact.name)
            times = sum(one.facts.count(fact.name) for one in answered)
            if times == 0:
                passed_over[_declaring(pack, kind, fact.name), fact.name] = None
            elif times > 1:
                named = ", ".join(one.name for one in answered)
                yield Fault(place, f"{kind.name}.{fact.name} is answered {times} times: {named}.", "Let one look ask.")
    yield from (_passed_over(pack, kind, name, place) for kind, name in passed_over)


def _declaring(pack: Pack, kind: Kind, name: str) -> str:
    """Return the kind or trait that a fact was declared of, from which the kind has it."""
    known = pack.vocabulary.looked_at
    having = [known[one] for one in kind.lineage if name in known[one].facts]
    return next(one.name for one in having if not one.base or name not in known[one.base].facts)


def _passed_over(pack: Pack, kind: str, name: str, stations: Place) -> Fault:
    """Return the fault of a fact that no look answers, told of the folder that brought the fact where one did."""
    read = f"No look answers {kind}.{name}."
    brought = next((one.file for one in pack.laid if one.name == f"{kind}.{name}"), None)
    if brought is not None:
        file, _, line = brought.rpartition(":")
        write = f"Add a look at a {kind} that asks it to this folder: a file in its folder looks."
        return Fault(Place(file, int(line), 1), read, write)
    return Fault(stations, read, f"Add it to a look at a {kind}, or name '{kind}.{name}' under 'beyond' and why.")


def _stale(pack: Pack, looks: Looks) -> Iterator[Fault]:
    kinds = pack.vocabulary.looked_at
    place = Place(_stations_file(pack), 1, 1)
    for name in looks.beyond:
        kind, _, fact = name.partition(".")
        if kind not in kinds or (fact and fact not in kinds[kind].facts):
            yield Fault(place, f"'beyond' names {name}, which there is not.", "Take it out.")
    for name in looks.stations:
        if not any(one.station == name for one in looks.looks.values()):
            yield Fault(place, f"No look is made at the station {name!r}.", "Take it out, or use it.")


def _wrong(pack: Pack, looks: Looks) -> Iterator[Fault]:
    deadly = dangerous_facts(pack)
    for look in looks.looks.values():
        kind, place = pack.vocabulary.looked_at[look.looks_at], looks.places[look.name]
        for name in dict.fromkeys(look.facts):
            fact = kind.facts[name]
            if look.act in _SENSES and fact.measure not in _SENSED and name not in _IDENTITY:
                read = f"To {look.act} does not tell {name}: that is a {fact.measure.replace('_', ' ')}."
                yield Fault(place, read, "Put it into a look that reads, measures or asks.")
            if _can_kill(kind, name, deadly) and fact.measure in _CHOICES and not _alone(look, name):
                read = f"{name} can be a DANGER, and shares its question."
                yield Fault(place, read, "Write it under 'each', or alone in a group of 'alike'.")
        yield from (_fault_of_list(place, name) for name in _same_as_fine(look))
        for name in look.again:
            if name not in look.facts:
                yield Fault(place, f"{name} is asked again, and never asked.", "Write it among its facts too.")


def _alone(look: Look, name: str) -> bool:
    """Whether a choice is asked by itself, or read off a marking, a dial or a paper with others."""
    return any(
        names == (name,) or look.act == "read" for names, _, listed in look.groups if listed is None and name in names
    )


def _same_as_fine(look: Look) -> Iterator[str]:
    """Yield the ticks that say nothing else than that nothing is wrong, or speak of what the list does not."""
    for listed in look.lesser:
        for tick in listed.ticks:
            if any(listed.fine.get(name, value) == value for name, value in tick.tells.items()):
                yield tick.shows


def _fault_of_list(place: Place, shows: str) -> Fault:
    return Fault(place, f"“{shows}” tells what is fine anyway.", "Let it tell another value of a fact of 'fine'.")


def _can_kill(kind: Kind, name: str, deadly: frozenset[tuple[str, str]]) -> bool:
    return any((base, name) in deadly for base in kind.lineage)


def _stated(kind: Kind) -> Iterator[Fact]:
    return (one for one in kind.facts.values() if not one.computed and one.name not in _IDENTITY)


def _stations_file(pack: Pack) -> str:
    return next((path for path, _ in pack.look_files if path.endswith("/stations.yaml")), "looks/stations.yaml")
