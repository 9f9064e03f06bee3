"""The things of two rigs side by side: lines by their gas, parts by kind and order of flow, the rest by likeness."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from msgspec import Struct, field

from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import MISSING, Rig, Thing

__all__ = ["Pair", "match_rigs", "same_as_stated", "stated_facts"]

_MOST_LIKENESS = 0.5  # below a half: likeness only decides between alignments of as many parts
_SAME_NAME = 2.0


class Pair(Struct, frozen=True):
    """One thing in both rigs, or in one of them only; `moved`: it stands elsewhere in the order of flow."""

    before: Thing | None
    after: Thing | None
    moved: bool = False


def match_rigs(before: Rig, after: Rig) -> list[Pair]:
    """Return every thing of two rigs once, in the order of flow, each with its counterpart.

    What is inside a thing that only one rig has is not told by itself.
    """
    return list(_Matching(before, after).pairs())


def stated_facts(thing: Thing) -> dict[str, Any]:
    """Return the facts that were written of a thing, by name, as they were written."""
    facts = (thing.origin or thing).facts
    return {name: facts[name] for name in thing.kind.facts if name in thing.places and name in facts}


def same_as_stated(one: Any, other: Any) -> bool:
    """Return whether two stated values say the same: in whatever unit, spelling, or order of words."""
    if isinstance(one, Interval) and isinstance(other, Interval):
        slack = 0.0 if one.unit == other.unit else max(one.grain, other.grain)
        return abs(one.lo - other.lo) <= slack and abs(one.hi - other.hi) <= slack
    if isinstance(one, tuple) and isinstance(other, tuple):
        return frozenset(one) == frozenset(other)
    return type(one) is type(other) and bool(one == other)


def _likeness(one: Thing, other: Thing) -> float:
    """Return the share of stated facts that are the same, from 0 to 1; the name counts for itself."""
    first, second = (stated_facts(thing) for thing in (one, other))
    names = (first.keys() | second.keys()) - {"name"}
    same = sum(same_as_stated(first.get(name, MISSING), second.get(name, MISSING)) for name in names)
    named = _SAME_NAME if "name" in first and first["name"] == second.get("name") else 0.0
    return named + (same / len(names) if names else 1.0)


class _Matching(Struct):
    before: Rig
    after: Rig
    partner: dict[Thing, Thing] = field(default_factory=dict)

    def pairs(self) -> Iterator[Pair]:
        """Yield lines part by part, torches, what stands around, and the rig."""
        roots = self.before.root, self.after.root
        self._join(*roots)
        lines = tuple(_held(root, "lines") for root in roots)
        for gas in dict.fromkeys(_gas(line) for line in (*lines[0], *lines[1])):
            alike = ([line for line in side if _gas(line) == gas] for side in lines)
            for one, other in _by_likeness(*alike):
                yield from self._line(one, other)
        for key in sorted(roots[0].kind.holds, key=lambda key: key != "torch"):
            if key != "lines":
                yield from self._inner(*roots, key)
        yield Pair(*roots)

    def _join(self, before: Thing, after: Thing) -> None:
        self.partner[before] = after

    def _line(self, before: Thing | None, after: Thing | None) -> Iterator[Pair]:
        yield Pair(before, after)
        if before is None or after is None:
            return
        self._join(before, after)
        found = _aligned(*(line.facts.get("parts", ()) for line in (before, after)))
        for pair in found:
            if pair.before is not None and pair.after is not None:
                self._join(pair.before, pair.after)
        for pair in found:
            yield from self._with_inner(pair)
        yield from self._joints(before.facts.get("joints", ()), after.facts.get("joints", ()))

    def _joints(self, before: Sequence[Thing], after: Sequence[Thing]) -> Iterator[Pair]:
        """Yield joints between the same neighbours, then those that share the part before or after them."""
        left, right = list(before), list(after)
        for sides in (("upstream", "downstream"), ("upstream",), ("downstream",)):
            for one in list(left):
                other = next((joint for joint in right if self._alike(one, joint, sides)), None)
                if other is not None:
                    left.remove(one)
                    right.remove(other)
                    yield Pair(one, other)
        yield from (Pair(one, None) for one in left)
        yield from (Pair(None, other) for other in right)

    def _alike(self, one: Thing, other: Thing, sides: tuple[str, ...]) -> bool:
        return all(self._same_neighbour(one.facts[side], other.facts[side]) for side in sides)

    def _same_neighbour(self, one: Thing, other: Thing) -> bool:
        # torches are matched later: their names must do
        both_torches = "torch" in one.kind.lineage and "torch" in other.kind.lineage
        same_name = both_torches and one.facts.get("name") == other.facts.get("name")
        return same_name or self.partner.get(one) is other

    def _with_inner(self, pair: Pair) -> Iterator[Pair]:
        yield pair
        if pair.before is not None and pair.after is not None:
            for key in pair.before.kind.holds:
                yield from self._inner(pair.before, pair.after, key)

    def _inner(self, before: Thing, after: Thing, key: str) -> Iterator[Pair]:
        for one, other in _by_likeness(_held(before, key), _held(after, key)):
            if one is not None and other is not None:
                self._join(one, other)
            yield from self._with_inner(Pair(one, other))


def _held(thing: Thing, key: str) -> list[Thing]:
    held = thing.facts.get(key)
    return [one for one in (held if isinstance(held, tuple) else (held,)) if isinstance(one, Thing)]


def _gas(line: Thing) -> str:
    return line.gas_word


def _by_likeness(before: list[Thing], after: list[Thing]) -> Iterator[tuple[Thing | None, Thing | None]]:
    """Yield the likest first joined, then told in the order of the rig that was read last; the rest alone."""
    alone = len(before) == len(after) == 1  # nothing to choose from
    ranked = sorted(
        (0.0 if alone else -_likeness(a, b), abs(i - j), i, j)
        for i, a in enumerate(before)
        for j, b in enumerate(after)
    )
    partner: dict[int, int] = {}
    for _, _, i, j in ranked:
        if i not in partner and j not in partner.values():
            partner[i] = j
    joined = {j: i for i, j in partner.items()}
    yield from ((before[joined[j]] if j in joined else None, other) for j, other in enumerate(after))
    yield from ((one, None) for i, one in enumerate(before) if i not in partner)


# --- parts in the order of flow ---


def _aligned(before: Sequence[Thing], after: Sequence[Thing]) -> list[Pair]:
    """Return parts in order: the longest common run of kinds, likest parts first; what is left over and alike moved."""
    steps = _longest_run(before, after, _part_score)
    lone_before = [one for one, other in steps if one is not None and other is None]
    moved: dict[Thing, Thing] = {}
    for _, other in [step for step in steps if step[0] is None]:
        assert other is not None
        alike = [one for one in lone_before if one.kind is other.kind]
        if alike:
            best = max(alike, key=lambda one: _likeness(one, other))
            moved[other] = best
            lone_before.remove(best)
    gone = set(moved.values())
    told = (step for step in steps if step[0] is None or step[1] is not None or step[0] not in gone)
    return [Pair(moved[b], b, moved=True) if b is not None and b in moved else Pair(a, b) for a, b in told]


def _part_score(one: Thing, other: Thing) -> float:
    if one.kind is not other.kind:
        return 0.0
    return 1.0 + _MOST_LIKENESS * _likeness(one, other) / (1.0 + _SAME_NAME) / 1_000


_Step = tuple[Thing | None, Thing | None]


def _longest_run(
    before: Sequence[Thing], after: Sequence[Thing], score: Callable[[Thing, Thing], float]
) -> list[_Step]:
    """Return the alignment of the greatest score (a longest common subsequence, weighted)."""
    best = [[0.0] * (len(after) + 1) for _ in range(len(before) + 1)]
    scores = [[score(one, other) for other in after] for one in before]
    for i in range(len(before) - 1, -1, -1):
        for j in range(len(after) - 1, -1, -1):
            paired = scores[i][j] + best[i + 1][j + 1] if scores[i][j] else 0.0
            best[i][j] = max(best[i + 1][j], best[i][j + 1], paired)
    return list(_walked_back(before, after, scores, best))


def _walked_back(
    before: Sequence[Thing], after: Sequence[Thing], scores: list[list[float]], best: list[list[float]]
) -> Iterator[_Step]:
    i = j = 0
    while i < len(before) and j < len(after):
        if scores[i][j] and best[i][j] == scores[i][j] + best[i + 1][j + 1]:
            yield before[i], after[j]
            i, j = i + 1, j + 1
        elif best[i][j] == best[i + 1][j]:
            yield before[i], None
            i += 1
        else:
            yield None, after[j]
            j += 1
    yield from ((one, None) for one in before[i:])
    yield from ((None, other) for other in after[j:])
