"""`rigcheck new`: a rig description to fill in, copied from a template, or a record made for a rig."""

from __future__ import annotations

import sys
from argparse import Namespace
from pathlib import Path

from rigcheck.cli.console import Console, ProblemFound
from rigcheck.cli.draft import new_file
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.standard_rigs import digest_of
from rigcheck.text.faults import nearest_word

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
    new_file(parsed.file, _begun_from(source.stem, source.read_bytes()))
    Console(sys.stdout).show(_next_steps(parsed.file))
    return 0


def _begun_from(name: str, template: bytes) -> bytes:
    """Return a template as a description that says which standard rig it was begun from, and what that rests on."""
    begun = (
        "# What came with the standard rig is presumed until somebody looks. Write 'seen: 2026-11-25' and\n"
        "# 'by: fitter' at the rig, a line, a part or anything else: it covers what is written inside it.\n"
        f"begun_from: {{standard_rig: {name}, digest: {digest_of(template)}}}\n\n"
    )
    before, rig, after = template.partition(b"\nrig:")
    return before + b"\n" + begun.encode() + b"rig:" + after if rig else template


def _new_record(parsed: Namespace) -> int:
    from rigcheck.cli.commands.sheet import blank_record  # a template is copied without it

    if parsed.record is None:
        raise ProblemFound("write the rig, the procedure and a file name after 'record'.")
    text = blank_record(parsed, str(parsed.file), parsed.procedure, parsed.record)
    new_file(parsed.record, text.encode())
    told = f"Wrote {parsed.record}. Take the # off each step that was done, then: rigcheck inspect {parsed.record}"
    Console(sys.stdout).show(wrapped(told, 100))
    return 0


def _listed(templates: dict[str, Path]) -> list[Line]:
    lines = list(wrapped("Templates:", 80, style="head"))
    for name, path in templates.items():
        first = path.read_text(encoding="utf-8").splitlines()[0].lstrip("# ")
        lines += labelled(name, first, 100, column=34)
    return lines


def _next_steps(file: Path) -> list[Line]:
    told = f"Wrote {file}. Fill in what stands under on_site, then: rigcheck inspect {file}"
    return list(wrapped(told, 100))
