"""Findings, questions and what held as SARIF 2.1.0 (OASIS standard, 27 March 2020), a result at a time.

DANGER and WARNING become `error`, CAUTION `warning`, NOTICE `note`; the signal word itself stands in the
properties. An open question is a result of kind `open`; a check that held, where asked for, one of kind `pass`.
A result's fingerprint is made of rule, file, rig, thing (by its tag, if it bears one) and fact, never of a line: what
moves is no new result.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from rigcheck.judge.inspection import Finding, Held, Inspection, Question, Waiting
from rigcheck.procedure.steps import Procedure
from rigcheck.report.sarif.parts import Bases, as_json, message
from rigcheck.report.sarif.rule_descriptors import LEVELS, notice_descriptors, rule_descriptors
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Fault

__all__ = ["sarif_end", "sarif_refusals", "sarif_results", "sarif_start"]

_SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
_FINGERPRINT = "ruleRigThing/v1"


def sarif_start(pack: Pack, procedures: Iterable[Procedure], version: str, bases: Bases) -> str:
    """Return the head of a log: the tool, its rules and the base folders, up to the first result."""
    driver = {
        "name": "rigcheck",
        "semanticVersion": version,
        "fullDescription": message(CAUTION),
        "rules": list(rule_descriptors(pack.rules.values(), procedures)),
        "notifications": list(notice_descriptors()),
        "properties": {"pack": pack.digest, "levels": {word.upper(): level for word, level in LEVELS.items()}},
    }
    head = f'{{"$schema":{as_json(_SCHEMA)},"version":"2.1.0","runs":[{{"tool":{{"driver":{as_json(driver)}}},'
    bound = f'"originalUriBaseIds":{as_json(bases.declared())},"properties":{as_json({"caution": CAUTION})},'
    return f'{head}{bound}"columnKind":"unicodeCodePoints","results":[\n'


def sarif_end(pack: Pack, refused: Sequence[str]) -> str:
    """Return the tail of a log; `refused` are the texts that `sarif_refusals` gave."""
    configured = [
        _noticed("laid-on-top", "warning" if one.bends else "note", f"{one.how.capitalize()}: {one.words}.")
        for one in pack.laid
    ]
    told = f'"executionSuccessful":{as_json(not refused)},"toolConfigurationNotifications":{as_json(configured)}'
    return f'\n],"invocations":[{{{told},"toolExecutionNotifications":[{",".join(refused)}]}}]}}]}}\n'


def sarif_refusals(faults: Iterable[Fault], bases: Bases) -> Iterator[str]:
    """Yield notifications of what could not be read, each as JSON."""
    for fault in faults:
        near = f" Nearest known word: {fault.near}." if fault.near else ""
        told = _noticed("file-not-read", "error", f"{fault.read} {fault.write}{near}")
        yield as_json({**told, "locations": [bases.location(fault.place)]})


def _noticed(name: str, level: str, text: str) -> dict[str, Any]:
    return {"descriptor": {"id": name}, "level": level, "message": message(text)}


def sarif_results(inspection: Inspection, bases: Bases) -> Iterator[str]:
    """Yield the results of one inspection, each as JSON."""
    prints = _Fingerprints(inspection, bases)
    for finding in inspection.findings:
        yield as_json(
            _finding(finding, bases, inspection.title) | prints.of(finding.rule, finding.at.tag or finding.thing)
        )
    for question in inspection.questions:
        for waiting in question.waiting:
            told = _question(question, waiting, bases, inspection.title)
            yield as_json(told | prints.of(waiting.rule, question.at.tag or question.thing, question.fact))
    for held in inspection.held:
        yield as_json(_held(held, bases, inspection.title) | prints.of(held.rule, held.thing))


class _Fingerprints:
    """Fingerprints of the results of one inspection: two results never have the same one."""

    def __init__(self, inspection: Inspection, bases: Bases) -> None:
        self.whose = (bases.artifact(inspection.file)["uri"], inspection.rig)
        self.seen: Counter[tuple[str, ...]] = Counter()

    def of(self, rule: str, *what: str) -> dict[str, Any]:
        """Return the fingerprint of a result; a further one of the same rule and thing counts on, in order of place."""
        key = (rule, *self.whose, *what)
        self.seen[key] += 1
        again = (str(self.seen[key]),) if self.seen[key] > 1 else ()
        digest = hashlib.sha256("\0".join((*key, *again)).encode()).hexdigest()
        return {"partialFingerprints": {_FINGERPRINT: digest[:32]}}


def _finding(finding: Finding, bases: Bases, rig: str) -> dict[str, Any]:
    text = f"{finding.thing}: {finding.told} Do: {finding.put_right} Required: {finding.required}."
    related = [bases.location(one.place, told=f"{one.fact} of the {one.thing}: {one.value}") for one in finding.found]
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
    return {
        "ruleId": waiting.rule,
        "kind": "open",
        "level": "none",
        "message": message(f"{question.thing}: {asked}"),
        "locations": [bases.location(question.place, question.thing)],
        "suppressions": [],
        "properties": {"signal": waiting.signal.upper(), "rig": rig},
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
