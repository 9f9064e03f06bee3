"""The tags that were met so far in all rigs of a run: a few in memory, very many in a temporary file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from rigcheck.cli.console import ProblemFound
from rigcheck.rig.shared_tags import MetTag, same_tag
from rigcheck.text.place import Place

if TYPE_CHECKING:
    from sqlite3 import Connection

__all__ = ["MetTags"]

_FEW = 20_000  # some 0.4 kB each
_TABLE = "create table met (same text, tag text, thing text, rig text, file text, line integer, column_ integer)"
_SEVERAL = """select tag, thing, rig, file, line, column_ from met
    where same in (select same from met group by same having count(*) > 1) order by rowid"""


class MetTags:
    """Takes tags in, in the order of the rigs, and gives back those that may stand in several.

    Raises `ProblemFound` where the temporary file finds no room.
    """

    def __init__(self) -> None:
        self.few: list[MetTag] = []
        self.many: Connection | None = None

    def add(self, tags: Iterable[MetTag]) -> None:
        """Take in the tags of one rig."""
        self.few += tags
        if len(self.few) >= _FEW:
            self._lay_down()

    def __iter__(self) -> Iterator[MetTag]:
        """Yield the tags in order; where they are many, no tag that was met once."""
        if self.many is None:
            yield from self.few
            return
        self._lay_down()
        with _told():
            for tag, thing, rig, *place in self.many.execute(_SEVERAL):
                yield MetTag(tag, thing, rig, Place(*place))

    def _lay_down(self) -> None:
        import sqlite3  # most runs are over a few rigs

        with _told():
            if self.many is None:
                self.many = sqlite3.connect("")  # a file without a name, which is gone with this process
                self.many.execute(_TABLE)
            rows = ((same_tag(one.tag), one.tag, one.thing, one.rig, *one.place) for one in self.few)
            self.many.executemany("insert into met values (?, ?, ?, ?, ?, ?, ?)", rows)
        self.few = []


@contextmanager
def _told() -> Iterator[None]:
    from sqlite3 import Error  # as above

    try:
        yield
    except Error as error:
        raise ProblemFound(f"the tags of so many rigs find no room in a temporary file: {error}.") from None
