"""`rigcheck register`: the register from a table that people keep in a spreadsheet, and back."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from pathlib import Path

from rigcheck.cli.console import Console, ProblemFound, complain, screen_width
from rigcheck.cli.draft import new_file
from rigcheck.cli.endings import form_for
from rigcheck.cli.inputs import as_refused, rig_bytes, shown_name
from rigcheck.cli.pack_option import chosen_pack
from rigcheck.cli.register_input import register_files
from rigcheck.quantity.wording import counted
from rigcheck.report.text.layout import wrapped
from rigcheck.rig.register_reader import RegisterReader
from rigcheck.rig.register_rows import register_text, table_rows
from rigcheck.rig.register_table import LARGEST_TABLE, read_table
from rigcheck.rig.vocabulary import Vocabulary
from rigcheck.text.source_file import file_bytes
from rigcheck.text.yamlfile import LARGEST

__all__ = ["run"]


def run(parsed: Namespace) -> int:
    """Read a table, or write one; return 0, or 2 where anything was refused. Raises `ProblemFound`, `Refused`."""
    vocabulary = chosen_pack(parsed).vocabulary
    return _read(parsed, vocabulary) if parsed.action == "read" else _write(parsed, vocabulary)


def _read(parsed: Namespace, vocabulary: Vocabulary) -> int:
    form_for(Path(parsed.file), None, ("yaml",))
    if os.path.lexists(parsed.file):
        raise ProblemFound(f"{parsed.file} is there already; name a file that is not.")
    beside = _taken(parsed.register, vocabulary) if parsed.register else RegisterReader(vocabulary, "")
    found = read_table(_table_bytes(parsed.table), shown_name(parsed.table), vocabulary, beside)
    complain(*map(str, found.faults))
    columns = f"{counted(len(found.left_out), 'column')} ({', '.join(found.left_out)})" if found.left_out else ""
    rows = counted(found.refused, "row") if found.refused else ""
    refused = " and ".join(filter(None, (columns, rows)))
    if refused and not parsed.what_can_be_read:
        of = f"{found.refused} of {counted(found.rows, 'row')}" if rows else ""
        raise ProblemFound(f"{' and '.join(filter(None, (columns, of)))} refused; nothing was written.")
    if not found.things:
        raise ProblemFound(f"{parsed.table} has no row that can be written.")
    name = parsed.called or str(beside.root.facts.get("name", "")) or Path(parsed.table).stem
    text = register_text(name, found.things).encode()
    if len(text) > LARGEST:
        raise ProblemFound(f"the register would be larger than a file that is read; cut {parsed.table} into several.")
    new_file(parsed.file, text)
    left = f"; {refused} left out" if refused else ""
    _tell(f"Wrote {parsed.file}: {counted(len(found.things), 'thing')}{left}. Then: rigcheck inspect {parsed.file}")
    return 2 if refused else 0


def _write(parsed: Namespace, vocabulary: Vocabulary) -> int:
    form_for(Path(parsed.table), None, ("csv",))
    reader = _taken(parsed.register, vocabulary)
    new_file(parsed.table, "".join(table_rows(reader)).encode())
    _tell(f"Wrote {parsed.table}: {counted(len(reader.things), 'thing')}.")
    return 0


def _taken(path: str, vocabulary: Vocabulary) -> RegisterReader:
    """Return the files of a register, read and found without fault. Raises `Refused`."""
    reader = RegisterReader(vocabulary, shown_name(path))
    with as_refused(path):
        for one in register_files(path):
            reader.take(rig_bytes(one), shown_name(one))
    reader.register()
    return reader


def _table_bytes(path: str) -> bytes:
    try:
        return file_bytes(path, LARGEST_TABLE)
    except OSError as error:
        raise ProblemFound(f"{path} cannot be read: {error.strerror or error}.") from None


def _tell(words: str) -> None:
    Console(sys.stdout).show(wrapped(words, screen_width()))
