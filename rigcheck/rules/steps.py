"""A procedure as it was read and checked."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field

from rigcheck.condition.tree import Schema
from rigcheck.rig.fact import Fact, Value
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.documents import Differing, Source
from rigcheck.rules.rule import Signal
from rigcheck.text.place import Place

__all__ = ["AS_RECORDED", "Grade", "Procedure", "Step", "StepValue"]


AS_RECORDED = None
"""The value of a day that is that of the record."""


class Grade(Struct, frozen=True, eq=False):
    """What a value must meet, and how grave it is to miss that."""

    must: Schema
    signal: Signal


class StepValue(Struct, frozen=True, eq=False):
    """A value that a record may state; `grades` are conditions over it, the gravest first, that of the step last.

    `answers`: facts of the step's thing that the value states; by word of the value, or under "" whatever it is.
    `goes_by`: it is a time that goes by on the clock while the step is done.
    """

    name: str
    fact: Fact
    grades: tuple[Grade, ...]
    answers: Mapping[str, Mapping[str, Value]] = field(default_factory=dict)
    goes_by: bool = False


class Step(Struct, frozen=True, eq=False, omit_defaults=True):
    """One step of a procedure; `about` is None where it is done once for the rig.

    `between_tries` are done before it is tried again.
    `differs` are texts that say otherwise; `tells` are facts of its thing once it was done, `AS_RECORDED` for a day
    that is the record's own.
    """

    name: str
    do: str
    about: Kind | None
    concerns: Schema | None
    not_here: str
    under: tuple[str, ...]
    after: tuple[str, ...]
    after_on_line: tuple[str, ...]
    stand: str
    values: Mapping[str, StepValue]
    signal: Signal
    hazard: str
    put_right: str
    sources: tuple[Source, ...]
    optional: bool
    place: Place
    differs: tuple[Differing, ...] = ()
    tells: Mapping[str, Value | None] = field(default_factory=dict)
    between_tries: tuple[str, ...] = ()

    @property
    def label(self) -> str:
        """The name in words."""
        return self.name.replace("_", " ")


class Procedure(Struct, frozen=True, eq=False):
    """One procedure; `steps` by name, in the order of the file.

    `shown_before`: rules of the rig that must be shown to hold when it begins; `turn`: where it comes in the day, the
    smaller the earlier.
    """

    name: str
    title: str
    means: str
    comes_after: tuple[str, ...]
    shown_before: tuple[str, ...]
    despite_hold: bool
    emergency: bool
    applies: Schema | None
    cautions: tuple[str, ...]
    steps: Mapping[str, Step]
    place: Place
    turn: int = 0
