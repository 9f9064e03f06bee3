"""Findings and questions as SARIF 2.1.0 (OASIS standard, 27 March 2020), a result at a time.

DANGER and WARNING become `error`, CAUTION `warning`, NOTICE `note`; the signal word itself stands in the
rule's properties. An open question is a result of kind `open`; a check that held is one of kind `pass`.
A result's fingerprint is made of the rule, the rig and the thing, so a line that moved is no new result.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from typing import Any
from urllib.parse import quote

from rigcheck.faults import Fault
from rigcheck.inspection import Finding, Inspection, Question
from rigcheck.place import Place
from rigcheck.rules.rule import Rule, Signal

__all__ = ["LEVELS", "sarif_end", "sarif_refusals", "sarif_results", "sarif_start"]

LEVELS: Mapping[Signal, str] = {"danger": "error", "warning": "error", "caution": "warning", "notice": "note"}
_SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
_FINGERPRINT = "ruleRigThing/v1"


def sarif_start(rules: Iterable[Rule], version: str, pack: str) -> str:
    """Return the head of a log: the tool and its rules, up to the first result."""
    driver = {
        "name": "rigcheck",
        "semanticVersion": version,
        "rules": [_rule(rule) for rule in rules],
        "properties": {"pack": pack},
    }
    head = f'{{"$schema":{_json(_SCHEMA)},"version":"2.1.0","runs":[{{"tool":{{"driver":{_json(driver)}}},'
    return head + '"columnKind":"unicodeCodePoints","results":['


def sarif_end(refused: Iterable[Mapping[str, Any]]) -> str:
    """Return the tail of a log; `refused` are notifications of files that could not be read."""
    notes = list(refused)
    told = {"executionSuccessful": not notes, "toolExecutionNotifications": notes}
    return f'],"invocations":[{_json(told)}]}}]}}\n'


def sarif_results(inspection: Inspection) -> Iterator[str]:
    """Yield the results of one inspection, each as JSON."""
    for finding in inspection.findings:
        yield _json(_finding(finding, inspection.rig))
    for question in inspection.questions:
        for waiting in question.waiting:
            yield _json(_question(question, waiting.rule, inspection.rig))


def sarif_refusals(faults: Iterable[Fault]) -> list[dict[str, Any]]:
    """Return notifications of what could not be read."""
    return [
        {
            "level": "error",
            "message": {"text": _told(fault)},
            "locations": [_location(fault.place)],
        }
        for fault in faults
    ]


def _told(fault: Fault) -> str:
    near = f" Nearest known word: {fault.near}." if fault.near else ""
    return f"{fault.read} {fault.write}{near}"


def _json(content: Any) -> str:
    return json.dumps(content, ensure_ascii=False, separators=(",", ":"))


def _rule(rule: Rule) -> dict[str, Any]:
    sources = "; ".join(f"{source.text} [{source.standing}]" for source in rule.sources)
    return {
        "id": rule.name,
        "shortDescription": {"text": rule.claim},
        "fullDescription": {"text": f"{rule.claim} {rule.harm}"},
        "help": {"text": f"{rule.put_right} Drawn from: {sources}."},
        "defaultConfiguration": {"level": LEVELS[rule.signal]},
        "properties": {"signal": rule.signal.upper()},
    }


def _finding(finding: Finding, rig: str) -> dict[str, Any]:
    found = "; ".join(f"{one.fact} of the {one.thing}: {one.value}" for one in finding.found)
    text = f"{finding.thing}: {finding.claim} Found: {found}. Required: {finding.required}. {finding.put_right}"
    related = [_location(one.place) for one in finding.found] + [_location(finding.rule_place)]
    return {
        "ruleId": finding.rule,
        "level": LEVELS[finding.signal],
        "message": {"text": text},
        "locations": [_location(finding.place, finding.thing)],
        "relatedLocations": [{**one, "id": number} for number, one in enumerate(related, start=1)],
        "partialFingerprints": {_FINGERPRINT: _fingerprint(finding.rule, rig, finding.thing)},
        "properties": {"signal": finding.signal.upper(), "harm": finding.harm},
    }


def _question(question: Question, rule: str, rig: str) -> dict[str, Any]:
    asked = f"Too close to call: {question.too_close}." if question.too_close else question.ask
    return {
        "ruleId": rule,
        "kind": "open",
        "level": "none",
        "message": {"text": f"{question.thing}: {asked}"},
        "locations": [_location(question.place, question.thing)],
        "partialFingerprints": {_FINGERPRINT: _fingerprint(rule, rig, question.thing, question.fact)},
    }


def _location(place: Place, thing: str = "") -> dict[str, Any]:
    region = {"startLine": place.line, "startColumn": place.column}
    location: dict[str, Any] = {
        "physicalLocation": {"artifactLocation": {"uri": _uri(place.file)}, "region": region},
    }
    return location | ({"logicalLocations": [{"fullyQualifiedName": thing}]} if thing else {})


def _uri(file: str) -> str:
    """Return a file's name as a relative reference, or as a file URI where it is absolute."""
    path = quote(file.replace("\\", "/"), safe="/:")
    return f"file://{path}" if path.startswith("/") else path.replace(":", "%3A")


def _fingerprint(*parts: str) -> str:
    return hashlib.sha256("\0".join(parts).encode()).hexdigest()[:32]
