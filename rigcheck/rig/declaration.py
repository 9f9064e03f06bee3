"""The shape of a vocabulary file: one kind of thing and what can be said of it."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, model_validator

__all__ = ["FactEntry", "HeldEntry", "KindFile", "Measure", "RelatedEntry"]

Measure = Literal[
    "angle",
    "pressure",
    "length",
    "area",
    "volume",
    "mass",
    "temperature",
    "flow",
    "share",
    "share_per_hour",
    "time",
    "age",
    "day",
    "count",
    "force",
    "speed",
    "yes_no",
    "text",
]


class _Entry(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class FactEntry(_Entry):
    """One fact: a measure or a choice of words; stated (with a question) or computed."""

    measure: Measure | None = None
    words: dict[str, str] | None = None
    several_words: dict[str, str] | None = None
    also_written: dict[str, str] = {}
    may_be_none: bool = False
    means: str
    ask: str = ""
    from_day: str = ""
    computed: bool = False

    @model_validator(mode="after")
    def _one_form(self) -> FactEntry:
        if sum(form is not None for form in (self.measure, self.words, self.several_words)) != 1:
            raise ValueError("write exactly one of measure, words and several_words")
        if bool(self.ask) == (self.computed or bool(self.from_day)):
            raise ValueError("a stated fact has a question in 'ask'; a computed fact has none")
        strays = set(self.also_written.values()) - set(self.words or self.several_words or {})
        if strays:
            raise ValueError(f"also_written leads to {', '.join(sorted(strays))}, which is no word")
        return self


class HeldEntry(_Entry):
    """Things that are written inside another; an implied one exists though nobody wrote it."""

    kind: str
    many: bool = False
    implied: bool = False
    means: str


class RelatedEntry(_Entry):
    """A thing that a rule can reach from another by a dotted fact."""

    kind: str
    many: bool = False
    means: str


class KindFile(_Entry):
    """One vocabulary file."""

    kind: str
    is_a: str = ""
    means: str
    facts: dict[str, FactEntry] = {}
    holds_things: dict[str, HeldEntry] = {}
    related: dict[str, RelatedEntry] = {}
