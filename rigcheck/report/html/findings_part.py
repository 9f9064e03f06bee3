"""Findings and questions in the commissioning file, by signal word."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from rigcheck.judge.causes import Alike, Cause, alike_questions, causes_of
from rigcheck.judge.inspection import Finding, Inspection, Question
from rigcheck.quantity.wording import counted
from rigcheck.report.drawing.drawing import finding_anchor, pin_anchor
from rigcheck.report.html.markup import joined, listed, rows, section, shown, tag
from rigcheck.report.html.working_part import working_markup
from rigcheck.report.text.finding_words import count_words, found_words, group_words
from rigcheck.report.text.inspection_text import source_words
from rigcheck.report.text.question_words import asked_words, open_words, waiting_words, whose_words
from rigcheck.report.text.working_text import Numbers
from rigcheck.rules.rule import SIGNALS, Signal

__all__ = ["findings_section", "questions_section", "word_mark"]

_Pins = Mapping[int, int]
"""The number of each finding, which is that of its pin, by the finding's identity."""


def word_mark(signal: Signal) -> str:
    """Return a signal word on its colour."""
    return tag("b", signal.upper(), class_=f"word {'caution-word' if signal == 'caution' else signal}")


def findings_section(inspection: Inspection, numbers: Numbers) -> str:
    """Return every finding, the gravest first, each under the id that its pin in the drawing leads to."""
    numbered = list(enumerate(inspection.findings, start=1))
    if not numbered:
        told = "No rule that could be judged is broken. What could not be judged is asked below."
        return section("findings", "Findings", tag("p", told))
    causes = causes_of(inspection.findings)
    pins = {id(one): number for number, one in enumerate(inspection.findings, start=1)}
    groups = (_group(signal, causes, pins, numbers) for signal in SIGNALS)
    told = "Each has two addresses: where the rig is written, and where the rule is. Its number is that of its pin."
    if count_words(causes):
        told += f" What comes from one statement is told together: {count_words(causes)}."
    return section("findings", "Findings", tag("p", told, class_="quiet"), *groups)


def _group(signal: Signal, causes: tuple[Cause, ...], pins: _Pins, numbers: Numbers) -> str:
    findings = [one for cause in causes for one in cause.findings if one.signal == signal]
    if not findings:
        return ""
    own = [cause for cause in causes if cause.told.first.signal == signal]
    head = tag("h3", f"{word_mark(signal)} {counted(len(findings), 'finding')}", id=f"findings-{signal}")
    above = len(findings) - sum(one.signal == signal for cause in own for one in cause.findings)
    told = f"{above} of them told above, with what is graver and of the same cause."
    return joined(
        [head, *([tag("p", told, class_="quiet")] if above else []), *(_cause(one, pins, numbers) for one in own)]
    )


def _cause(cause: Cause, pins: _Pins, numbers: Numbers) -> str:
    finding, number = cause.told.first, pins[id(cause.told.first)]
    head = tag("h4", f"{word_mark(finding.signal)} {number}. {shown(cause.told.called)}")
    told = [head, rows(_rows(cause, pins, numbers)), tag("p", _pin(number, finding), class_="quiet to-pin")]
    return tag("article", joined(told), class_="finding", id=finding_anchor(number))


def _pin(number: int, finding: Finding) -> str:
    return tag("a", f"Pin {number} in the drawing", href=f"#{pin_anchor(number)}")


def _one(number: int, finding: Finding) -> str:
    told = f"{number}. {shown(finding.thing)}"
    return f"{tag('span', told, id=finding_anchor(number))} ({_pin(number, finding)})"


def _also(group: Alike, pins: _Pins) -> str:
    """Return what the same value breaks besides, with its things."""
    first = group.first
    head = f"{word_mark(first.signal)} {shown(first.claim)}"
    each = (f"{_one(pins[id(one)], one)}: {shown(found_words(one))}" for one in group.findings)
    told = (
        ("Found", listed(each)),
        ("Required", shown(f"{first.required}.")),
        ("Harm", shown(first.harm)),
        ("Do", shown(first.put_right)),
        ("Drawn from", shown(source_words(first.sources))),
        ("Rule", f"{shown(first.rule)} ({tag('code', shown(str(first.rule_place)))})"),
    )
    return joined([tag("p", head), rows(told)])


def _rows(cause: Cause, pins: _Pins, numbers: Numbers) -> Iterator[tuple[str, str]]:
    finding = cause.told.first
    if len(cause.told.findings) > 1:
        yield (
            "On",
            listed(
                (tag("span", shown(one.thing)) if one is finding else _one(pins[id(one)], one))
                for one in cause.told.findings
            ),
        )
    if finding.conceded is not None:
        yield "Conceded", tag("span", shown(f"{finding.conceded.words}."), class_="conceded")
    yield "Must be", tag("b", shown(finding.claim))
    yield "Found", shown(group_words(cause.told))
    for working in dict.fromkeys(found.working for found in finding.found if found.working is not None):
        yield f"Worked out: {working.name}", working_markup(working, numbers)
    yield "Required", shown(f"{finding.required}.")
    yield "Harm", shown(finding.harm)
    yield "Do", shown(finding.put_right)
    yield "Drawn from", shown(source_words(finding.sources))
    yield "In the rig", tag("code", shown(str(finding.place)))
    yield "Rule", f"{shown(finding.rule)} ({tag('code', shown(str(finding.rule_place)))})"
    if cause.also:
        yield "Also breaks", joined(_also(one, pins) for one in cause.also)


def questions_section(inspection: Inspection, numbers: Numbers) -> str:
    """Return what nobody stated, or stated too coarsely, with the rules that wait."""
    groups = alike_questions(inspection.questions)
    if not groups:
        return section("questions", "Questions", tag("p", "Every fact that a rule asks for is stated."))
    told = f"Not yet shown: {open_words(groups)}."
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
