"""A record to fill in: every step of a sheet, each behind a '#' until it was done."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator

from rigcheck.procedure.sheet import Sheet, SheetRow, SheetValue
from rigcheck.quantity.wording import shown_day
from rigcheck.text.harmless import harmless

__all__ = ["record_skeleton"]

_WIDTH = 100


def record_skeleton(sheet: Sheet, rig: str, cautions: Iterable[str]) -> str:
    """Return a record of a sheet as YAML text; `rig` is the path of the rig's file, seen from the record.

    `cautions`: the state of the rig and what else stands at the top of the sheet.

    No step counts as done until somebody takes its '#' away.
    """
    return "\n".join(_lines(sheet, rig, cautions)) + "\n"


def _lines(sheet: Sheet, rig: str, cautions: Iterable[str]) -> Iterator[str]:
    yield f"# Record of {harmless(sheet.title)}: {harmless(sheet.rig)}."
    yield "# Take the # off each step that was done, in the order in which it was done, and write what was measured"
    yield '# in place of each "?". Leave out what was not done. Then: rigcheck inspect this-file.yaml'
    yield "#"
    for told in cautions:
        yield from _comment("!", told, indent="")
    yield ""
    yield f"record: {sheet.procedure}"
    yield f"rig: {json.dumps(rig, ensure_ascii=False)}"
    yield f"done: {shown_day(sheet.day)}"
    yield "by: the user who works with it   # a role, no name"
    yield "steps:"
    for row in sheet.rows:
        yield from _comment(f"{row.number}.", row.do)
        for value in row.values:
            yield from _comment(f"   {value.name}:", _wanted(value))
        yield f"#  - {row.step}: {{{', '.join(_facts(row))}}}"


def _facts(row: SheetRow) -> Iterator[str]:
    if row.thing:
        yield f"thing: {json.dumps(row.thing, ensure_ascii=False)}"
    yield 'at: "?"'
    yield from (f'{value.name}: "?"' for value in row.values)


def _comment(head: str, text: str, indent: str = "    ") -> Iterator[str]:
    """Yield a text as comment lines that stay behind their '#' when a step's own is taken away."""
    line = f"{indent}# {head}"
    for word in harmless(text).split():
        if len(line) + 1 + len(word) > _WIDTH:
            yield line
            line = f"{indent}# {' ' * len(head)}"
        line += f" {word}"
    yield line


def _wanted(value: SheetValue) -> str:
    choices = f" ({' / '.join(value.choices)})" if value.choices else ""
    required = f" Must be: {value.required}." if value.required else ""
    return f"{value.ask}{choices}{required}"
