"""An earlier report of `rigcheck inspect`, read for the keys of its findings alone, an entry at a time."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from sys import intern
from typing import Any

from rigcheck.judge.breach_wording import Graver
from rigcheck.report.json.inspection_json import FORM
from rigcheck.rig.thing import titled
from rigcheck.rules.rule import GRAVITY
from rigcheck.tasks.changes import Changes, Key, Seen, Value
from rigcheck.tasks.overview import called

__all__ = ["NoReport", "earlier_report"]

_ENTRY = '{"outcome":'


class NoReport(ValueError):
    """A file that is no JSON report of `rigcheck inspect`."""


def earlier_report(lines: Iterable[str], name: str, pack: str) -> Changes:
    """Return the findings of a report, to compare others with; `pack` is the digest of today's rules.

    Our own reports have an entry a line, and only one is held at a time; any other layout is read whole.
    Raises `NoReport`.
    """
    reader = _Reader()
    rest = []
    try:
        for line in lines:
            if line.startswith(_ENTRY):
                reader.take(json.loads(line.rstrip().removesuffix(",")))
                rest.append("")
            else:
                rest.append(line)
        head = _whole("".join(rest), reader)
    except _NotWhole:
        raise NoReport(f"{name} leaves findings out; make it with --questions all") from None
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise NoReport(f"{name} is no JSON report of rigcheck inspect") from None
    return Changes(reader.told(name), head.get("pack") != pack, reader.found, frozenset(reader.rigs))


def _whole(text: str, reader: _Reader) -> Mapping[str, Any]:
    """Return the head of a report, and take the entries that were not on lines of their own."""
    head: Mapping[str, Any] = json.loads(text)
    if head["form"] != FORM:
        raise NoReport
    for entry in head["entries"]:
        reader.take(entry)
    return head


class _NotWhole(Exception):
    """A report that does not tell every finding: what it left out would seem to be new."""


class _Reader:
    def __init__(self) -> None:
        self.found: dict[Key, list[Seen]] = {}
        self.rigs: set[str] = set()
        self.days: set[str] = set()

    def take(self, entry: Mapping[str, Any]) -> None:
        """Take one entry in; a file that could not be read has no findings."""
        if entry["outcome"] != "judged":
            return
        name = titled(_text(entry["rig"]), entry.get("invented") is True)
        rig = called(intern(name), _text(entry.get("record", "")))
        self.rigs.add(rig)
        self.days.add(_text(entry["day"]))
        if entry.get("left_out", {}).get("findings"):
            raise _NotWhole
        for finding in entry["findings"]:
            key = Key(_text(finding["rule"]), rig, _text(finding["thing"]))
            self.found.setdefault(key, []).append(_seen(finding))

    def told(self, name: str) -> str:
        """Return which report it is, in words."""
        days = sorted(self.days)
        when = f" of {days[0]}" if len(days) == 1 else f" of {days[0]} to {days[-1]}" if days else ""
        return f"{name}{when}"


def _seen(finding: Mapping[str, Any]) -> Seen:
    """Return what was found; reports of some time ago do not have the ends of a quantity."""
    signal = finding["signal"]
    if signal not in GRAVITY:
        raise ValueError
    return Seen(signal, finding.get("conceded") is not None, tuple(map(_value, finding["found"])))


def _value(found: Mapping[str, Any]) -> Value:
    graver: Graver = found.get("graver", "")
    least, greatest = (None if found.get(end) is None else float(found[end]) for end in ("least", "greatest"))
    thing, fact, value = (_text(found[name]) for name in ("thing", "fact", "value"))
    return Value(thing, fact, value, (least, greatest), graver, _text(found.get("counted_from", "")))


def _text(value: Any) -> str:
    """Return text that is kept once, however often it comes."""
    if not isinstance(value, str):
        raise TypeError
    return intern(value)
