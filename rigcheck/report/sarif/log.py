"""Findings, questions and what held as SARIF 2.1.0 (OASIS standard, 27 March 2020), a result at a time.

DANGER and WARNING become `error`, CAUTION `warning`, NOTICE `note`; the signal word itself stands in the
properties. An open question is a result of kind `open`; a check that held, where asked for, one of kind `pass`.
A result's fingerprint is made of rule, rig, the file's own name, thing (by its tag, if it bears one) and fact, never of
a line or a folder: what moves is no new result. The tool stands at the end of a log, with the rules that occur in it.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from pathlib import PurePath
from typing import Any, TypeVar

from msgspec.structs import replace

from rigcheck.judge.inspection import Finding, Held, Inspection, Question, Waiting
from rigcheck.report.sarif.parts import FINGERPRINT, Bases, as_json, message
from rigcheck.report.sarif.results_met import ResultsMet
from rigcheck.report.sarif.rule_descriptors import (
    LEFT_OUT,
    LEVELS,
    NO_LEAVE,
    NOTHING_FOUND,
    OPEN_QUESTIONS,
    notice_descriptors,
    rule_descriptors,
)
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.question_words import Told, sorted_out, where_words, write_words
from rigcheck.rules.pack import Pack
from rigcheck.rules.steps import Procedure
from rigcheck.text.faults import Fault
from rigcheck.text.place import Place

__all__ = ["sarif_end", "sarif_refusals", "sarif_results", "sarif_start"]

_SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"


def sarif_start(bases: Bases, local_code: str, purpose: str) -> str:
    """Return the head of a log: what sort of run it is, and the base folders, up to the first result.

    `local_code`: the one that was asked for, empty where each rig names its own. Runs for another code or purpose do
    not take each other's place in a code view (3.17.3: the last piece of an id, here empty, is that of the one run).
    """
    run = {
        "automationDetails": {"id": f"rigcheck/{local_code or 'as-each-rig-says'}/{purpose}/"},
        "originalUriBaseIds": bases.declared(),
        "properties": {"caution": CAUTION},
        "columnKind": "unicodeCodePoints",
    }
    return f'{{"$schema":{as_json(_SCHEMA)},"version":"2.1.0","runs":[{as_json(run)[:-1]},"results":[\n'


def sarif_end(
    pack: Pack,
    procedures: Iterable[Procedure],
    version: str,
    met: ResultsMet,
    refused: Sequence[str],
    since: Sequence[str] = (),
) -> str:
    """Return the tail of a log: the tool with the rules that `met` has, and what could not be read.

    `refused` are the texts that `sarif_refusals` gave; `since`: what is new since an earlier report, in words.
    """
    configured = [
        _noticed("laid-on-top", "warning" if one.bends else "note", f"{one.how.capitalize()}: {one.words}.")
        for one in pack.laid
    ]
    configured += [_noticed("since-an-earlier-report", "note", words) for words in since]
    described = {one["id"]: one for one in rule_descriptors(pack.rules, procedures, met.rules)}
    driver = {
        "name": "rigcheck",
        "semanticVersion": version,
        "fullDescription": message(CAUTION),
        "rules": [described[name] for name in met.rules],
        "notifications": list(notice_descriptors()),
        "properties": {"pack": pack.digest, "levels": {word.upper(): level for word, level in LEVELS.items()}},
    }
    told = f'"executionSuccessful":{as_json(not refused)},"toolConfigurationNotifications":{as_json(configured)}'
    invoked = f'{{{told},"toolExecutionNotifications":[{",".join(refused)}]}}'
    return f'\n],"invocations":[{invoked}],"tool":{{"driver":{as_json(driver)}}}}}]}}\n'


def sarif_refusals(faults: Iterable[Fault], bases: Bases) -> Iterator[str]:
    """Yield notifications of what could not be read, each as JSON."""
    for fault in faults:
        near = f" Nearest known word: {fault.near}." if fault.near else ""
        told = _noticed("file-not-read", "error", f"{fault.read} {fault.write}{near}")
        yield as_json({**told, "locations": [bases.location(fault.place)]})


def _noticed(name: str, level: str, text: str) -> dict[str, Any]:
    return {"descriptor": {"id": name}, "level": level, "message": message(text)}


def sarif_results(inspection: Inspection, bases: Bases, questions: Told = "all") -> Iterator[str]:
    """Yield the results of one inspection, each as JSON; `questions`: which have results of their own.

    What a standard rig has that is known by its name is shown at the top of the rig's own file, which a code view has.
    """
    prints = _Fingerprints(inspection)
    for finding in inspection.findings:
        yield as_json(
            _finding(_seen(finding, inspection), bases, inspection.title)
            | prints.of(finding.rule, finding.at.tag or finding.thing)
        )
    listed, rest, untold = sorted_out(inspection.questions, questions)
    for question in listed:
        for waiting in question.waiting:
            result = _question(_seen(question, inspection), waiting, bases, inspection.title)
            yield as_json(result | prints.of(waiting.rule, question.at.tag or question.thing, question.fact))
    if not (inspection.findings or inspection.questions or inspection.unread):
        told = f"{inspection.checks_words}. {NO_LEAVE}"
        yield as_json(_of_the_rig(NOTHING_FOUND, "review", told, inspection, bases) | prints.of(NOTHING_FOUND))
    if rest:
        told = f"{untold} {CAUTION}"
        yield as_json(_of_the_rig(OPEN_QUESTIONS, "open", told, inspection, bases) | prints.of(OPEN_QUESTIONS))
    if told := inspection.left_out_words:
        yield as_json(_of_the_rig(LEFT_OUT, "review", told, inspection, bases) | prints.of(LEFT_OUT))
    for held in inspection.held:
        yield as_json(_held(_seen(held, inspection), bases, inspection.title) | prints.of(held.rule, held.thing))


_Placed = TypeVar("_Placed", Finding, Question, Held)


def _seen(one: _Placed, inspection: Inspection) -> _Placed:
    return replace(one, place=inspection.seen_from(one.place))


class _Fingerprints:
    """Fingerprints of the results of one inspection: two results never have the same one.

    The first half says whose it is, the second what (`ResultsMet` tells rigs of one name in files of one name apart).
    """

    def __init__(self, inspection: Inspection) -> None:
        self.whose = _half(inspection.rig, PurePath(inspection.file).name)
        self.seen: Counter[tuple[str, ...]] = Counter()

    def of(self, *what: str) -> dict[str, Any]:
        """Return the fingerprint of a result; a further one of the same rule and thing counts on, in order of place."""
        self.seen[what] += 1
        again = (str(self.seen[what]),) if self.seen[what] > 1 else ()
        return {"partialFingerprints": {FINGERPRINT: self.whose + _half(*what, *again)}}


def _half(*texts: str) -> str:
    return hashlib.sha256("\0".join(texts).encode()).hexdigest()[:16]


def _finding(finding: Finding, bases: Bases, rig: str) -> dict[str, Any]:
    text = f"{finding.thing}: {finding.told} Do: {finding.put_right} Required: {finding.required}."
    related = [bases.location(one.place, told=f"{one.thing}, {one.fact}: {one.spoken}") for one in finding.found]
    related.append(bases.location(finding.rule_place, told=f"the rule {finding.rule}"))
    return {
        "ruleId": finding.rule,
        "level": LEVELS[finding.signal],
        "message": message(text),
        "locations": [bases.location(finding.place, finding.thing)],
        "relatedLocations": [{**one, "id": number} for number, one in enumerate(related, start=1)],
        "suppressions": _suppressions(finding, bases),
        "properties": {"signal": finding.signal.upper(), "harm": finding.harm, "rig": rig},
    }


def _suppressions(finding: Finding, bases: Bases) -> list[dict[str, Any]]:
    """Return the concession of a finding, if it has one; no result may be without the list if any has it (3.27.23)."""
    conceded = finding.conceded
    if conceded is None:
        return []
    kind = "inSource" if conceded.place.file == finding.place.file else "external"
    where = bases.location(conceded.place)
    return [{"kind": kind, "status": "accepted", "justification": conceded.words, "location": where}]


def _question(question: Question, waiting: Waiting, bases: Bases, rig: str) -> dict[str, Any]:
    asked = f"Too close to call: {question.too_close}." if question.too_close else question.ask
    write = f" Write {write_words(question)}{where_words([question])}." if question.write else ""
    return {
        "ruleId": waiting.rule,
        "kind": "open",
        "level": "none",
        "message": message(f"{question.thing}: {asked}{write}"),
        "locations": [bases.location(question.place, question.thing)],
        "suppressions": [],
        "properties": {"signal": waiting.signal.upper(), "rig": rig},
    }


def _of_the_rig(rule: str, kind: str, told: str, inspection: Inspection, bases: Bases) -> dict[str, Any]:
    """Return a result of a rig as a whole: one of kind `review` is for people to look at (3.27.9)."""
    return {
        "ruleId": rule,
        "kind": kind,
        "level": "none",
        "message": message(f"{inspection.title}: {told}"),
        "locations": [bases.location(Place(inspection.file, 1, 1))],
        "suppressions": [],
        "properties": {"rig": inspection.title},
    }


def _held(held: Held, bases: Bases, rig: str) -> dict[str, Any]:
    return {
        "ruleId": held.rule,
        "kind": "pass",
        "level": "none",
        "message": message(f"{held.thing}: {'presumed' if held.presumed else 'held'}: {held.claim}"),
        "locations": [bases.location(held.place, held.thing)],
        "suppressions": [],
        "properties": {"rig": rig},
    }
