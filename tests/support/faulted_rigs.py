"""Rigs with many faults at once, made at random of those that ship."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from random import Random
from typing import Any

import yaml

from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.rig.loader import load_rig
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Refused

__all__ = ["faulted", "inspected_sites"]

_DAY = date(2026, 11, 25).toordinal()
_MEASURED = re.compile(r"([\d.]+) (.*)")
_DAYS = ("2010-01-01", "none", "2026-11-20", "2019-05")

Way = tuple[str | int, ...]


def inspected_sites(pack: Pack) -> Iterator[Inspection]:
    """Yield the inspection of every invented site."""
    for path in _paths("sites"):
        yield inspect_rig(load_rig(path.read_bytes(), path.name, pack.vocabulary), pack, day=_DAY)


def faulted(pack: Pack, many: int, seed: int) -> Iterator[Inspection]:
    """Yield inspections of shipped rigs in which one statement of six is another, and parts are taken out."""
    random, words = Random(seed), _words(pack)
    paths = [*_paths("sites"), *_paths("templates")]
    for _ in range(many):
        path = random.choice(paths)
        rig = yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader)
        _spoil(rig, words, random)
        data = yaml.safe_dump(rig, sort_keys=False, allow_unicode=True).encode()
        try:
            yield inspect_rig(load_rig(data, path.name, pack.vocabulary, what_can_be_read=True), pack, day=_DAY)
        except Refused:  # a line without a beginning, say
            continue


def _paths(folder: str) -> list[Path]:
    return [
        p for p in sorted((configs_folder() / folder).glob("[!.]*.yaml")) if "lines:" in p.read_text(encoding="utf-8")
    ]


def _words(pack: Pack) -> dict[str, list[str]]:
    """Return the words of every fact by its name, whatever kind has it."""
    words: dict[str, set[str]] = {}
    for kind in pack.vocabulary.kinds.values():
        for name, fact in kind.facts.items():
            words.setdefault(name, set()).update(fact.words, ("true", "false") if fact.measure == "yes_no" else ())
    return {name: sorted(some) for name, some in words.items() if some}


def _spoil(rig: Any, words: dict[str, list[str]], random: Random) -> None:
    leaves = list(_leaves(rig))
    for way, value in random.sample(leaves, max(10, len(leaves) // 6)):
        name = next((step for step in reversed(way) if isinstance(step, str)), "")
        _write(rig, way, _otherwise(value, words.get(name, []), random))
    for line in rig.get("lines", ()):
        parts = line.get("parts", ()) if isinstance(line, dict) else ()
        if len(parts) > 2 and random.random() < 0.5:
            parts.pop(random.randrange(len(parts)))


def _otherwise(value: str, words: list[str], random: Random) -> str:
    if words:
        return random.choice(words)
    if measured := _MEASURED.fullmatch(value):
        return f"{float(measured[1]) * random.choice((0.1, 0.5, 2, 5, 10)):.4g} {measured[2]}"
    return random.choice(_DAYS) if re.match(r"\d{4}-\d\d", value) else value


def _leaves(node: Any, way: Way = ()) -> Iterator[tuple[Way, str]]:
    inner = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    if not isinstance(node, (dict, list)):
        yield way, node
    for key, value in inner:
        yield from _leaves(value, (*way, key))


def _write(node: Any, way: Way, value: str) -> None:
    for step in way[:-1]:
        node = node[step]
    node[way[-1]] = value
