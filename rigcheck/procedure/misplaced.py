"""Recorded steps that stand out of order, told by as few of them as explain it all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from msgspec import Struct

__all__ = ["Misplaced", "misplaced_steps"]


class Misplaced(Struct, frozen=True):
    """One recorded step that stands out of order, and the pairs that show it: (should be first, came first)."""

    entry: int
    pairs: tuple[tuple[int, int], ...]


def misplaced_steps(
    numbers: Iterable[int], counting: Mapping[int, int], before: Mapping[int, frozenset[int]]
) -> tuple[Misplaced, ...]:
    """Return what stands out of order in a list of recorded steps.

    `numbers`: the instance of each entry, in the order of the record; `counting`: for each instance the entry by
    which it counts as done; `before`: the instances that come before each.
    """
    pairs = [
        (counting[earlier], entry)
        for entry, number in enumerate(numbers)
        for earlier in sorted(before[number])
        if counting.get(earlier, -1) > entry
    ]
    return tuple(_explained(pairs))


def _explained(pairs: list[tuple[int, int]]) -> Iterable[Misplaced]:
    """Take the entry that stands in most pairs out, again and again, until no pair is left."""
    while pairs:
        counts = Counter(entry for pair in pairs for entry in pair)
        worst = max(counts, key=lambda entry: (counts[entry], -entry))
        mine = [pair for pair in pairs if worst in pair]
        yield Misplaced(worst, tuple(mine))
        pairs = [pair for pair in pairs if worst not in pair]
