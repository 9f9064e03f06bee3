"""A rig whose measurements are ranges: every figure of it holds what any rig inside those ranges comes to."""

from __future__ import annotations

from math import isfinite
from random import Random

import pytest
from support.ranged_rigs import TEXTS, Drawn, drawn, inside, ranged, worked_text
from support.sampling import sampled

from rigcheck.facts.registry import figures_of
from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack

_WORDS = ("words", "several_words", "yes_no", "text")
_SEEDS = {"trolley": [*range(16), 45], "bank": [*range(12)], "piped": [0, 1], "coupled": [*range(4)], "site": [0, 1]}
"""45: a hose that is laminar when it is warm."""


def values(rig: Rig, pack: Pack) -> dict[tuple[int, str], Interval]:
    """Return every figure that is a number and in no dispute, by the place of its thing and its name."""
    known, found = figures_of(pack.figures.values()), {}
    for place, thing in enumerate(rig.things):
        for name in thing.workings.keys() - thing.disputes.keys():
            value = thing.facts.get(name)
            if isinstance(value, Interval) and any((kind, name) in known for kind in thing.kind.lineage):
                found[place, name] = value
    return found


def unknown_somewhere(key: tuple[int, str], at: Drawn, random: Random, pack: Pack) -> bool:
    """Whether some rig in the ranges lies where no number can be said: then none can be of the ranges."""
    return any(key not in values(worked_text(at, inside(at, random), pack), pack) for _ in range(400))


@pytest.mark.parametrize(("text", "seed"), sampled([(text, seed) for text in TEXTS for seed in _SEEDS[text]], 4))
def test_what_a_rig_inside_the_ranges_comes_to_lies_inside_the_figures(text: str, seed: int, pack: Pack) -> None:
    at, random = drawn(text, seed), Random(seed)
    wide = values(worked_text(at, ranged(at), pack), pack)
    for _ in range(4):
        for key, narrow in values(worked_text(at, inside(at, random), pack), pack).items():
            if key not in wide:
                assert unknown_somewhere(key, at, random, pack), key
                continue
            ends = wide[key].lo, wide[key].hi
            slack = 1e-6 * max((abs(end) for end in ends if isfinite(end)), default=0.0) + 1e-12
            assert ends[0] - slack <= narrow.lo <= narrow.hi <= ends[1] + slack, key


def test_the_ranges_reach_every_figure_that_is_a_number(pack: Pack) -> None:
    reached: set[tuple[str, str]] = set()
    known = figures_of(pack.figures.values())
    for at in (drawn(text, seed) for text in TEXTS for seed in _SEEDS[text]):
        rig = worked_text(at, ranged(at), pack)
        for place, name in values(rig, pack):
            kinds = rig.things[place].kind.lineage
            reached.add((next(kind for kind in kinds if (kind, name) in known), name))
    kinds = list(pack.vocabulary.kinds.values())
    facts = {key: next(one.facts[key[1]] for one in kinds if key[0] in one.lineage) for key in known}
    numbers = {key for key, fact in facts.items() if fact.measure not in _WORDS}
    assert sorted(numbers - reached) == []
