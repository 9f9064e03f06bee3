"""The forms of a report: how one file is told in each, and what goes before, between and after.

Each form is imported when it is wanted: text, which most people ask for, starts without the others.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from msgspec import Struct

from rigcheck.facts.known import Purpose
from rigcheck.judge.inspection import Inspection
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.question_words import Told
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Signal
from rigcheck.text.faults import Fault
from rigcheck.text.place import Place
from rigcheck.text.source_file import file_text
from rigcheck.version import __version__

if TYPE_CHECKING:
    from rigcheck.report.sarif.parts import Bases
    from rigcheck.tasks.changes import Changes

__all__ = ["BEGINNINGS", "FOR_PEOPLE", "REFUSED", "RENDERED", "TEXT_HEAD", "Frame", "Judging", "frame_of"]

TEXT_HEAD = "rigcheck inspection\n"
_MARKDOWN_HEAD = "# rigcheck inspection\n\n"
FOR_PEOPLE = ("text", "markdown")
"""Forms that tell many rigs on a row each."""

BEGINNINGS: Mapping[str, tuple[str, ...]] = {
    "text": (TEXT_HEAD,),
    "json": ('{\n "form": "rigcheck report',),
    "sarif": ('{"$schema":"https://docs.oasis-open.org/sarif/',),
    "junit": ('<?xml version="1.0" encoding="utf-8"?>\n<testsuites name="rigcheck">',),
    "markdown": (_MARKDOWN_HEAD,),
    "lines": ("rigcheck inspection, line by line\n",),
}
"""How our own reports begin: only such a file may be written over."""


class Frame(Struct, frozen=True):
    """What stands round the files of a report.

    `end` is made of the counts by state, of refused files, and of what is new since an earlier report.

    Each file's text goes through `told`, in order, on its way into the report.
    """

    start: str
    between: str
    end: Callable[[Mapping[str, int], Sequence[str], Changes | None], str]
    told: Callable[[str], str] = str


# --- one file; a form is imported when it is made: the others start without it ---


def _json(inspection: Inspection, hold_at: Signal, on_unproven: Signal | None, questions: Told) -> str:
    from rigcheck.report.json.inspection_json import rig_entry

    return rig_entry(inspection, hold_at=hold_at, on_unproven=on_unproven).model_dump_json()


def _json_refusal(file: str, faults: tuple[Fault, ...]) -> str:
    from rigcheck.report.json.inspection_json import refused_entry

    return refused_entry(file, faults).model_dump_json()


def _sarif(inspection: Inspection, hold_at: Signal, on_unproven: Signal | None, questions: Told) -> str:
    from rigcheck.report.sarif.log import sarif_results

    return ",\n".join(sarif_results(inspection, _bases(), questions))


def _sarif_refusal(file: str, faults: tuple[Fault, ...]) -> str:
    """Return notifications; they stand at the end of a log, so the frame is given them."""
    from rigcheck.report.sarif.log import sarif_refusals

    return ",".join(sarif_refusals(faults, _bases()))


def _bases() -> Bases:
    """The folder that rigcheck runs in: what a log's places are relative to."""
    from rigcheck.report.sarif.parts import Bases

    return Bases(os.getcwd(), _line_at)


def _line_at(place: Place) -> str:
    """Return the line of a place; nothing where its file is no longer there, or never was."""
    lines = _lines_of(place.file) if place.file != "-" else ()
    return lines[place.line - 1] if 0 < place.line <= len(lines) else ""


@lru_cache(maxsize=16)
def _lines_of(file: str) -> tuple[str, ...]:
    try:
        return tuple(file_text(file).split("\n"))
    except (OSError, ValueError):
        return ()


def _junit(inspection: Inspection, hold_at: Signal, on_unproven: Signal | None, questions: Told) -> str:
    from rigcheck.report.junit import junit_suite

    return junit_suite(inspection, hold_at=hold_at, on_unproven=on_unproven, questions=questions)


def _junit_refusal(file: str, faults: tuple[Fault, ...]) -> str:
    from rigcheck.report.junit import junit_refusal

    return junit_refusal(file, faults)


def _markdown(inspection: Inspection, hold_at: Signal, on_unproven: Signal | None, questions: Told) -> str:
    from rigcheck.report.markdown import markdown_rig

    return markdown_rig(inspection, hold_at=hold_at, on_unproven=on_unproven, questions=questions)


def _markdown_refusal(file: str, faults: tuple[Fault, ...]) -> str:
    from rigcheck.report.markdown import markdown_refusal

    return markdown_refusal(file, faults)


def _lines(inspection: Inspection, hold_at: Signal, on_unproven: Signal | None, questions: Told) -> str:
    from rigcheck.report.lines import rig_in_lines

    return rig_in_lines(inspection, hold_at=hold_at, on_unproven=on_unproven, questions=questions)


def _lines_refusal(file: str, faults: tuple[Fault, ...]) -> str:
    from rigcheck.report.lines import unread_in_lines

    return unread_in_lines(faults)


RENDERED: Mapping[str, Callable[[Inspection, Signal, Signal | None, Told], str]] = {
    "json": _json,
    "sarif": _sarif,
    "junit": _junit,
    "markdown": _markdown,
    "lines": _lines,
}
"""How an inspection is told in each form; only one for people leaves out questions that are not wanted."""
REFUSED: Mapping[str, Callable[[str, tuple[Fault, ...]], str]] = {
    "json": _json_refusal,
    "sarif": _sarif_refusal,
    "junit": _junit_refusal,
    "markdown": _markdown_refusal,
    "lines": _lines_refusal,
}


# --- round all files ---


class Judging(Struct, frozen=True):
    """By what all files of a report are judged; `local_code` is empty where each rig names its own."""

    pack: Pack
    hold_at: Signal
    local_code: str
    purpose: Purpose


def frame_of(form: str, judging: Judging) -> Frame:
    """Return what stands round the files in a form."""
    return _FRAMES[form](judging)


def _json_frame(judging: Judging) -> Frame:
    head = {
        "form": "rigcheck report 1",
        "version": __version__,
        "pack": judging.pack.digest,
        "caution": CAUTION,
        "hold_at": judging.hold_at,
    }
    start = json.dumps(head, ensure_ascii=False, indent=1)[:-2] + ',\n "entries": [\n'
    return Frame(start, ",\n", _json_end)


def _json_end(states: Mapping[str, int], refused: Sequence[str], since: Changes | None) -> str:
    totals = {
        "files": sum(states.values()) + len(refused),
        "on_hold": states["on hold"],
        "not_yet_shown": states["not yet shown"],
        "lesser_findings_only": states["lesser findings only"],
        "nothing_found": states["nothing found against it"],
        "refused": len(refused),
    }
    told = ""
    if since is not None:
        from rigcheck.report.json.changes_json import changes_out  # most runs compare nothing

        told = f' "since": {changes_out(since).model_dump_json()},\n'
    return f'\n ],\n{told} "totals": {json.dumps(totals)}\n}}\n'


def _sarif_frame(judging: Judging) -> Frame:
    from rigcheck.report.sarif.log import sarif_end, sarif_start
    from rigcheck.report.sarif.results_met import ResultsMet
    from rigcheck.rules.procedures import procedures_of  # a record's findings name its steps

    met = ResultsMet()

    def end(states: Mapping[str, int], refused: Sequence[str], since: Changes | None) -> str:
        procedures = procedures_of(judging.pack).values()
        return sarif_end(judging.pack, procedures, __version__, met, refused, tuple(_since_words(since)))

    return Frame(sarif_start(_bases(), judging.local_code, judging.purpose), ",\n", end, met.told)


def _junit_frame(judging: Judging) -> Frame:
    from rigcheck.report.junit import JUNIT_END, JUNIT_START, junit_note

    def end(states: Mapping[str, int], refused: Sequence[str], since: Changes | None) -> str:
        told = tuple(_since_words(since))
        return f"{junit_note('since an earlier report', told) if told else ''}{JUNIT_END}"

    return Frame(JUNIT_START, "", end)


def _since_words(since: Changes | None) -> Iterator[str]:
    """Yield what is new and what is gone since an earlier report, a sentence each."""
    if since is None:
        return
    from rigcheck.report.summary.overview_text import (  # most runs compare nothing
        change_words,
        changed_words,
        key_words,
    )

    yield from change_words(since)
    yield from (f"New: {key_words(key)}." for key in since.new)
    yield from (f"Graver or other than then: {changed_words(one)}." for one in since.changed)
    yield from (f"Gone: {key_words(key)}." for key in since.gone())


def _markdown_frame(judging: Judging) -> Frame:
    return Frame(_MARKDOWN_HEAD, "\n", _markdown_end)


def _markdown_end(states: Mapping[str, int], refused: Sequence[str], since: Changes | None) -> str:
    counted = f"\n**{_counted(states, refused)}.**\n"
    if since is None:
        return counted
    from rigcheck.report.summary.overview_markdown import change_rows  # most runs compare nothing

    return "\n".join((counted, *change_rows(since)))


def _counted(states: Mapping[str, int], refused: Sequence[str]) -> str:
    told = [f"{count} {state}" for state, count in states.items() if count]
    return ", ".join([*told, *([f"{len(refused)} not read"] if refused else [])])


def _lines_frame(judging: Judging) -> Frame:
    from rigcheck.report.lines import LINES_END, LINES_HEAD

    def end(states: Mapping[str, int], refused: Sequence[str], since: Changes | None) -> str:
        return "\n".join((f"{_counted(states, refused)}.", *_since_words(since), LINES_END))

    return Frame(LINES_HEAD, "", end)


_FRAMES: Mapping[str, Callable[[Judging], Frame]] = {
    "json": _json_frame,
    "sarif": _sarif_frame,
    "junit": _junit_frame,
    "markdown": _markdown_frame,
    "lines": _lines_frame,
}
