"""The JSON Schema of a rig file, made from the vocabulary.

It is for editors (completion, hover text, red lines while typing); the reader has the last word. What `scalar_schema`
says of single values is what the reader takes, as far as patterns can say it: `tests/laws/test_schema_agrees.py`.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.rig.fact import NONE_WORD, Fact
from rigcheck.rig.scalar_patterns import ONE_DAY, UNKNOWN, blind
from rigcheck.rig.scalar_schema import fact_schema, scalar_definitions, text_schema
from rigcheck.rig.shared_facts import SHARED
from rigcheck.rig.vocabulary import Kind, Vocabulary

__all__ = ["definitions", "every_schema", "kind_ref", "rig_schema", "site_schema", "thing_schema"]


def rig_schema(vocabulary: Vocabulary) -> dict[str, Any]:
    """Return the schema of a whole rig file (JSON Schema 2020-12)."""
    kinds = vocabulary.kinds
    root = thing_schema(kinds["rig"], extra=_root_keys(kinds["rig"]))
    root["properties"].pop("name")  # the rig's name is written under 'rig:'
    if "concession" in kinds:
        root["properties"]["concessions"] = _concessions()
    root["properties"]["every"] = {"$ref": "#/$defs/every"}
    root |= {"title": "rig", "required": ["rig"]}
    root |= {"anyOf": [{"required": ["lines"]}, {"required": ["standard_rig"]}]}
    return root | {"$defs": definitions(vocabulary)}


def site_schema(vocabulary: Vocabulary) -> dict[str, Any]:
    """Return the schema of a site file."""
    kinds = vocabulary.kinds
    shared = {"properties": {key: thing_schema(kinds["rig"], {})["properties"][key] for key in SHARED}}
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
    root = thing_schema(kinds["premises"], extra=own)
    root["properties"].pop("name")  # it is written under 'site:'
    root |= {"title": "site", "required": ["site"]}
    defined = definitions(vocabulary)
    for one in (root, *shared["properties"].values(), *defined.values()):  # a site is no rig that one looks at
        one.get("properties", {}).pop("sights", None)
    return root | {"$defs": defined}


def definitions(vocabulary: Vocabulary) -> dict[str, Any]:
    """Return the definitions that the schemas of things lead to."""
    kinds = vocabulary.kinds.values()
    things = {kind.key: thing_schema(kind, _extra_keys(kind)) for kind in kinds if kind.name != "rig"}
    things.get("concession", {}).get("properties", {}).pop("sights", None)
    return things | scalar_definitions() | {"part_of_line": _part(vocabulary), "every": every_schema(vocabulary)}


def _root_keys(rig: Kind) -> dict[str, Any]:
    name = rig.facts["name"].entry
    return {
        "$schema": {"type": "string", "description": "Where this schema is, for the editor."},
        "rig": text_schema(name.means),
        "standard_rig": text_schema("The standard rig that it is one of, by name or path: what it says is presumed."),
        "begun_from": _begun_from(),
        "may_differ": {
            "type": "array",
            "items": {"type": "string", "pattern": "^[a-z_]+(?:\\.[a-z_]+)?$"},
            "description": "Of a standard rig: the kinds and facts in which a rig of it may depart.",
        },
        "register": text_schema("The register of tagged parts, by its path."),
        "stands_at": text_schema("The file of the site on which it stands, seen from this file."),
        "lines": {"type": "array", "minItems": 1, "items": kind_ref("line"), "description": "The gas lines."},
        "on_site": {
            "type": "array",
            "items": {"type": "string", "pattern": "^[a-z_]+\\.[a-z_]+$"},
            "description": "Facts that are left open for the site, as kind.fact.",
        },
    }


def _begun_from() -> dict[str, Any]:
    keys = {"standard_rig": text_schema("Its name."), "digest": text_schema("That of its file then.")}
    whole = {"type": "object", "properties": keys, "required": ["standard_rig"], "additionalProperties": False}
    told = "The standard rig that the description was copied from: what nobody has marked as seen is presumed."
    return {"anyOf": [whole, text_schema("")], "description": told}


def every_schema(vocabulary: Vocabulary) -> dict[str, Any]:
    """Return what is said once of all things of a kind; what is built in is a kind of its own."""
    kinds = {key: _of_all(kind, key) for key, kind in vocabulary.by_key.items() if key != "rig"}
    told = "What is so of every thing of a kind, unless it says otherwise itself."
    return {
        "type": "object",
        "properties": kinds,
        "additionalProperties": False,
        "minProperties": 1,
        "description": told,
    }


def _of_all(kind: Kind, key: str) -> dict[str, Any]:
    said = {**kind_ref(_JOINTS.get(key, key)), "description": kind.means}
    inner = [*kind.holds, *_extra_keys(kind)]
    return said | ({"not": {"type": "object", "anyOf": [{"required": [one]} for one in inner]}} if inner else {})


_JOINTS = {"joint": "hose_end"}
"""What is said of every joint may be what only one beside a hose has."""


def _concessions() -> dict[str, Any]:
    entry = {**kind_ref("concession"), "type": "object", "required": ["rule", "reason", "who", "until"]}
    return {
        "type": "array",
        "items": entry,
        "description": "Findings that somebody accepts for a time: which, why, by whose leave, until when.",
    }


def _extra_keys(kind: Kind) -> dict[str, Any]:
    parts = {
        "type": "array",
        "minItems": 1,
        "items": kind_ref("part_of_line"),
        "description": "Parts in the order of flow.",
    }
    to = text_schema("The name of the torch that it leads to, or work.")
    if kind.name == "line":
        every = {**kind_ref("hose_end"), "description": "What is so of every joint of the line."}
        told = "What is so of every thing of a kind in this line."
        of_each = {"$ref": "#/$defs/every", "properties": {"line": False}, "description": told}
        return {"parts": parts, "to": to, "every_joint": every, "every": of_each}
    if kind.branches:
        branch = {"type": "object", "properties": {"parts": parts, "to": to}, "required": ["parts"]}
        return {"branches": {"type": "array", "items": branch, "description": "Branches side by side."}}
    return {}


def kind_ref(key: str) -> dict[str, Any]:
    """Return a reference to the schema of a kind."""
    return {"$ref": f"#/$defs/{key}"}


def _part(vocabulary: Vocabulary) -> dict[str, Any]:
    kinds = vocabulary.parts
    ways = {key: {**kind_ref(key), "description": kind.means} for key, kind in kinds.items()}
    joint = {**kind_ref("hose_end"), "description": "The joint between the parts before and after."}
    mapping = {
        "type": "object",
        "properties": {**ways, "joint": joint},
        "minProperties": 1,
        "maxProperties": 1,
        "additionalProperties": False,
    }
    return {"anyOf": [mapping, {"enum": [*kinds]}]}


def thing_schema(kind: Kind, extra: Mapping[str, Any]) -> dict[str, Any]:
    """Return the schema of a thing: its facts, what is built into it, and other keys of where it stands."""
    stated = {name: fact for name, fact in kind.facts.items() if not fact.computed}
    facts = {name: fact_schema(fact) for name, fact in stated.items()}
    held = {key: _held(entry.kind, entry.many, entry.means) for key, entry in kind.holds.items()}
    whole: dict[str, Any] = {
        "type": "object",
        "description": kind.means,
        "properties": facts | held | dict(extra) | _SEEN | {"sights": _sights(kind, facts)},
        "patternProperties": {_other_names(stated): True},
        "additionalProperties": False,
        "dependentRequired": {"by": ["seen"]},
    }
    if kind.name != "rig":  # nothing known of it
        whole |= {"type": ["object", "null", "string"], "pattern": UNKNOWN}
    return whole


def _other_names(facts: Mapping[str, Fact]) -> str:
    """Return a pattern of other spellings and names of facts: they are read, and an editor does not offer them."""
    names = dict.fromkeys([*facts, *(other for fact in facts.values() for other in fact.entry.also_called)])
    return rf"^\s*(?:{'|'.join(map(blind, names))})\s*$"


_SEEN = {
    "seen": {"type": "string", "pattern": ONE_DAY, "description": "The day on which somebody looked, as 2026-11-25."},
    "by": text_schema("Who looked, by role."),
}


def _sights(kind: Kind, facts: Mapping[str, Any]) -> dict[str, Any]:
    """What was seen of a thing, beside what is written of it: rows of its facts, each with its day."""
    row: dict[str, Any] = {"type": "object", "required": ["seen"]}
    if kind.name == "rig":  # it is no definition that could be referred to
        row |= {"properties": {**facts, **_SEEN}}
    else:
        row |= kind_ref(kind.key) | {"properties": dict.fromkeys((*kind.holds, "sights"), False)}
    told = "What was seen of it, a row for each day and role."
    return {"anyOf": [row, {"type": "array", "items": row}], "description": told}


def _held(kind: str, many: bool, means: str) -> dict[str, Any]:
    one: dict[str, Any] = kind_ref(kind.replace(" ", "_").replace("-", "_"))
    ways: list[dict[str, Any]] = [one, {"const": NONE_WORD}]
    ways += [{"type": "array", "items": one}] if many else []
    return {"anyOf": ways, "description": means}
