"""What became of the findings of an earlier report: new ones, ones found graver or otherwise, and those that are gone.

Pure. A finding is known again by its rule, its rig and its thing. That alone would take a lean of 60 deg for the one
of 30 deg that somebody looked at, so what was found is compared too: whoever took a finding as known knew of that.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal, NamedTuple

from msgspec import Struct, field

from rigcheck.rules.rule import GRAVITY, Signal

__all__ = ["Changed", "Changes", "Key", "Seen", "Value"]

_SAME = 1e-9  # relative: what two machines may differ by in the last digit of a float


class Key(NamedTuple):
    """By what a finding is known again: never by its line."""

    rule: str
    rig: str
    thing: str


class Value(NamedTuple):
    """One fact that broke a rule, as a report tells it: `Found` of the judge has what the fields mean."""

    thing: str
    fact: str
    value: str
    ends: tuple[float | None, float | None] | None = None
    graver: Literal["more", "less", ""] = ""
    counted_from: str = ""

    def is_graver_than(self, before: Value) -> bool:
        """Whether it is graver than it was, or otherwise so that this cannot be told.

        A time that is counted from a day, or left until one, runs on by itself: it is graver only where that day is
        an earlier one.
        """
        if self.counted_from:
            return bool(before.counted_from) and self.counted_from < before.counted_from
        if self.value == before.value:
            return False
        end = 1 if self.graver == "more" else 0
        now, then = (one.ends[end] if one.ends else None for one in (self, before))
        if not self.graver or now is None or then is None:
            return True
        beyond = now - then if self.graver == "more" else then - now
        return beyond > abs(then) * _SAME


class Seen(NamedTuple):
    """A finding as far as it is compared: its signal word, whether leave was given, and what was found."""

    signal: Signal
    conceded: bool
    values: tuple[Value, ...]


class Changed(NamedTuple):
    """A finding that stood in the earlier report and is graver now, or other than it was: in which way, in words."""

    key: Key
    how: str


class Changes(Struct):
    """What became of the findings of an earlier report, of which `told` says in words which it is.

    `earlier`: its findings; what is left of them after the last fold is gone, or was not looked at where its rig was
    not inspected. `rigs`: the rigs that it told of. `changed`: what stood in it, and is graver now or otherwise.
    `other_rules`: it was made with other rules or limits, so that some changes come from these.
    """

    told: str
    other_rules: bool
    earlier: dict[Key, list[Seen]]
    rigs: frozenset[str]
    new: list[Key] = field(default_factory=list)
    changed: list[Changed] = field(default_factory=list)
    still: int = 0
    seen: set[str] = field(default_factory=set)

    def fold(self, rig: str, found: Iterable[tuple[str, str, Seen]]) -> None:
        """Compare the findings of one inspection, each with its rule and its thing."""
        self.seen.add(rig)
        for rule, thing, now in found:
            key = Key(rule, rig, thing)
            before = self.earlier.get(key)
            if before is None:
                self.new.append(key)
            else:
                self._compare(key, before, now)

    def _compare(self, key: Key, before: list[Seen], now: Seen) -> None:
        """Take the finding that it most likely was from those that the earlier report has of one rule and thing."""
        ways = [_how(one, now) for one in before]
        at = ways.index("") if "" in ways else 0
        del before[at]
        if not before:
            del self.earlier[key]
        if ways[at]:
            self.changed.append(Changed(key, ways[at]))
        else:
            self.still += 1

    def gone(self) -> Iterator[Key]:
        """Yield the findings that are no more, on rigs that were inspected again."""
        return (key for key in self._left() if key.rig in self.seen)

    def not_seen(self) -> Iterator[Key]:
        """Yield the findings on rigs that were not inspected this time, or could not be read."""
        return (key for key in self._left() if key.rig not in self.seen)

    def _left(self) -> Iterator[Key]:
        return (key for key, several in self.earlier.items() for _ in several)

    def on_new_rigs(self) -> int:
        """Return how many of the new findings are on rigs that the earlier report does not tell of."""
        return sum(key.rig not in self.rigs for key in self.new)


def _how(before: Seen, now: Seen) -> str:
    """Return in which way a finding is graver or other than it was, in words; nothing where it is not.

    >>> then = Value("trolley", "tilt", "30 deg", (0.52, 0.52), "more")
    >>> now = Value("trolley", "tilt", "60 deg", (1.05, 1.05), "more")
    >>> _how(Seen("warning", False, (then,)), Seen("warning", False, (now,)))
    'tilt: 60 deg, was 30 deg'
    """
    if GRAVITY[now.signal] > GRAVITY[before.signal]:
        return f"{now.signal.upper()}, was {before.signal.upper()}"
    if before.conceded and not now.conceded:
        return "leave was given then, and is not now"
    return "; ".join(_worse(before.values, now.values))


def _worse(before: Iterable[Value], now: Iterable[Value]) -> Iterator[str]:
    """Yield what was found now and not then, or less then."""
    stood: Mapping[tuple[str, str], list[Value]] = _by_fact(before)
    for fact, values in _by_fact(now).items():
        then = stood.get(fact, [])
        worse = [one for one in values if all(one.is_graver_than(old) for old in then)]
        for one in worse:
            yield f"{one.fact}: {one.value}, {f'was {then[0].value}' if then else 'not found then'}"


def _by_fact(values: Iterable[Value]) -> dict[tuple[str, str], list[Value]]:
    found: dict[tuple[str, str], list[Value]] = {}
    for one in values:
        found.setdefault((one.thing, one.fact), []).append(one)
    return found
