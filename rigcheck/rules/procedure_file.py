"""The shape of a procedure file: steps in a partial order, each about a kind of thing."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field, model_validator

from rigcheck.rig.vocabulary_file import FactEntry, Measure
from rigcheck.rules.file_models import BECAUSE, DifferingEntry
from rigcheck.rules.local_codes import LocalCode
from rigcheck.rules.rule import Signal

__all__ = ["ENTRY_KEYS", "ProcedureFile", "StepEntry", "ValueEntry"]

ENTRY_KEYS = ("thing", "at", "note")
"""Keys of a step in a record that are no values."""

_NAME = r"^[a-z][a-z0-9_]*$"


class _Entry(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class AlsoEntry(_Entry):
    """What a value must meet besides; the sheet does not print it."""

    must: Any = Field(description="What the value must meet, in JSON Schema keywords.")
    signal: Signal | None = Field(None, description="How grave a miss is; left out, as grave as the value.")
    same_deed_as: list[str] = []


class ValueEntry(_Entry):
    """A value that a record may state of a step, and what it must meet; otherwise as a fact of the vocabulary."""

    measure: Measure | None = None
    words: dict[str, str] | str | None = None
    several_words: dict[str, str] | str | None = None
    also_written: dict[str, str] = {}
    may_be_none: bool = False
    least: str = ""
    greatest: str = ""
    likely: list[str] = []
    whole: bool = False
    by_size: bool = False
    means: str
    ask: str = Field(min_length=5)
    must: Any = Field(None, description="What the value must meet, in JSON Schema keywords.")
    signal: Signal | None = Field(None, description="How grave a miss is; left out, as grave as the step.")
    same_deed_as: list[str] = Field([], description="Rules that judge the same deed, and have the same signal word.")
    also: list[AlsoEntry] = Field([], description="What it must meet besides.")
    example: str = Field("", description="An example of what is written; of a pressure one that every gas may have.")
    goes_by: bool = Field(False, description="Whether it is a time that goes by on the clock while the step is done.")
    answers: dict[str, dict[str, str]] = Field(
        {}, description="Facts of the thing that it states of the rig; for each, what a word of the value says of it."
    )

    @model_validator(mode="after")
    def _one_form(self) -> ValueEntry:
        self.fact_entry()  # it refuses what contradicts itself
        return self

    def fact_entry(self) -> FactEntry:
        """Return the value as a stated fact. Raises ValueError where it contradicts itself."""
        return FactEntry(**self.model_dump(exclude={"must", "signal", "same_deed_as", "also", "answers", "goes_by"}))


class StepEntry(_Entry):
    """One step; keys in reading order."""

    step: str = Field(pattern=_NAME, description="The name of the step, in snake_case.")
    do: str = Field(min_length=10, description="What to do; {thing} and {value} stand for the thing and its limit.")
    about: str = Field("", description="A kind of thing: one step for each; left out, once for the rig.")
    for_: Any = Field(None, alias="for", description="Which of these things, in the words of the rules.")
    not_here: str = Field("", description="A sentence for the sheet of a rig that has nothing of which 'for' is so.")
    under: list[LocalCode] = Field([], description="Only under these local codes.")
    after: list[str] = Field([], description="Steps that are all done before every one of this.")
    after_on_line: list[str] = Field([], description="Steps that are done before this one on the same line.")
    between_tries: list[str] = Field([], description="Steps that are done before this one is tried again.")
    stand: str = Field("", description="Where to stand.")
    values: dict[str, ValueEntry] = Field({}, description="What a record may state.")
    tells: dict[str, str] = Field(
        {}, description="Facts of the thing that are so once it was done; 'day of the record' stands for that day."
    )
    signal: Signal = Field(description="How grave it is to leave it out or to do it out of order.")
    same_deed_as: list[str] = Field([], description="Rules that judge the same deed, and have the same signal word.")
    hazard: str = Field(min_length=10, description="What it prevents.")
    put_right: str = Field(min_length=10, description="What to do if it was not done so.")
    drawn_from: list[str] = Field(min_length=1, description="Documents with clause.")
    differs: list[DifferingEntry] = Field([], description="Texts that say otherwise than this step.")
    optional: bool = Field(False, description="Whether it may be left out.")


class ProcedureFile(_Entry):
    """One procedure file, called as the procedure is."""

    procedure: str = Field(description="The name of the file.")
    title: str = Field(min_length=3)
    means: str = Field(min_length=10, description="From which state of the rig it leads to which.")
    turn: int = Field(999, ge=1, le=999, description="Where it comes in the day: the smaller, the earlier.")
    comes_after: list[str] = Field([], description="Procedures that are done first.")
    shown_before: list[str] = Field(
        [], description="Rules of the rig that must be shown to hold when it begins: what was to be done before."
    )
    despite_hold: bool = Field(
        False, description="Whether it may be done while the rig is on hold, as a shut-down may."
    )
    emergency: bool = Field(False, description="Whether it is read in an emergency: its sheet begins with the steps.")
    applies: Any = Field(None, description="To which rigs, in the words of the rules; left out, to all.")
    cautions: list[str] = Field([], description="Sentences at the top of the sheet.")
    steps: list[StepEntry] = Field(min_length=1)
    because: str = Field("", description=BECAUSE)
