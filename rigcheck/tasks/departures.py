"""What is told of two rigs beside each other, as values: differences, the rules that they touch, what turned."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from rigcheck.judge.judged import Verdict
from rigcheck.rig.thing import Rig
from rigcheck.rules.overlay import Laid
from rigcheck.rules.rule import Rule
from rigcheck.tasks.what_turned import Moved, Stand
from rigcheck.text.place import Place

__all__ = ["Comparison", "Departure", "How", "Outcome", "Side", "Touched", "Turn"]

Outcome = Verdict | Literal["does not apply"]
"""A verdict, or that there is none: the thing is not there, or the rule is of another local code."""

How = Literal["changed", "stated", "no longer stated", "added", "missing", "moved"]


class Side(Struct, frozen=True):
    """What one of the two descriptions says, as written, and where; of a part, what it follows."""

    thing: str
    value: str
    place: Place


class Turn(Struct, frozen=True):
    """A verdict of a rule on one thing that came out differently."""

    rule: Rule
    thing: str
    before: Outcome
    after: Outcome


class Touched(Struct, frozen=True):
    """A rule that speaks of what differs, with the verdicts of it that turned."""

    rule: Rule
    turns: tuple[Turn, ...] = ()


class Departure(Struct, frozen=True):
    """One difference. `fact` is empty where a whole part is added, missing or moved; `line` where it belongs to none.

    `inside` counts the parts of a line that is added or missing; `allowed`: the first rig says that it may differ so.
    """

    how: How
    thing: str
    line: str
    fact: str
    before: Side | None
    after: Side | None
    touched: tuple[Touched, ...] = ()
    inside: int = 0
    allowed: bool = False


class Comparison(Struct, frozen=True):
    """Every difference of two rigs, in the order of the flow.

    `filled_in` are facts that the first left open for the site and the second states: no departures.
    `still_open` counts those that neither states; `other_turns` are verdicts that no departure accounts for.
    What matters first: how each rig `stands`, all `turns`, what is broken now first, and the figures that `moved`.
    """

    before: Rig
    after: Rig
    day: int
    codes: tuple[str, str]
    departures: tuple[Departure, ...]
    filled_in: tuple[Departure, ...]
    still_open: int
    other_turns: tuple[Turn, ...]
    pack: str
    stands: tuple[Stand, Stand]
    turns: tuple[Turn, ...]
    moved: tuple[Moved, ...]
    laid: tuple[Laid, ...] = ()

    @property
    def same(self) -> bool:
        """Whether nothing differs but what may, and nothing else is found where nothing that is stated differs."""
        return all(departure.allowed for departure in self.departures) and not self.found_otherwise

    @property
    def found_otherwise(self) -> bool:
        """Whether all is stated alike and yet other things are found, as where looks at one of them do not agree."""
        before, after = self.stands
        return not self.departures and not self.filled_in and before.findings != after.findings
