"""A folder of Parquet files, one a table, laid whole or not at all.

The draft is a hidden folder beside its place. Where the system can exchange two folders (Linux), there is no moment at
which neither stands there; elsewhere there is one between two moves. A process that is killed leaves its draft, which
the next one that writes the same tables takes away: a draft is locked by whoever writes it.
"""

from __future__ import annotations

import ctypes
import os
import shutil
import sys
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Any, BinaryIO, Self

from rigcheck.cli.console import ProblemFound
from rigcheck.cli.draft import draft_name, lock, take_dead_drafts_away
from rigcheck.report.rows import FORM, TABLES, Rows

__all__ = ["ParquetFolder"]

_AT_ONCE = 20_000  # rows that are kept until they are written


class ParquetFolder:
    """Takes rows in, in any order; at the end of the block the folder stands in its place, or what was there before.

    Raises `ProblemFound` where the library is not there, the folder is not one of ours, or cannot be written.
    """

    def __init__(self, path: Path, head: Mapping[str, str]) -> None:
        _library()
        if os.path.lexists(path) and not _is_ours(path):
            raise ProblemFound(f"{path} is there and is no folder of these tables; name another one.")
        self.path = path
        self.draft = draft_name(path)
        self.head = {b"form": FORM.encode(), **{key.encode(): value.encode() for key, value in head.items()}}
        self.lock: int | None = None
        self.files: dict[str, BinaryIO] = {}
        self.writers: dict[str, Any] = {}
        self.held: dict[str, list[tuple[Any, ...]]] = {table: [] for table in TABLES}

    def __enter__(self) -> Self:
        from pyarrow.parquet import ParquetWriter

        try:
            with _Told(self.path):
                self.draft.mkdir()
                self.lock = os.open(self.draft, os.O_RDONLY) if os.name == "posix" else None
                if self.lock is not None:
                    lock(self.lock)
                for table in TABLES:
                    self.files[table] = open(self.draft / f"{table}.parquet", "xb")
                    self.writers[table] = ParquetWriter(self.files[table], _schema(table, self.head))
        except BaseException:
            self._drop()
            raise
        return self

    def __exit__(self, kind: type[BaseException] | None, *_: TracebackType | BaseException | None) -> None:
        try:
            if kind is None:
                with _Told(self.path):
                    self._settle()
                    self._take_the_place()
        finally:
            self._drop()

    def add(self, rows: Rows) -> None:
        """Take the rows of one file in."""
        for table, more in rows.items():
            self.held[table] += more
            if len(self.held[table]) >= _AT_ONCE:
                with _Told(self.path):
                    self._write(table)

    def _write(self, table: str) -> None:
        import pyarrow

        schema = _schema(table, self.head)
        columns = zip(*self.held[table], strict=True) if self.held[table] else ([] for _ in schema)
        arrays = [pyarrow.array(list(column), field.type) for column, field in zip(columns, schema, strict=True)]
        self.writers[table].write_table(pyarrow.Table.from_arrays(arrays, schema=schema))
        self.held[table] = []

    def _settle(self) -> None:
        """Have all of the draft on the disk."""
        for table, writer in self.writers.items():
            self._write(table)
            writer.close()
            file = self.files[table]
            file.flush()
            os.fsync(file.fileno())
            file.close()

    def _drop(self) -> None:
        """Take away what is left of the draft; a disk that is full says so again with every file, and is not asked."""
        for table, writer in self.writers.items():
            with suppress(OSError):
                writer.close()
            writer.is_open = False  # or it is closed once more, and complains, when it is swept
            with suppress(OSError):
                self.files[table].close()
        shutil.rmtree(self.draft, ignore_errors=True)
        if self.lock is not None:
            os.close(self.lock)

    def _take_the_place(self) -> None:
        if not self.path.exists():
            self.draft.rename(self.path)
        elif not _exchanged(self.draft, self.path):
            old = self.draft.with_name(f"{self.draft.name}.old")
            self.path.rename(old)
            try:
                self.draft.rename(self.path)
            except OSError:
                old.rename(self.path)
                raise
            shutil.rmtree(old, ignore_errors=True)
        take_dead_drafts_away(self.path)


_HERE, _EXCHANGE = -100, 2  # AT_FDCWD and RENAME_EXCHANGE of Linux


def _exchanged(one: Path, other: Path) -> bool:
    """Whether two folders have taken each other's place, in one step."""
    if sys.platform != "linux":
        return False
    call = getattr(ctypes.CDLL(None), "renameat2", None)
    return call is not None and call(_HERE, os.fsencode(one), _HERE, os.fsencode(other), _EXCHANGE) == 0


class _Told:
    """Tells what goes wrong with the folder."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def __enter__(self) -> None:
        pass

    def __exit__(self, _: object, error: BaseException | None, __: object) -> None:
        if isinstance(error, OSError):
            raise ProblemFound(f"{self.path} cannot be written: {error.strerror or error}.") from None


def _library() -> None:
    """Say it before thousands of rigs are read, where the library is not there."""
    try:
        import pyarrow  # noqa: F401  only tables need it
    except ImportError:
        raise ProblemFound("tables need the library pyarrow: install rigcheck[rows].") from None


def _schema(table: str, head: Mapping[bytes, bytes]) -> Any:
    import pyarrow

    sorts = {
        "text": pyarrow.string(),
        "texts": pyarrow.list_(pyarrow.string()),
        "count": pyarrow.int64(),
        "number": pyarrow.float64(),
        "day": pyarrow.date32(),
        "yes_no": pyarrow.bool_(),
    }
    return pyarrow.schema([(name, sorts[sort]) for name, sort in TABLES[table].items()], dict(head))


def _is_ours(path: Path) -> bool:
    """Whether a folder holds nothing but tables as these, and each of them says so."""
    from pyarrow.lib import ArrowException
    from pyarrow.parquet import read_schema

    try:
        files = list(path.iterdir())
        told = [(read_schema(file).metadata or {}).get(b"form", b"") for file in files]
    except (OSError, ArrowException):
        return False
    return {file.stem for file in files} <= {*TABLES} and all(form.startswith(b"rigcheck rows") for form in told)
