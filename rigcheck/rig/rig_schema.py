"""The JSON Schema of a rig file, made from the vocabulary.

It is for editors (completion, hover text, red lines while typing); the reader is stricter and has
the last word. Scalars are described as YAML readers see them, so `20` and `'20 deg'` both fit.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.quantity.units import units_of
from rigcheck.rig.fact import NONE_WORD, UNKNOWN_WORDS, Fact
from rigcheck.rig.shared_facts import SHARED
from rigcheck.rig.vocabulary import Kind, Vocabulary

__all__ = ["rig_schema", "site_schema"]

_ANY_SCALAR = ["string", "number", "boolean"]


def rig_schema(vocabulary: Vocabulary) -> dict[str, Any]:
    """Return the schema of a whole rig file (JSON Schema 2020-12)."""
    kinds = vocabulary.kinds
    root = _thing(kinds["rig"], extra=_root_keys(kinds["rig"]))
    root["properties"].pop("name")  # the rig's name is written under 'rig:'
    if "concession" in kinds:
        root["properties"]["concessions"] = _concessions()
    root |= {"title": "rig", "required": ["rig", "lines"]}
    return root | {"$defs": _definitions(vocabulary)}


def site_schema(vocabulary: Vocabulary) -> dict[str, Any]:
    """Return the schema of a site file."""
    kinds = vocabulary.kinds
    shared = {"properties": {key: _thing(kinds["rig"], {})["properties"][key] for key in SHARED}}
    own: dict[str, Any] = {
        "$schema": {"type": "string", "description": "Where this schema is, for the editor."},
        "site": {"type": "string", "description": "What the place is called."},
        "shared": {
            "type": "object",
            "additionalProperties": False,
            "description": "What is so of every rig.",
            **shared,
        },
    }
    root = _thing(kinds["premises"], extra=own)
    root["properties"].pop("name")  # it is written under 'site:'
    root |= {"title": "site", "required": ["site"]}
    return root | {"$defs": _definitions(vocabulary)}


def _definitions(vocabulary: Vocabulary) -> dict[str, Any]:
    kinds = vocabulary.kinds.values()
    definitions = {kind.key: _thing(kind, _extra_keys(kind)) for kind in kinds if kind.name != "rig"}
    return definitions | {"part_of_line": _part(vocabulary)}


def _root_keys(rig: Kind) -> dict[str, Any]:
    name = rig.facts["name"].entry
    return {
        "$schema": {"type": "string", "description": "Where this schema is, for the editor."},
        "rig": {"type": "string", "description": name.means},
        "stands_at": {"type": "string", "description": "The file of the site on which it stands, seen from this file."},
        "lines": {"type": "array", "minItems": 1, "items": _of("line"), "description": "The gas lines."},
        "on_site": {
            "type": "array",
            "items": {"type": "string", "pattern": "^[a-z_]+\\.[a-z_]+$"},
            "description": "Facts that are left open for the site, as kind.fact.",
        },
    }


def _concessions() -> dict[str, Any]:
    entry = {**_of("concession"), "type": "object", "required": ["rule", "reason", "who", "until"]}
    return {
        "type": "array",
        "items": entry,
        "description": "Findings that somebody accepts for a time: which, why, by whose leave, until when.",
    }


def _extra_keys(kind: Kind) -> dict[str, Any]:
    parts = {"type": "array", "items": _of("part_of_line"), "description": "Parts in the order of flow."}
    to = {"type": "string", "description": "The name of the torch that it leads to, or work."}
    if kind.name == "line":
        every = {**_of("hose_end"), "description": "What is so of every joint of the line."}
        return {"parts": parts, "to": to, "every_joint": every}
    if kind.branches:
        branch = {"type": "object", "properties": {"parts": parts, "to": to}, "required": ["parts"]}
        return {"branches": {"type": "array", "items": branch, "description": "Branches side by side."}}
    return {}


def _of(key: str) -> dict[str, Any]:
    return {"$ref": f"#/$defs/{key}"}


def _part(vocabulary: Vocabulary) -> dict[str, Any]:
    kinds = vocabulary.parts
    ways = {key: {**_of(key), "description": kind.means} for key, kind in kinds.items()}
    joint = {**_of("hose_end"), "description": "The joint between the parts before and after."}
    mapping = {
        "type": "object",
        "properties": {**ways, "joint": joint},
        "minProperties": 1,
        "maxProperties": 1,
        "additionalProperties": False,
    }
    return {"anyOf": [mapping, {"enum": [*kinds]}]}


def _thing(kind: Kind, extra: Mapping[str, Any]) -> dict[str, Any]:
    facts = {name: _fact(fact) for name, fact in kind.facts.items() if not fact.computed}
    held = {key: _held(entry.kind, entry.many, entry.means) for key, entry in kind.holds.items()}
    return {
        "type": ["object", "null"] if kind.name != "rig" else "object",
        "description": kind.means,
        "properties": facts | held | dict(extra),
        "additionalProperties": False,
    }


def _held(kind: str, many: bool, means: str) -> dict[str, Any]:
    one: dict[str, Any] = _of(kind.replace(" ", "_").replace("-", "_"))
    ways: list[dict[str, Any]] = [one, {"const": NONE_WORD}]
    ways += [{"type": "array", "items": one}] if many else []
    return {"anyOf": ways, "description": means}


def _fact(fact: Fact) -> dict[str, Any]:
    entry = fact.entry
    described = {"description": f"{entry.means} {entry.ask}".strip()}
    if fact.measure == "words":
        return described | _words(fact)
    if fact.measure == "several_words":
        return described | {"anyOf": [{"type": "array", "items": _words(fact)}, _words(fact)]}
    if fact.measure == "yes_no":
        return described | {"enum": [True, False, "yes", "no", *UNKNOWN_WORDS]}
    if units := units_of(fact.measure):
        described["description"] += f" Units: {', '.join(units)}."
    return described | {"type": _ANY_SCALAR}


def _words(fact: Fact) -> dict[str, Any]:
    """The words, each with its meaning; other spellings are read too but not offered."""
    offered = [{"const": w, "description": m} if m else {"const": w} for w, m in fact.words.items()]
    others = [*fact.also_written, *UNKNOWN_WORDS]
    return {"anyOf": [*offered, {"enum": others, "description": "Another spelling, or not known."}]}
