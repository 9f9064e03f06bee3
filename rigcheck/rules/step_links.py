"""How steps and procedures refer to each other: unknown names, doubled names, and circles."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from graphlib import CycleError, TopologicalSorter

from msgspec import Struct

from rigcheck.rules.procedure_file import ProcedureFile
from rigcheck.text.binding import node_at, place_of
from rigcheck.text.faults import Fault, nearest_word, shown_text
from rigcheck.text.yamlfile import Mapping as MappingNode

__all__ = ["Written", "link_faults"]

_WAITS = ("after", "after_on_line")
Path = tuple[str | int, ...]


class Written(Struct, frozen=True):
    """A procedure file as it was written."""

    name: str
    file: str
    root: MappingNode
    model: ProcedureFile

    def fault(self, path: Path, read: str, write: str, near: str = "") -> Fault:
        """Return a fault at the longest part of a path that was written."""
        return Fault(place_of(node_at(self.root, path), self.file), read, write, near)


def link_faults(procedures: Iterable[Written]) -> Iterator[Fault]:
    """Yield what is wrong with the names by which steps and procedures refer to each other."""
    known = {one.name: one for one in procedures}
    homes = {step.step: one.name for one in known.values() for step in one.model.steps}
    for one in known.values():
        yield from _doubled(one)
        yield from _unknown_steps(one, homes)
        yield from _unknown_procedures(one, known)
        yield from _circle_of_steps(one)
    yield from _circle_of_procedures(known)


def _doubled(one: Written) -> Iterator[Fault]:
    seen: set[str] = set()
    for number, entry in enumerate(one.model.steps):
        if entry.step in seen:
            read = f"A second step is called {shown_text(entry.step)}."
            yield one.fault(("steps", number, "step"), read, "Give each step a name of its own.")
        seen.add(entry.step)


def _unknown_steps(one: Written, homes: Mapping[str, str]) -> Iterator[Fault]:
    own = {entry.step for entry in one.model.steps}
    for number, entry in enumerate(one.model.steps):
        for key in (*_WAITS, "between_tries"):
            for place, name in enumerate(getattr(entry, key)):
                if name not in own:
                    yield _no_step(one, ("steps", number, key, place), name, own, homes)


def _no_step(one: Written, path: Path, name: str, own: set[str], homes: Mapping[str, str]) -> Fault:
    if name in homes:
        read = f"{shown_text(name)} is a step of {homes[name]}, so this step could never be reached."
        return one.fault(path, read, "Name a step of this procedure; put whole procedures under 'comes_after'.")
    read = f"{shown_text(name)} is no step here, so this step could never be reached."
    return one.fault(path, read, "Write the name of a step of this procedure.", nearest_word(name, own))


def _unknown_procedures(one: Written, known: Mapping[str, Written]) -> Iterator[Fault]:
    for place, name in enumerate(one.model.comes_after):
        if name not in known:
            near = nearest_word(name, known)
            read = f"{shown_text(name)} is no procedure."
            yield one.fault(("comes_after", place), read, "Write the name of a file of rules/procedures.", near)


def _circle_of_steps(one: Written) -> Iterator[Fault]:
    own = {entry.step: number for number, entry in enumerate(one.model.steps)}
    waits = {e.step: [name for key in _WAITS for name in getattr(e, key) if name in own] for e in one.model.steps}
    circle = _circle(waits)
    if circle:
        read = f"The steps wait for each other in a circle: {' after '.join(circle)}."
        key = next(key for key in _WAITS if circle[1] in getattr(one.model.steps[own[circle[0]]], key))
        yield one.fault(("steps", own[circle[0]], key), read, "Take one of these out of 'after' or 'after_on_line'.")


def _circle_of_procedures(known: Mapping[str, Written]) -> Iterator[Fault]:
    circle = _circle({name: [n for n in one.model.comes_after if n in known] for name, one in known.items()})
    if circle:
        read = f"The procedures wait for each other in a circle: {' after '.join(circle)}."
        yield known[circle[0]].fault(("comes_after",), read, "Take one of these out of 'comes_after'.")


def _circle(waits: Mapping[str, list[str]]) -> list[str]:
    """Return a circle as a list whose first is its last, each waiting for the next; empty where there is none."""
    try:
        TopologicalSorter(waits).prepare()
    except CycleError as error:
        found: list[str] = error.args[1]
        return found if found[1] in waits[found[0]] else found[::-1]
    return []
