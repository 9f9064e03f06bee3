"""What matters first of two rigs beside each other: how each stands, which verdicts turned, which figures moved."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct

from rigcheck.condition.wording import value_words
from rigcheck.judge.causes import alike_questions
from rigcheck.judge.inspection import State, explain
from rigcheck.judge.judged import Judged
from rigcheck.quantity.interval import Interval
from rigcheck.rig.matching import Pair
from rigcheck.rules.rule import SIGNALS, Signal
from rigcheck.tasks.deciding_figures import decisions_of

__all__ = ["Moved", "Stand", "moved_figures", "stand_of"]

_LEAST_MOVE = 0.01  # of the greater of two middles; less is the width of a pencil
_HOLD_AT: Signal = "warning"


class Stand(Struct, frozen=True):
    """How one of the rigs stands: its state, findings by signal word, and how many questions are open."""

    state: State
    findings: Mapping[Signal, int]
    questions: int


class Moved(Struct, frozen=True):
    """A figure that a rule reads and that came out otherwise; `signal`: that of the gravest rule that reads it."""

    thing: str
    figure: str
    before: str
    after: str
    signal: Signal


def stand_of(judged: Judged) -> Stand:
    """Return how a judged rig stands, held at WARNING as a plain inspection is."""
    inspection = explain(judged)
    found = Counter(one.signal for one in inspection.findings)
    asked = len(alike_questions(inspection.questions))
    return Stand(inspection.state(_HOLD_AT), {word: found[word] for word in SIGNALS if found[word]}, asked)


def moved_figures(before: Judged, after: Judged, pairs: Iterable[Pair]) -> tuple[Moved, ...]:
    """Return the figures that rules read and that moved by more than a hundredth, those of the gravest rules first."""
    read = {**_gravest(before), **_gravest(after)}
    found = [one for pair in pairs for one in _moved(pair, read)]
    return tuple(moved for _, moved in sorted(found, key=lambda one: (SIGNALS.index(one[1].signal), -one[0])))


def _gravest(judged: Judged) -> Mapping[tuple[int, str], Signal]:
    """Return by thing and fact the word of the gravest rule that reads it."""
    return {
        (id(thing), fact): min((one.rule.signal for one in decisions), key=SIGNALS.index)
        for (thing, fact), decisions in decisions_of(judged).items()
    }


def _moved(pair: Pair, read: Mapping[tuple[int, str], Signal]) -> Iterator[tuple[float, Moved]]:
    one, other = pair.before, pair.after
    if one is None or other is None:
        return
    for fact in one.workings.keys() & other.workings.keys():
        signal = read.get((id(other), fact)) or read.get((id(one), fact))
        values = one.facts.get(fact), other.facts.get(fact)
        if signal is not None and (far := _far(values)) > _LEAST_MOVE:
            name = fact.replace("_", " ")
            yield far, Moved(other.label, name, value_words(values[0]), value_words(values[1]), signal)


def _far(values: Sequence[object]) -> float:
    """Return by how much two figures differ, as a share of the greater middle; none if either is no quantity."""
    middles = [(one.lo + one.hi) / 2 for one in values if isinstance(one, Interval)]
    if len(middles) < len(values):
        return 0.0
    return abs(middles[1] - middles[0]) / (max(map(abs, middles)) or 1.0)
