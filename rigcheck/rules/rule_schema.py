"""The JSON Schema of a rule file, with the facts and limits that there are as completions."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.condition.parser import KEYWORDS
from rigcheck.rig.vocabulary import Vocabulary
from rigcheck.rules.file_models import RuleFile
from rigcheck.rules.limits import LimitDefinition

__all__ = ["rule_schema"]


def rule_schema(vocabulary: Vocabulary, limits: Mapping[str, LimitDefinition]) -> dict[str, Any]:
    """Return the schema of a rule file (JSON Schema 2020-12)."""
    made = RuleFile.model_json_schema()
    properties = made["properties"]
    properties["looks_at"] |= {"enum": [*vocabulary.looked_at]}
    for key in ("concerns", "holds"):
        properties[key] |= {"type": "object", "minProperties": 1} | _facts(vocabulary)
    properties["proven_by"] |= {"type": "array", "minItems": 1, "items": _case()}
    made["$defs"] = made.get("$defs", {}) | {"condition": _condition(limits)}
    return made


def _facts(vocabulary: Vocabulary) -> dict[str, Any]:
    names = {name: fact.entry.means for kind in vocabulary.kinds.values() for name, fact in kind.facts.items()}
    condition = {"$ref": "#/$defs/condition"}
    offered = {name: {**condition, "description": means} for name, means in sorted(names.items())}
    return {"properties": offered, "additionalProperties": {"$ref": "#/$defs/condition"}}


def _condition(limits: Mapping[str, LimitDefinition]) -> dict[str, Any]:
    named = {"enum": [*limits]}
    reference = {"properties": {"limit": named, "fact": {"type": "string"}}}
    return {
        "description": f"JSON Schema keywords: {', '.join(sorted(KEYWORDS))}.",
        "anyOf": [
            {"type": "boolean"},
            {"type": "array"},
            {"type": "object", "properties": dict.fromkeys(_BOUNDS, reference)},
        ],
    }


_BOUNDS = ("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum", "const")


def _case() -> dict[str, Any]:
    return {
        "type": "object",
        "properties": {
            "case": {"type": "string"},
            "verdict": {"enum": ["holds", "broken", "unproven", "not concerned"]},
            "under": {"type": "string"},
        },
        "required": ["case", "verdict"],
    }
