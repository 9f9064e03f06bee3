"""The procedures of a pack, read when somebody first asks for one: inspecting a rig pays nothing for them."""

from __future__ import annotations

from collections.abc import Mapping

from rigcheck.procedure.procedure_reader import read_procedures
from rigcheck.procedure.steps import Procedure
from rigcheck.rules.pack import Pack

__all__ = ["procedures_of"]

_READ: dict[int, tuple[Pack, Mapping[str, Procedure]]] = {}
_MOST_READ = 8


def procedures_of(pack: Pack) -> Mapping[str, Procedure]:
    """Return the procedures of a pack by name, in the order of their names. Raises `Refused`."""
    kept = _READ.get(id(pack))
    if kept is None or kept[0] is not pack:
        if len(_READ) >= _MOST_READ:
            _READ.clear()
        dimensions = {name: one.dimension for name, one in pack.definitions.items()}
        made = read_procedures(pack.procedure_files, pack.vocabulary, pack.documents, dimensions)
        kept = _READ[id(pack)] = (pack, dict(sorted(made.items())))
    return kept[1]
