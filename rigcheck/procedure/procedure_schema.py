"""The JSON Schemas of procedure and record files, with the kinds, limits and steps that there are as completions."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.rig.vocabulary import Vocabulary
from rigcheck.rules.procedure_file import ProcedureFile
from rigcheck.rules.steps import Procedure, Step

__all__ = ["procedure_schema", "record_schema"]

_SCALAR = {"type": ["string", "number", "boolean"]}


def procedure_schema(vocabulary: Vocabulary) -> dict[str, Any]:
    """Return the schema of a procedure file (JSON Schema 2020-12)."""
    made = ProcedureFile.model_json_schema(by_alias=True)
    step = made["$defs"]["StepEntry"]["properties"]
    step["about"] |= {"enum": ["", *vocabulary.looked_at]}
    for properties, key in ((made["properties"], "applies"), (step, "for")):
        properties[key] |= {"type": "object", "minProperties": 1}
    return made


def record_schema(procedures: Mapping[str, Procedure]) -> dict[str, Any]:
    """Return the schema of a record file (JSON Schema 2020-12); each step has its own values."""
    text = {"type": "string", "minLength": 1}
    steps = {step.name: step for one in procedures.values() for step in one.steps.values()}
    return {
        "title": "record",
        "type": "object",
        "required": ["record", "rig", "done", "by", "steps"],
        "additionalProperties": False,
        "properties": {
            "$schema": {"type": "string"},
            "record": {"enum": [*procedures], "description": "Which procedure was done."},
            "rig": {**text, "description": "Path of the rig's file, seen from this file."},
            "done": {"type": "string", "description": "The day, as 2026-11-24."},
            "by": {**text, "description": "Who did it, by role; no name."},
            "stopped": {"type": "string", "description": 'When it was left before its end, in quotes: "07:41".'},
            "note": {"type": "string"},
            "steps": {
                "type": ["array", "null"],
                "description": "What was done, in that order.",
                "items": {"anyOf": [{"enum": [*steps]}, _of_one(steps)]},
            },
        },
    }


def _of_one(steps: Mapping[str, Step]) -> dict[str, Any]:
    return {
        "type": "object",
        "minProperties": 1,
        "maxProperties": 1,
        "additionalProperties": False,
        "properties": {name: _step(step) for name, step in steps.items()},
    }


def _step(step: Step) -> dict[str, Any]:
    keys: dict[str, Any] = {
        "thing": {"type": "string", "description": "Which thing of the rig, as on the sheet."},
        "at": {"type": "string", "description": 'Time of day, in quotes: "07:31".'},
        "note": {"type": "string"},
    }
    for name, value in step.values.items():
        entry, several = value.fact.entry, value.fact.measure == "several_words"
        one = {"enum": [*value.fact.words, *value.fact.also_written, "?"]} if value.fact.words else _SCALAR
        ways = {"anyOf": [one, {"type": "array", "items": one}]} if several else one
        keys[name] = {"description": f"{entry.means} {entry.ask}", **ways}
    return {"type": ["object", "null"], "description": step.do, "properties": keys, "additionalProperties": False}
