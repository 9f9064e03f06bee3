"""An inspection as plain lines for logs, `file:line:column: WORD: text`, which editors and log views find again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigcheck.judge.inspection import Finding, Inspection, Question
from rigcheck.quantity.wording import counted
from rigcheck.report.text.inspection_text import CAUTION, caution_of
from rigcheck.report.text.question_words import Told, sorted_out, where_words, write_words
from rigcheck.rules.overlay import overlay_words
from rigcheck.rules.rule import Signal
from rigcheck.text.faults import Fault
from rigcheck.text.harmless import harmless
from rigcheck.text.place import Place

__all__ = ["LINES_END", "LINES_HEAD", "rig_in_lines", "unread_in_lines"]

LINES_HEAD = "rigcheck inspection, line by line\n"
LINES_END = f"{CAUTION}\n"


def rig_in_lines(inspection: Inspection, *, hold_at: Signal, on_unproven: Signal | None, questions: Told) -> str:
    """Return a line for each finding and each question that is listed, and one for the state of the rig at the end."""
    return "".join(f"{line}\n" for line in _lines(inspection, hold_at, on_unproven, questions))


def unread_in_lines(faults: Iterable[Fault]) -> str:
    """Return a line for each fault of a file that could not be read."""
    return "".join(f"{_line(fault.place, 'NOT READ', f'{fault.read} {fault.write}')}\n" for fault in faults)


def _lines(inspection: Inspection, hold_at: Signal, on_unproven: Signal | None, questions: Told) -> Iterator[str]:
    top = Place(inspection.file, 1, 1)
    yield from (_line(fault.place, "NOT READ", f"{fault.read} {fault.write}") for fault in inspection.unread)
    yield from (_finding(one, inspection) for one in inspection.findings)
    listed, rest, untold = sorted_out(inspection.questions, questions)
    yield from (_question(one, inspection) for one in listed)
    if rest:
        yield _line(top, "QUESTION", untold)
    yield from (
        _seen(one.place, inspection, "HELD", f"{one.thing}: {one.claim} ({one.rule})") for one in inspection.held
    )
    if inspection.left_out:
        yield _line(top, "LEFT OUT", inspection.left_out_words)
    yield from (_line(top, "LAID ON TOP", words) for words in overlay_words(inspection.laid))
    yield _line(top, "STATE", f"{_state(inspection, hold_at, on_unproven)} {caution_of(inspection)}")


def _seen(place: Place, inspection: Inspection, word: str, text: str) -> str:
    """Return a line at a place that a log view finds; where that is not in the rig's file, it says of which rig."""
    seen = inspection.seen_from(place)
    written = f" [written in the standard rig, {place}]" if seen != place else f" [of {inspection.file}]"
    return _line(seen, word, f"{text}{written if place.file != inspection.file else ''}")


def _finding(finding: Finding, inspection: Inspection) -> str:
    leave = "" if finding.conceded is None else f" Conceded: {finding.conceded.words}."
    told = f"{finding.thing}: {finding.told} Do: {finding.put_right}{leave} ({finding.rule})"
    return _seen(finding.place, inspection, finding.signal.upper(), told)


def _question(question: Question, inspection: Inspection) -> str:
    asked = f"too close to call, {question.too_close}." if question.too_close else question.ask
    write = f" Write {write_words(question)}{where_words([question])}." if question.write else ""
    waits = f"{question.signal.upper()} unproven"
    told = f"{question.thing}: {asked}{write} ({waits}: {question.waiting[0].rule})"
    return _seen(question.place, inspection, "QUESTION", told)


def _state(inspection: Inspection, hold_at: Signal, on_unproven: Signal | None) -> str:
    state = inspection.state(hold_at, on_unproven=on_unproven)
    found, asked = len(inspection.findings), len(inspection.questions)
    told = (counted(found, "finding"), counted(asked, "question"), inspection.checks_words)
    return f"{inspection.title}: {state}; {', '.join(told)}."


def _line(place: Place, word: str, text: str) -> str:
    return harmless(f"{place}: {word}: {text}")
