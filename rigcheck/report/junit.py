"""An inspection as a JUnit test suite: a case for each finding and open question, failed or skipped.

The form is the XSD that the common continuous-integration servers read.
"""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree.ElementTree import Element, SubElement, tostring

from rigcheck.faults import Fault
from rigcheck.inspection import Finding, Inspection, Question
from rigcheck.rules.rule import GRAVITY, Signal

__all__ = ["JUNIT_END", "JUNIT_START", "junit_refusal", "junit_suite"]

JUNIT_START = '<?xml version="1.0" encoding="utf-8"?>\n<testsuites name="rigcheck">\n'
JUNIT_END = "</testsuites>\n"


def junit_suite(inspection: Inspection, *, hold_at: Signal, on_unproven: bool) -> str:
    """Return one inspection as a suite: a finding at the hold level fails, a lesser one and a question are skipped."""
    suite = _suite(f"{inspection.rig} ({inspection.file})")
    least = GRAVITY[hold_at]
    for finding in inspection.findings:
        _finding_case(suite, finding, fails=GRAVITY[finding.signal] >= least)
    for question in inspection.questions:
        _question_case(suite, question, fails=on_unproven and GRAVITY[question.signal] >= least)
    held = inspection.verdicts.get("holds", 0)
    _case(suite, inspection.file, f"{held} checks held")
    return _told(suite)


def junit_refusal(file: str, faults: Iterable[Fault]) -> str:
    """Return a file that could not be read as a suite with an error."""
    suite = _suite(file)
    case = _case(suite, file, "the file can be read")
    error = SubElement(case, "error", message="The file cannot be read.", type="refused")
    error.text = _text("\n".join(map(str, faults)))
    return _told(suite)


def _suite(name: str) -> Element:
    return Element("testsuite", name=_text(name))


def _case(suite: Element, thing: str, name: str) -> Element:
    return SubElement(suite, "testcase", classname=_text(thing), name=_text(name))


def _finding_case(suite: Element, finding: Finding, *, fails: bool) -> None:
    case = _case(suite, finding.thing, f"{finding.rule}: {finding.claim}")
    found = "; ".join(f"{one.fact} of the {one.thing}: {one.value} ({one.place})" for one in finding.found)
    told = (
        f"{finding.signal.upper()} at {finding.place}\nFound: {found}\nRequired: {finding.required}\n"
        f"Harm: {finding.harm}\nDo: {finding.put_right}"
    )
    if fails:
        SubElement(case, "failure", message=_text(finding.claim), type=finding.signal.upper()).text = _text(told)
    else:
        SubElement(case, "skipped", message=_text(f"Below the hold level. {told}"))


def _question_case(suite: Element, question: Question, *, fails: bool) -> None:
    rules = ", ".join(waiting.rule for waiting in question.waiting)
    asked = f"Too close to call: {question.too_close}." if question.too_close else question.ask
    case = _case(suite, question.thing, f"{question.fact}: {asked}")
    told = f"{question.signal.upper()}, not shown at {question.place}: {asked} Waiting: {rules}."
    if fails:
        SubElement(case, "failure", message=_text(asked), type="not shown").text = _text(told)
    else:
        SubElement(case, "skipped", message=_text(told))


def _told(suite: Element) -> str:
    cases = list(suite)
    suite.set("tests", str(len(cases)))
    for kind, plural in (("failure", "failures"), ("error", "errors"), ("skipped", "skipped")):
        suite.set(plural, str(sum(case.find(kind) is not None for case in cases)))
    return tostring(suite, encoding="unicode") + "\n"


def _text(text: str) -> str:
    """Return text without the characters that XML 1.0 cannot hold (section 2.2)."""
    return "".join(c for c in text if c in "\t\n" or " " <= c <= "\ud7ff" or "\ue000" <= c <= "\ufffd" or c > "\uffff")
