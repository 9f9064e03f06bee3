"""Files of limits, read and laid on those of the folders below."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

from rigcheck.quantity.notation import NotRead
from rigcheck.quantity.units import units_of
from rigcheck.quantity.wording import shown_day
from rigcheck.rules.documents import Differing, DocumentEntry, UnknownSource, find_source
from rigcheck.rules.file_models import LimitEntry, LimitsFile, ValueEntry
from rigcheck.rules.limits import DatedLimit, LimitDefinition, first_day, in_force, limit_value, looser
from rigcheck.rules.overlay import How
from rigcheck.rules.pack import Pack
from rigcheck.text.binding import bind, node_at
from rigcheck.text.faults import Fault, nearest_word, with_article
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Node, read_yaml

__all__ = ["LimitChange", "LimitReader"]


class LimitChange(NamedTuple):
    """What a folder that is laid on top does to a limit: which, how, why, the values in words, and the line."""

    name: str
    how: How
    because: str
    told: str
    line: int


class LimitReader:
    """Reads files of limits, those of `general` first, and keeps what is wrong with them in `faults`.

    `note`: told of each change to what a folder below has, with the path of the file and the number of its folder.
    `lowest`: the pack of the lowest folder, where that was read before.
    """

    def __init__(
        self,
        documents: Mapping[str, DocumentEntry],
        note: Callable[[LimitChange, str, int], None],
        lowest: Pack | None = None,
    ) -> None:
        self.documents, self.note = documents, note
        self.definitions: dict[str, LimitDefinition] = {} if lowest is None else {**lowest.definitions}
        self.kept: list[DatedLimit] = [] if lowest is None else [*lowest.limits]
        self.faults: list[Fault] = []

    def dimensions(self) -> dict[str, str]:
        """Return the dimension of each limit by its name."""
        return {name: one.dimension for name, one in self.definitions.items()}

    def take(self, data: bytes, path: str, layer: int) -> None:
        """Take in one file of a folder. Raises `Refused` where it is no file of limits at all."""
        root = read_yaml(data, path)
        file = bind(LimitsFile, root, path)
        for name, entry in file.limits.items():
            for number, value in enumerate(entry.values):
                node = node_at(root, ("limits", name, "values", number))
                limit = self._limit(name, file.local_code, value, entry, node, path, layer)
                new = file.local_code == "general" and name not in self.definitions
                if limit is not None and (not new or self._define(limit, entry, node, path)):
                    self._lay(limit, node, path)

    def _limit(
        self, name: str, code: str, entry: ValueEntry, whole: LimitEntry, node: Node, path: str, layer: int
    ) -> DatedLimit | None:
        cited = [entry.drawn_from] if isinstance(entry.drawn_from, str) else entry.drawn_from
        try:
            return DatedLimit(
                name=name,
                local_code=code,
                since=first_day(entry.since),
                value=limit_value(entry.value),
                sources=tuple(find_source(text, self.documents) for text in cited),
                because=entry.because,
                since_from_memory=entry.since_from_memory,
                differs=tuple(
                    Differing(one.says, find_source(one.drawn_from, self.documents)) for one in whole.differs
                ),
                layer=layer,
            )
        except NotRead as error:
            self._refuse(node, path, f"Limit {name}: {error.wrong}", error.write)
        except UnknownSource as error:
            write = "Write 'common practice', or a document of documents.yaml and its clause."
            self._refuse(node, path, f"Limit {name}: {error.wrong}", write, error.near)
        return None

    def _refuse(self, node: Node, path: str, read: str, write: str, near: str = "") -> None:
        self.faults.append(Fault(Place(path, node.line, node.column), read, write, near))

    def _define(self, limit: DatedLimit, entry: LimitEntry, node: Node, path: str) -> bool:
        if limit.value is None or not entry.means or not entry.cautious:
            read = f"Limit {limit.name} is new, and general must say what it is."
            self._refuse(node, path, read, "Write 'means:', 'cautious: low' or 'high', and a value.")
            return False
        definition = LimitDefinition(limit.name, entry.means, entry.cautious, limit.value.dimension)
        self.definitions[limit.name] = definition
        return True

    def _lay(self, limit: DatedLimit, node: Node, path: str) -> None:
        defined = self.definitions.get(limit.name)
        if defined is None:
            near = nearest_word(limit.name, self.definitions)
            write = "Write a limit of general.yaml, or define it there."
            self._refuse(node, path, f"{limit.name!r} is no limit.", write, near)
        elif limit.value is not None and limit.value.dimension != defined.dimension:
            read = (
                f"Limit {limit.name} is {with_article(defined.dimension)}, here {with_article(limit.value.dimension)}."
            )
            units = ", ".join(units_of(defined.dimension))
            self._refuse(node, path, read, f"Write it in a unit of that dimension: {units}.")
        else:
            change = self._change(limit, defined, node.line) if limit.layer else None
            if change is not None:
                self.note(change, path, limit.layer)
            self.kept.append(limit)

    def _change(self, limit: DatedLimit, defined: LimitDefinition, line: int) -> LimitChange | None:
        """Compare a limit with what the folders below have in force from its day on, never with its own folder's."""
        known = [one for one in self.kept if one.name == limit.name and one.layer < limit.layer]
        days = {limit.since} | {one.since for one in known if one.since > limit.since}
        before = [one for day in sorted(days) if (one := in_force(known, limit.local_code, day).get(limit.name))]
        value = limit.value.text if limit.value else "withdrawn"
        less = next((one for one in before if looser(limit, one, defined.cautious)), None)
        name = f"{limit.name.replace('_', ' ')} ({limit.local_code}, since {shown_day(limit.since)})"
        if less is not None:
            told = f"{value} instead of {less.value.text if less.value else 'withdrawn'}"
            return LimitChange(name, "loosened", limit.because, told, line)
        if any(one.value != limit.value for one in before) or not before:
            return LimitChange(name, "tightened" if before else "added", "", value, line)
        return None
