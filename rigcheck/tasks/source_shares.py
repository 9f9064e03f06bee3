"""How well the sources of a pack are known: by signal word, and by the local code whose texts they are."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Literal

from msgspec import Struct

from rigcheck.rules.documents import STANDINGS, UNREAD, Source, Standing
from rigcheck.rules.local_codes import COUNTRIES
from rigcheck.rules.rule import SIGNALS, Rule, Signal
from rigcheck.rules.steps import Procedure, Step

__all__ = [
    "WHOSE",
    "Shares",
    "Whose",
    "best_standing",
    "by_local_code",
    "by_signal",
    "rests_on",
    "steps_of",
    "unread_share",
]

Whose = Literal["own texts", "international texts", "texts of other countries", "nothing that was read"]
WHOSE: tuple[Whose, ...] = ("own texts", "international texts", "texts of other countries", "nothing that was read")
"""Whose texts a rule rests on under a local code, the nearest first."""

Judging = Rule | Step


class Shares(Struct, frozen=True):
    """Rules or steps by signal word, counted by their best standing.

    `in_part`: how many of them have been read only in texts that support a part.
    """

    counts: Mapping[Signal, Counter[Standing]]
    in_part: Mapping[Signal, int]

    def of(self, signals: Iterable[Signal] = SIGNALS) -> Counter[Standing]:
        """Return the counts of signal words together."""
        return sum((self.counts[signal] for signal in signals), Counter())


def best_standing(sources: Iterable[Source]) -> Standing:
    """Return how well the best of some sources is known."""
    return min((source.standing for source in sources), key=STANDINGS.index)


def by_signal(judging: Iterable[Judging]) -> Shares:
    """Return rules or steps counted by the best standing of their sources."""
    counts: dict[Signal, Counter[Standing]] = {signal: Counter() for signal in SIGNALS}
    in_part: dict[Signal, int] = dict.fromkeys(SIGNALS, 0)
    for one in judging:
        best = best_standing(one.sources)
        counts[one.signal][best] += 1
        read = [source for source in one.sources if source.standing not in UNREAD]
        in_part[one.signal] += bool(read) and all(source.in_part for source in read)
    return Shares(counts, in_part)


def unread_share(counts: Counter[Standing]) -> float:
    """Return the share of what rests on memory or common practice alone, of 1; none of nothing."""
    total = counts.total()
    return sum(counts[standing] for standing in UNREAD) / total if total else 0.0


def rests_on(sources: Iterable[Source], local_code: str) -> Whose:
    """Return whose texts, of those that were read, some sources are under a local code."""
    read = [source for source in sources if source.standing not in UNREAD]
    if any(local_code in source.local_codes for source in read):
        return "own texts"
    if any(not source.foreign for source in read):
        return "international texts"
    return "texts of other countries" if read else "nothing that was read"


def by_local_code(judging: Iterable[Judging]) -> Mapping[str, Counter[Whose]]:
    """Return for each local code the rules or steps under it, counted by whose texts they rest on."""
    asked = list(judging)
    return {code: Counter(rests_on(one.sources, code) for one in asked if _applies(one, code)) for code in COUNTRIES}


def _applies(one: Judging, local_code: str) -> bool:
    return not one.under or local_code in one.under


def steps_of(procedures: Iterable[Procedure]) -> tuple[Step, ...]:
    """Return the steps of procedures."""
    return tuple(step for procedure in procedures for step in procedure.steps.values())
