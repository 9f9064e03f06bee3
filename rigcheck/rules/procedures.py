"""The procedures of a pack, prepared with it, or read when somebody first asks for one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rigcheck.rules.pack import Pack
from rigcheck.rules.steps import Procedure

__all__ = ["in_the_day", "procedures_of", "ways_out"]


def in_the_day(procedures: Iterable[Procedure]) -> list[Procedure]:
    """Return procedures as the day goes; what does not say where it comes stands last."""
    return sorted(procedures, key=lambda one: (one.turn, one.name))


def ways_out(procedures: Iterable[Procedure]) -> list[Procedure]:
    """Return those that leave a rig without gas, as the day goes, and none that only comes after one of them."""
    may = {one.name: one for one in procedures if one.despite_hold and not one.emergency}
    return in_the_day(one for one in may.values() if not may.keys() & set(one.comes_after))


def procedures_of(pack: Pack) -> Mapping[str, Procedure]:
    """Return the procedures of a pack by name, in the order of their names. Raises `Refused`."""
    kept: Mapping[str, Procedure] | None = pack.kept.get("procedures")
    if kept is None:
        from rigcheck.rules.procedure_reader import read_procedures  # a prepared pack starts without what checks YAML

        dimensions = {name: one.dimension for name, one in pack.definitions.items()}
        own = {one.name for one in pack.laid if one.sort == "rule" and one.bends}
        signals = {name: None if name in own else rule.signal for name, rule in pack.rules.items()}
        made = read_procedures(pack.procedure_files, pack.vocabulary, pack.documents, dimensions, signals)
        kept = pack.kept["procedures"] = dict(sorted(made.items()))
    return kept
