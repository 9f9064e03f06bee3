"""Findings and questions in the commissioning file, by signal word."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigcheck.inspection import Finding, Inspection, Question
from rigcheck.report.asked import alike, asked_words, waiting_words, whose_words
from rigcheck.report.drawing import finding_anchor, pin_anchor
from rigcheck.report.file_page_markup import joined, rows, section, shown, tag
from rigcheck.report.file_page_working import working_markup
from rigcheck.report.text import found_words, source_words
from rigcheck.report.working import Numbers
from rigcheck.rules.rule import SIGNALS, Signal
from rigcheck.spoken_value import counted

__all__ = ["findings_section", "questions_section", "word_mark"]

_NumberedFinding = tuple[int, Finding]


def word_mark(signal: Signal) -> str:
    """Return a signal word on its colour."""
    return tag("b", signal.upper(), class_=f"word {'caution-word' if signal == 'caution' else signal}")


def findings_section(inspection: Inspection, numbers: Numbers) -> str:
    """Return every finding, the gravest first, each under the id that its pin in the drawing leads to."""
    numbered = list(enumerate(inspection.findings, start=1))
    if not numbered:
        told = "No rule that could be judged is broken. What could not be judged is asked below."
        return section("findings", "Findings", tag("p", told))
    groups = (_group(signal, [one for one in numbered if one[1].signal == signal], numbers) for signal in SIGNALS)
    told = "Each has two addresses: where the rig is written, and where the rule is. Its number is that of its pin."
    return section("findings", "Findings", tag("p", told, class_="quiet"), *groups)


def _group(signal: Signal, numbered: list[_NumberedFinding], numbers: Numbers) -> str:
    if not numbered:
        return ""
    head = tag("h3", f"{word_mark(signal)} {counted(len(numbered), 'finding')}", id=f"findings-{signal}")
    return joined([head, *(_finding(number, one, numbers) for number, one in numbered)])


def _finding(number: int, finding: Finding, numbers: Numbers) -> str:
    head = tag("h4", f"{word_mark(finding.signal)} {number}. {shown(finding.thing)}")
    pin = tag("a", f"Pin {number} in the drawing", href=f"#{pin_anchor(number)}")
    told = joined([head, rows(_rows(finding, numbers)), tag("p", pin, class_="quiet to-pin")])
    return tag("article", told, class_="finding", id=finding_anchor(number))


def _rows(finding: Finding, numbers: Numbers) -> Iterator[tuple[str, str]]:
    if finding.conceded is not None:
        yield "Conceded", tag("span", shown(f"{finding.conceded.words}."), class_="conceded")
    yield "Must be", tag("b", shown(finding.claim))
    yield "Found", shown(found_words(finding))
    for working in dict.fromkeys(found.working for found in finding.found if found.working is not None):
        yield f"Worked out: {working.name}", working_markup(working, numbers)
    yield "Required", shown(f"{finding.required}.")
    yield "Harm", shown(finding.harm)
    yield "Do", shown(finding.put_right)
    yield "Drawn from", shown(source_words(finding.sources))
    yield "In the rig", tag("code", shown(str(finding.place)))
    yield "Rule", f"{shown(finding.rule)} ({tag('code', shown(str(finding.rule_place)))})"


def questions_section(inspection: Inspection, numbers: Numbers) -> str:
    """Return what nobody stated, or stated too coarsely, with the rules that wait."""
    groups = alike(inspection.questions)
    if not groups:
        return section("questions", "Questions", tag("p", "Every fact that a rule asks for is stated."))
    told = f"Not yet shown: {counted(len(inspection.questions), 'fact')}, {counted(len(groups), 'question')}."
    parts = (_asked(signal, groups, inspection.file, numbers) for signal in SIGNALS)
    return section("questions", "Questions", tag("p", told), *parts)


def _asked(signal: Signal, every: list[list[Question]], file: str, numbers: Numbers) -> str:
    groups = [group for group in every if group[0].signal == signal]
    if not groups:
        return ""
    head = tag("h3", f"{word_mark(signal)} {counted(len(groups), 'question')}", id=f"questions-{signal}")
    items = joined(tag("li", _question(group, file, numbers)) for group in groups)
    return joined([head, tag("ul", items, class_="questions")])


def _question(group: list[Question], file: str, numbers: Numbers) -> str:
    asked = f"{tag('b', shown(whose_words(group, file)))}: {shown(asked_words(group))}"
    waits = tag("span", f"Waiting: {shown(waiting_words(group))}.", class_="quiet")
    return joined([asked, waits, *_workings(group, numbers)])


def _workings(group: Iterable[Question], numbers: Numbers) -> Iterator[str]:
    for working in dict.fromkeys(one.working for one in group if one.working is not None):
        yield working_markup(working, numbers)
