"""What each fact of a judged rig is used for: every figure that is worked out from it, or waits for it."""

from __future__ import annotations

from collections.abc import Iterator

from rigcheck.judge.judged import Judged
from rigcheck.rig.thing import Thing, Wanted

__all__ = ["FactUses"]


class FactUses:
    """The figures of one judged rig by the facts that go into them."""

    def __init__(self, judged: Judged) -> None:
        self._uses: dict[Wanted, list[Wanted]] = {}
        for thing in judged.known.things:
            for used, name in _uses(thing):
                self._uses.setdefault(used, []).append((thing, name))

    def consequences(self, thing: Thing, fact: str) -> dict[Wanted, None]:
        """Return a fact and every computed fact that follows from it, in the order in which they were come to."""
        found: dict[Wanted, None] = {}
        waiting = [(thing, fact)]
        while waiting:
            one = waiting.pop()
            if one not in found:
                found[one] = None
                waiting += self._uses.get(one, ())
        return found


def _uses(thing: Thing) -> Iterator[tuple[Wanted, str]]:
    """Yield the facts that each computed fact of a thing was worked out from, or waits for."""
    for name, working in thing.workings.items():
        yield from (((used.owner, used.fact), name) for used in working.used if used.owner is not None)
    for name, witnesses in thing.witnesses.items():
        yield from ((one.of, name) for one in witnesses)
    for name, wanted in thing.wanting.items():
        yield from ((one, name) for one in wanted)
    for name, fact in thing.kind.facts.items():
        if fact.entry.from_day:
            yield (thing, fact.entry.from_day), name
