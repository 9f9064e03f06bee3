"""The JSON Schemas of what belongs to rigs: register, look, concessions beside, settings; made from the vocabulary.

They are for editors; the reader has the last word. An entry that names a thing by its tag is of one kind or another:
which, only the rig or the register knows, so it may be what any of them takes.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from typing import Any

from rigcheck.rig.fact import NONE_WORD
from rigcheck.rig.register import REGISTER, WITHDRAWAL
from rigcheck.rig.rig_schema import definitions, every_schema, kind_ref, thing_schema
from rigcheck.rig.scalar_patterns import ONE_DAY, UNKNOWN
from rigcheck.rig.scalar_schema import fact_schema, text_schema
from rigcheck.rig.vocabulary import Kind, Vocabulary

__all__ = ["concessions_schema", "look_schema", "register_schema", "settings_schema"]

Schema = dict[str, Any]
_REFERENCE = re.compile(r'"\$ref": "#/\$defs/(\w+)"')
_OWN = {"$schema": {"type": "string", "description": "Where this schema is, for the editor."}}


def register_schema(vocabulary: Vocabulary) -> Schema:
    """Return the schema of a file of a register (JSON Schema 2020-12)."""
    kinds, withdrawal = vocabulary.kinds, vocabulary.kinds[WITHDRAWAL]
    holds = [held.kind for held in kinds[REGISTER].holds.values()]
    kept = [kind for kind in vocabulary.by_key.values() if any(one in kind.lineage for one in holds)]
    gone = {name: fact_schema(fact) for name, fact in _stated(withdrawal) if name not in ("name", "tag")}
    extra = {"as": text_schema("The kind that is bought, of those under 'kinds:'.")} | gone
    own = {f"kept_{kind.key}": _kept(kind, extra) for kind in kept}
    whole = {kind.key: {**kind_ref(f"kept_{kind.key}"), "description": kind.means} for kind in kept}
    entry = {"anyOf": [_mapping(whole, least=1, most=1), _any_of(own, ["as"])]}
    properties = {
        REGISTER: text_schema("What the register is called."),
        **{name: fact_schema(kinds[REGISTER].facts[name]) for name in ("invented", "local_code")},
        "kinds": _entries(entry, "What is the same of all of a kind that is bought, by a name of one's own."),
        "things": _entries(entry, "What is on record of each thing, by the tag that is found on it."),
    }
    made = _mapping(_OWN | properties) | {"title": "register", "required": [REGISTER]}
    return made | {"$defs": _needed(made, definitions(vocabulary) | own)}


def look_schema(vocabulary: Vocabulary) -> Schema:
    """Return the schema of a look at a rig."""
    thing = {"thing": text_schema("Its tag, its place in the rig, its name, or what a report calls it.")}
    seen = {f"seen_{kind.key}": _seen(kind, thing) for kind in vocabulary.by_key.values()}
    every = _mapping({"every": _every_and_rig(vocabulary)}) | {"required": ["every"]}
    entry = {"anyOf": [every, _any_of(seen, ["thing"])]}
    because = {"fact": text_schema("The fact."), "because": text_schema("Why nobody could tell.")}
    properties = {
        "look": text_schema("The file of the rig, seen from this file."),
        "day": {"type": "string", "pattern": ONE_DAY, "description": "The day on which somebody looked."},
        "by": text_schema("Who looked, by role."),
        "seen": {"type": "array", "items": entry, "description": "What was seen; further down replaces."},
        "cannot_tell": {
            "type": "array",
            "items": _mapping(thing | because) | {"required": ["thing", "fact"]},
            "description": "What nobody could tell; it says nothing of the rig.",
        },
        "note": {"description": "Anything for people."},
    }
    made = _mapping(_OWN | properties) | {"title": "look", "required": ["look", "day", "by"]}
    return made | {"$defs": _needed(made, definitions(vocabulary) | _rig(vocabulary) | seen)}


def concessions_schema(vocabulary: Vocabulary) -> Schema:
    """Return the schema of a file of concessions beside the rigs."""
    rig = {"rig": text_schema("The rig's name or its file; * stands for anything.")}
    entry = thing_schema(vocabulary.kinds["concession"], rig)
    needed = {"type": "object", "required": ["rig", "rule", "reason", "who", "until"]}
    told = "Findings that somebody accepts for a time."
    listed = {"anyOf": [{"type": "array", "items": entry | needed}, {"enum": [None, "", "none"]}], "description": told}
    made = _mapping(_OWN | {"concessions": listed}) | {"title": "concessions", "required": ["concessions"]}
    return made | {"$defs": _needed(made, definitions(vocabulary))}


def settings_schema(vocabulary: Vocabulary) -> Schema:
    """Return the schema of the settings of a folder: of every rig in it they say what lasts alone."""
    every = _every_and_rig(vocabulary)
    kinds = {**vocabulary.by_key, "joint": vocabulary.by_key["hose_end"]}
    said = {key: _lasting(kinds[key], one) for key, one in every["properties"].items()}
    properties = {
        REGISTER: text_schema("The register of tagged parts, by its path seen from here."),
        "every": every | {"properties": said, "description": "What is so of every rig of this folder and below."},
    }
    made = _mapping(properties, least=1) | {"title": "settings"}
    return made | {"$defs": _needed(made, definitions(vocabulary) | _rig(vocabulary))}


def _every_and_rig(vocabulary: Vocabulary) -> Schema:
    every = every_schema(vocabulary)
    inner = [{"required": [one]} for one in vocabulary.kinds["rig"].holds]
    every["properties"]["rig"] = kind_ref("rig") | {"not": {"type": "object", "anyOf": inner}}
    return every


def _rig(vocabulary: Vocabulary) -> Schema:
    """Return the definition of a rig as a thing, of which nothing may be known."""
    nothing = {"type": ["object", "null", "string"], "pattern": UNKNOWN}
    return {"rig": thing_schema(vocabulary.kinds["rig"], {}) | nothing}


def _needed(schema: Schema, defined: Schema) -> Schema:
    """Return the definitions that a schema leads to."""
    found: Schema = {}
    left = [schema]
    while left:
        for name in _REFERENCE.findall(json.dumps(left.pop())):
            if name not in found:
                found[name] = defined[name]
                left.append(defined[name])
    return found


def _stated(kind: Kind) -> list[tuple[str, Any]]:
    return [(name, fact) for name, fact in kind.facts.items() if not fact.computed]


def _kept(kind: Kind, extra: Schema) -> Schema:
    """Return the schema of a thing on record: how it is fitted where it stands is not."""
    made = thing_schema(kind, extra)
    made["properties"] |= {name: False for name, fact in _stated(kind) if fact.entry.as_fitted}
    return made


def _seen(kind: Kind, extra: Schema) -> Schema:
    """Return the schema of what a look says of a thing: it has a day of its own."""
    made = thing_schema(kind, extra)
    inner = {key: {"allOf": [made["properties"][key], {"not": {"const": NONE_WORD}}]} for key in kind.holds}
    return made | {"properties": made["properties"] | inner | {"seen": False, "by": False}}


def _lasting(kind: Kind, said: Schema) -> Schema:
    """Return the schema of what is said of all of a kind, without what is told anew of each."""
    anew = [name for name, fact in _stated(kind) if fact.is_told_anew]
    not_there = [{"required": [one]} for one in dict.fromkeys((*anew, *kind.holds, "seen", "by"))]
    return said | {"not": {"type": "object", "anyOf": not_there}}


def _any_of(kinds: Schema, needed: Iterable[str]) -> Schema:
    return {"type": "object", "required": list(needed), "anyOf": [kind_ref(key) for key in kinds]}


def _entries(entry: Schema, means: str) -> Schema:
    return {"type": "object", "additionalProperties": entry, "description": means}


def _mapping(properties: Schema, least: int = 0, most: int = 0) -> Schema:
    made: Schema = {"type": "object", "properties": properties, "additionalProperties": False}
    made |= {"minProperties": least} if least else {}
    return made | ({"maxProperties": most} if most else {})
