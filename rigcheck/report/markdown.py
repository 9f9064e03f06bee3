"""An inspection as Markdown, for the summary page of a continuous-integration run."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date

from rigcheck.faults import Fault
from rigcheck.inspection import Finding, Inspection, Question
from rigcheck.report.text import CAUTION
from rigcheck.rules.rule import Signal

__all__ = ["markdown_refusal", "markdown_rig"]


def markdown_rig(inspection: Inspection, *, hold_at: Signal, on_unproven: bool) -> str:
    """Return one inspection as a section: its state, a table of findings, a folded list of questions."""
    return "\n".join(_lines(inspection, hold_at, on_unproven)) + "\n"


def markdown_refusal(file: str, faults: Iterable[Fault]) -> str:
    """Return a file that could not be read as a section."""
    told = [f"- {_plain(str(fault))}" for fault in faults]
    return "\n".join([f"## {_plain(file)}", "", "Not read:", "", *told, ""]) + "\n"


def _lines(inspection: Inspection, hold_at: Signal, on_unproven: bool) -> Iterator[str]:
    day = date.fromordinal(inspection.day).isoformat()
    yield f"## {_plain(inspection.rig)}"
    yield ""
    state = inspection.state(hold_at, on_unproven=on_unproven).capitalize()
    yield f"**{state}** under local code {inspection.local_code} on {day} ({_plain(inspection.file)})."
    yield ""
    if inspection.findings:
        yield "| Signal | Thing | Must be | Found | Do | Where |"
        yield "| --- | --- | --- | --- | --- | --- |"
        yield from (_row(finding) for finding in inspection.findings)
        yield ""
    if inspection.questions:
        yield f"<details><summary>{len(inspection.questions)} facts not yet shown</summary>"
        yield ""
        yield from (_question(question) for question in inspection.questions)
        yield ""
        yield "</details>"
        yield ""
    yield f"_{CAUTION}_"
    yield ""


def _row(finding: Finding) -> str:
    found = "; ".join(f"{one.fact}: {one.value}" for one in finding.found)
    where = f"{finding.place.file}:{finding.place.line}"
    cells = (f"**{finding.signal.upper()}**", *map(_plain, (finding.thing, finding.claim, found)))
    return "| " + " | ".join((*cells, _plain(finding.put_right), _plain(where))) + " |"


def _question(question: Question) -> str:
    asked = f"Too close to call: {question.too_close}." if question.too_close else question.ask
    return f"- {question.signal.upper()} {_plain(question.thing)}: {_plain(asked)} (line {question.place.line})"


def _plain(text: str) -> str:
    """Return text with everything escaped that Markdown or HTML would read as markup, on one line."""
    escaped = re.sub(r"([\\`*_{}\[\]()#+!|~-])", r"\\\1", " ".join(text.split()))
    return escaped.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
