"""`rigcheck new`: a rig description to fill in, copied from a template, or a record made for a rig."""

from __future__ import annotations

import re
import sys
from argparse import Namespace
from pathlib import Path

from rigcheck.cli.console import Console, ProblemFound, screen_width
from rigcheck.cli.draft import new_file
from rigcheck.cli.endings import form_for
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.standard_rigs import digest_of
from rigcheck.text.faults import nearest_word
from rigcheck.text.harmless import harmless

__all__ = ["run"]

_RECORD = "record"


def run(parsed: Namespace) -> int:
    """Write a new file from a template or a new record, or list the templates."""
    if parsed.template == _RECORD:
        return _new_record(parsed)
    templates = {path.stem: path for path in sorted((configs_folder() / "templates").glob("*.yaml"))}
    if parsed.template is None:
        Console(sys.stdout).show(_listed(templates))
        return 0
    source = templates.get(parsed.template)
    if source is None:
        near = nearest_word(parsed.template, templates)
        hint = f"Nearest: {near}." if near else f"There are: {', '.join(templates)}."
        raise ProblemFound(f"no template is called {parsed.template!r}. {hint}")
    if parsed.procedure is not None:
        raise ProblemFound(f"{parsed.procedure!r} is one word too many; write a template and a file.")
    if parsed.file is None:
        raise ProblemFound(f"write a file name after {parsed.template!r}, as my-rig.yaml.")
    if parsed.day or parsed.rules or parsed.hold_at:
        raise ProblemFound("--day, --rules and --hold-at are for a record: a template is copied as it stands.")
    form_for(parsed.file, None, ("yaml",))
    new_file(parsed.file, _begun(source.stem, source.read_bytes(), parsed.local_code))
    Console(sys.stdout).show(_next_steps(parsed.file))
    return 0


def _begun(name: str, template: bytes, local_code: str | None) -> bytes:
    """Return a template as a description that says which standard rig it was begun from, and what that rests on.

    It is no longer made up, and stands under the local code that was asked for.
    """
    begun = (
        "# What came with the standard rig is presumed until somebody looks. Write 'seen: 2026-11-25' and\n"
        "# 'by: fitter' at the rig, a line, a part or anything else: it covers what is written inside it.\n"
        f"begun_from: {{standard_rig: {name}, digest: {digest_of(template)}}}\n\n"
    )
    before, rig, after = template.partition(b"\nrig:")
    text = before + b"\n" + begun.encode() + b"rig:" + after if rig else template
    kept = b"".join(line for line in text.splitlines(keepends=True) if not line.startswith(b"invented:"))
    return re.sub(rb"(?m)^local_code: \w+", f"local_code: {local_code}".encode(), kept) if local_code else kept


def _new_record(parsed: Namespace) -> int:
    from rigcheck.cli.commands.sheet import blank_record  # a template is copied without it

    if parsed.record is None:
        raise ProblemFound("write the rig, the procedure and a file name after 'record'.")
    form_for(parsed.record, None, ("yaml",))
    text, code = blank_record(parsed, str(parsed.file), parsed.procedure, parsed.record)
    new_file(parsed.record, text.encode())
    Console(sys.stdout).show(_next_steps(parsed.record, "Take the # off each step that was done"))
    return code


def _listed(templates: dict[str, Path]) -> list[Line]:
    lines = list(wrapped("Templates:", screen_width(), style="head"))
    for name, path in templates.items():
        first = path.read_text(encoding="utf-8").splitlines()[0].lstrip("# ")
        lines += labelled(name, first, screen_width(), column=34)
    return lines


def _next_steps(file: Path, what: str = "Fill in what stands under on_site") -> list[Line]:
    """Return what comes next; the command stands on a line of its own, unbroken, to be copied."""
    then = Line((("", harmless(f"rigcheck inspect {file}")),))
    return [*wrapped(f"Wrote {file}. {what}, then:", screen_width()), then]
