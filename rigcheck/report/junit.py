"""An inspection as a JUnit test suite: a case for each finding and open question, failed or skipped.

The form is that of the XSD which continuous-integration servers go by (`junit-10.xsd`, 2014).
It asks for no time and no host name, and none is given: `timestamp` is the day of the inspection.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from xml.etree.ElementTree import Element, SubElement, tostring

from rigcheck.judge.inspection import Finding, Inspection, Question
from rigcheck.quantity.wording import shown_day
from rigcheck.report.text.inspection_text import CAUTION, caution_of
from rigcheck.report.text.question_words import Told, sorted_out, where_words, write_words
from rigcheck.rules.gravity import reaches
from rigcheck.rules.overlay import overlay_words
from rigcheck.rules.rule import Signal
from rigcheck.text.faults import Fault
from rigcheck.text.harmless import harmless

__all__ = ["JUNIT_END", "JUNIT_START", "junit_note", "junit_refusal", "junit_suite"]

JUNIT_START = '<?xml version="1.0" encoding="utf-8"?>\n<testsuites name="rigcheck">\n'
JUNIT_END = "</testsuites>\n"


def junit_suite(inspection: Inspection, *, hold_at: Signal, on_unproven: Signal | None, questions: Told = "all") -> str:
    """Return one inspection as a suite: findings at the hold level fail, conceded and lesser ones are skipped.

    `questions`: which of them are cases of their own; one case stands for the others.
    """
    day = shown_day(inspection.day)
    suite = _Suite(inspection.file, f"{inspection.title} ({inspection.file})", _properties(inspection))
    suite.element.set("timestamp", f"{day}T00:00:00")
    if inspection.unread:
        _unread_case(suite, inspection.unread)
    for finding in inspection.findings:
        _finding_case(suite, finding, fails=reaches(hold_at, [finding.signal]))
    listed, rest, untold = sorted_out(inspection.questions, questions)
    for question in listed:
        _question_case(suite, question, fails=reaches(on_unproven, [question.signal]))
    if rest:
        fails = reaches(on_unproven, (one.signal for one in rest))
        _open_case(suite, "open questions", f"{untold} {caution_of(inspection)}", fails=fails)
    if inspection.left_out:
        _open_case(suite, "left out", inspection.left_out_words, fails=False)
    for held in inspection.held:
        suite.case(held.thing, _name(held.rule, held.claim))
    if not inspection.held:
        _held_case(suite, inspection)
    return suite.told()


def junit_refusal(file: str, faults: Iterable[Fault]) -> str:
    """Return a file that could not be read as a suite with an error."""
    suite = _Suite(file, file, {"caution": CAUTION})
    _unread_case(suite, faults)
    return suite.told()


def junit_note(name: str, told: Sequence[str]) -> str:
    """Return a suite without cases that says something of the whole run, a property a sentence."""
    return _Suite("", name, {f"{name} {number}": words for number, words in enumerate(told, start=1)}).told()


def _unread_case(suite: _Suite, faults: Iterable[Fault]) -> None:
    case = suite.case("", "the file can be read")
    error = SubElement(case, "error", message="The file cannot be read.", type="refused")
    error.text = _text("\n".join(map(str, faults)))


class _Suite:
    """A suite of cases; no two of them have the same class and name, as servers tell them apart by these."""

    def __init__(self, file: str, name: str, properties: Mapping[str, str]) -> None:
        self.file, self.seen = file, Counter[tuple[str, str]]()
        self.element = Element("testsuite", name=_text(name), file=_text(file))
        told = SubElement(self.element, "properties")
        for key, value in properties.items():
            SubElement(told, "property", name=key, value=_text(value))

    def case(self, thing: str, name: str) -> Element:
        """Return a new case of a thing in the file, or of the file."""
        whose = f"{self.file}: {thing}" if thing else self.file
        self.seen[whose, name] += 1
        again = f" ({self.seen[whose, name]})" if self.seen[whose, name] > 1 else ""
        return SubElement(self.element, "testcase", classname=_text(whose), name=_text(f"{name}{again}"))

    def told(self) -> str:
        """Return the suite as XML, its cases counted."""
        cases = self.element.findall("testcase")
        self.element.set("tests", str(len(cases)))
        for kind, plural in (("failure", "failures"), ("error", "errors"), ("skipped", "skipped")):
            self.element.set(plural, str(sum(case.find(kind) is not None for case in cases)))
        return tostring(self.element, encoding="unicode") + "\n"


def _properties(inspection: Inspection) -> dict[str, str]:
    laid = {f"laid on top {number}": words for number, words in enumerate(overlay_words(inspection.laid), start=1)}
    return {"caution": caution_of(inspection), "local code": inspection.local_code, "pack": inspection.pack} | laid


def _held_case(suite: _Suite, inspection: Inspection) -> None:
    """Add how many checks held; where nothing was found or asked, that is no pass, and the case says who decides."""
    case = suite.case("", inspection.checks_words)
    if inspection.findings or inspection.questions:
        SubElement(case, "system-out").text = caution_of(inspection)
    else:
        SubElement(
            case,
            "skipped",
            message=f"Nothing was found against it, and that alone is no leave. {caution_of(inspection)}",
        )


def _name(rule: str, claim: str) -> str:
    """Return the name of a case, the same whether it fails or not: in a list of those that failed it stands alone."""
    return f"{rule}: must be: {claim}"


def _finding_case(suite: _Suite, finding: Finding, *, fails: bool) -> None:
    case = suite.case(finding.thing, _name(finding.rule, finding.claim))
    places = ", ".join(dict.fromkeys(str(one.place) for one in finding.found))
    told = (
        f"{finding.signal.upper()} at {finding.place}\nFound: {finding.found_words} ({places})\n"
        f"Required: {finding.required}\nHarm: {finding.harm}\nDo: {finding.put_right}\n{CAUTION}"
    )
    if finding.conceded is not None:
        SubElement(case, "skipped", message=_text(f"Conceded: {finding.conceded.words}. {told}"))
    elif fails:
        SubElement(case, "failure", message=_text(finding.told), type=finding.signal.upper()).text = _text(told)
    else:
        SubElement(case, "skipped", message=_text(f"Below the hold level. {told}"))


def _question_case(suite: _Suite, question: Question, *, fails: bool) -> None:
    rules = ", ".join(waiting.rule for waiting in question.waiting)
    asked = f"Too close to call: {question.too_close}." if question.too_close else question.ask
    case = suite.case(question.thing, f"{question.fact}: {asked}")
    write = f" Write {write_words(question)}{where_words([question])}." if question.write else ""
    told = f"{question.signal.upper()}, not shown at {question.place}: {asked}{write} Waiting: {rules}. {CAUTION}"
    _open(case, asked, told, fails=fails)


def _open_case(suite: _Suite, name: str, told: str, *, fails: bool) -> None:
    """Add a case that stands for many that are not listed."""
    _open(suite.case("", name), told, told, fails=fails)


def _open(case: Element, short: str, told: str, *, fails: bool) -> None:
    if fails:
        SubElement(case, "failure", message=_text(short), type="not shown").text = _text(told)
    else:
        SubElement(case, "skipped", message=_text(told))


def _text(text: str) -> str:
    """Return text, its lines kept, in which every character can be seen: XML 1.0 cannot hold them all (2.2)."""
    return "\n".join(harmless(line) for line in text.split("\n"))
