"""The shipped sites written in full: each thing with all that is on record and said of every thing of its kind.

This does with plain mappings what the loader does with witnesses, so that a law can hold one against the other, and a
test can change one fact of a rig in one place.
"""

from __future__ import annotations

import atexit
import re
from collections.abc import Iterator
from copy import deepcopy
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import yaml

import rigcheck
from rigcheck.rig.vocabulary import Kind, Vocabulary
from rigcheck.rules.folders import rules_folder
from rigcheck.rules.load import load_pack

__all__ = ["site_in_full", "sites_in_full", "text_in_full", "things_of"]

Plain = dict[str, Any]
_QUOTED = re.compile(r"^( *(?:- )*(?:\w+: )?)'([\w .%/-]+)'$", re.MULTILINE)
_SITES = rigcheck.configs_folder() / "sites"
_REGISTER = rigcheck.configs_folder() / "harbour" / "register"


@cache
def sites_in_full() -> Path:
    """Return a folder that has each shipped site in a file that needs no other, under its own name."""
    made = TemporaryDirectory(prefix="in-full-")
    atexit.register(made.cleanup)
    folder = Path(made.name) / "sites"
    folder.mkdir()
    for path in _SITES.glob("[!.]*.yaml"):
        (folder / path.name).write_text(text_in_full(path.stem), encoding="utf-8")
    return folder


def text_in_full(name: str) -> str:
    """Return a shipped site, by the stem of its file, as the text of a file that needs no other."""
    text = yaml.dump(_in_full(name), Dumper=yaml.CSafeDumper, sort_keys=False, allow_unicode=True, width=110)
    return _QUOTED.sub(r"\1\2", text)  # all is text to the reader, as people write it


def site_in_full(name: str) -> Plain:
    """Return a shipped site, by the stem of its file, as plain mappings that may be changed."""
    return deepcopy(_in_full(name))


@cache
def _in_full(name: str) -> Plain:
    vocabulary = _vocabulary()
    rig = _read(_SITES / f"{name}.yaml")
    folder = _read(_SITES / ".rigcheck.yaml")["every"]
    own = rig.pop("every", {})
    for kind, thing in [*things_of(vocabulary.kinds["rig"], rig, vocabulary)]:
        _lay(thing, _record(thing.pop("tag", ""), kind))
    for line in rig["lines"]:
        scopes = [line.pop("every", {}), own, folder]
        _fill_in(line, vocabulary.kinds["line"], scopes[1:])
        line["every_joint"] = _merged([line.get("every_joint", {}), *(one.get("joint", {}) for one in scopes)])
        for kind, thing in _parts(line["parts"], vocabulary):
            _fill_in(thing, kind, scopes)
    met = {"joint"}
    for kind, thing in things_of(vocabulary.kinds["rig"], rig, vocabulary):
        _fill_in(thing, kind, [own, folder])
        met |= {kind.key, *kind.lineage}
    left = {key: said for key, said in own.items() if key not in met and key != "line"}
    return rig | ({"every": left} if left else {})  # of things that exist though nobody wrote them


def _read(path: Path) -> Plain:
    read: Plain = yaml.load(path.read_text(encoding="utf-8"), yaml.CBaseLoader)
    return read


@cache
def _vocabulary() -> Vocabulary:
    return load_pack(rules_folder()).vocabulary


# --- what is on record ---


@cache
def _register() -> tuple[Plain, Plain]:
    kinds: Plain = {}
    things: Plain = {}
    for path in sorted(_REGISTER.glob("*.yaml")):
        read = _read(path)
        kinds |= read.get("kinds", {})
        things |= read.get("things", {})
    return kinds, things


def _record(tag: str, kind: Kind) -> Plain:
    kinds, things = _register()
    entry: Plain = things[tag] if tag else {}
    if "as" not in entry:
        return deepcopy(entry.get(kind.key, {}))  # type: ignore[no-any-return]
    rest = {key: value for key, value in entry.items() if key != "as"}
    return deepcopy(kinds[entry["as"]][kind.key]) | rest  # type: ignore[no-any-return]


def _lay(thing: Plain, record: Plain) -> None:
    """Lay what is on record under what a thing says itself, and the same in what is built into it."""
    for key, value in record.items():
        own = thing.setdefault(key, value)
        if isinstance(own, dict) and isinstance(value, dict):
            _lay(own, value)
        elif isinstance(own, list) and isinstance(value, list):
            for one, other in zip(own, value, strict=True):
                if isinstance(one, dict):
                    _lay(one, other)


# --- what is said of every thing ---


def _fill_in(thing: Plain, kind: Kind, scopes: list[Plain]) -> None:
    keys = [base.replace(" ", "_") for base in kind.lineage]
    for scope in scopes:
        for key in keys:
            for fact, value in scope.get(key, {}).items():
                if fact in kind.facts:
                    thing.setdefault(fact, value)


def _merged(scopes: list[Plain]) -> Plain:
    made: Plain = {}
    for scope in scopes:
        for fact, value in scope.items():
            made.setdefault(fact, value)
    return made


def things_of(kind: Kind, body: Plain, vocabulary: Vocabulary) -> Iterator[tuple[Kind, Plain]]:
    """Yield a thing and all that is in it, but for lines and what stands in them; then what stands in them."""
    yield kind, body
    if kind.name == "rig":
        for line in body["lines"]:
            yield from _parts(line["parts"], vocabulary)
    for key, held in kind.holds.items():
        inner = body.get(key)
        for one in inner if isinstance(inner, list) else [inner]:
            if isinstance(one, dict) and key != "lines":
                yield from things_of(vocabulary.kinds[held.kind], one, vocabulary)


def _parts(parts: list[Any], vocabulary: Vocabulary) -> Iterator[tuple[Kind, Plain]]:
    for part in parts:
        [(key, body)] = part.items()
        if key != "joint":
            yield from things_of(vocabulary.by_key[key], body, vocabulary)
            for branch in body.get("branches", ()):
                yield from _parts(branch["parts"] if isinstance(branch, dict) else branch, vocabulary)
