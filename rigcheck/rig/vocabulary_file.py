"""The shape of a vocabulary file: one kind of thing and what can be said of it.

Plain dataclasses: they are made of prepared data at every start, and a library that checks them
takes longer to load than all the rest. `rigcheck.text.binding` checks those that are read from YAML.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, ClassVar, Literal

__all__ = [
    "FactEntry",
    "HeldEntry",
    "KindFile",
    "Measure",
    "RelatedEntry",
    "TraitFile",
    "VocabularyFile",
    "WordList",
    "WordsFile",
    "Written",
]

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
    "power",
    "yes_no",
    "text",
]


class Written:
    """What is read from YAML: a key that is not declared is refused."""

    __slots__ = ()
    __pydantic_config__: ClassVar[Any] = {"extra": "forbid"}


@dataclass(frozen=True, slots=True, kw_only=True)
class FactEntry(Written):
    """One fact: a measure or a choice of words; stated (with a question) or computed.

    Words that several facts share stand in a list of their own: then its name is written instead of them.
    `least` and `greatest` are the ends of what a number can mean, `likely` those between which it mostly lies.
    `example`: a value as somebody who reads it off would write it; it is shown where it is asked for.
    `also_called`: other names under which the fact itself is written; one that several facts of a kind share is read
    as the first of them that takes the value.
    `lasts`: how long a sight of it counts: for the job, for the day, or, as the day of a test, until it is done again;
    unless it is said, until the thing is changed. A defect stands when its sight is too old to count, but a `deed`,
    which is done anew each day, is over with its day.
    `as_fitted`: it says how the thing is fitted where it stands: of a thing by itself nobody asks it.
    `goes_along`: a sight of it counts for a day, but a defect goes with the thing to another rig: a valve that leaks.
    `counted_from`: the day that a computed time is counted from or to, so that it runs on by itself.
    `whole`: it counts things; `by_size`: its sign says the direction only, as that of an angle of lean.
    """

    measure: Measure | None = None
    words: dict[str, str] | str | None = None
    several_words: dict[str, str] | str | None = None
    also_written: dict[str, str] = field(default_factory=dict)
    also_called: list[str] = field(default_factory=list)
    may_be_none: bool = False
    least: str = ""
    greatest: str = ""
    likely: list[str] = field(default_factory=list)
    example: str = ""
    whole: bool = False
    by_size: bool = False
    means: str
    ask: str = ""
    from_day: str = ""
    counted_from: str = ""
    computed: bool = False
    lasts: Literal["", "again", "job", "day", "deed"] = ""
    as_fitted: bool = False
    goes_along: bool = False

    def __post_init__(self) -> None:
        """Raise ValueError where the entry contradicts itself."""
        if sum(form is not None for form in (self.measure, self.words, self.several_words)) != 1:
            raise ValueError("write exactly one of measure, words and several_words")
        if bool(self.ask) == (self.computed or bool(self.from_day)):
            raise ValueError("a stated fact has a question in 'ask'; a computed fact has none")
        if self.likely and len(self.likely) != 2:
            raise ValueError("likely has two ends, as [1 m, 50 m]")
        if self.measure in (None, "yes_no", "text") and (self.least or self.greatest or self.likely or self.whole):
            raise ValueError("least, greatest, likely and whole are for numbers and days")
        if self.example and (self.measure in (None, "yes_no") or self.computed or self.from_day):
            raise ValueError("an example is for what is measured or read off and written")
        words = self.words or self.several_words or {}
        if isinstance(words, str):
            if self.also_written:
                raise ValueError("other spellings of shared words stand with those words")
        else:
            _refuse_strays(self.also_written, words or _YES_OR_NO)


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldEntry(Written):
    """Things that are written inside another; an implied one exists though nobody wrote it.

    `each_line`: one of them for each line that feeds the thing, as a torch has a valve for each gas;
    `not_with`: words of the thing that holds it with which there is none, as an oxygen lance has no nozzle.
    """

    kind: str
    many: bool = False
    implied: bool = False
    each_line: bool = False
    not_with: dict[str, list[str]] = field(default_factory=dict)
    means: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RelatedEntry(Written):
    """A thing that a rule can reach from another by a dotted fact."""

    kind: str
    many: bool = False
    means: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KindFile(Written):
    """One kind of thing.

    `traits`: what it has in common with other kinds; `without`: those of its base that it has not.
    `sets_pressure`: the fact that says to what it sets the pressure behind it; `branches`: whether branches that
    are written inside it gather in it, or share what it gives; `drawn_as`: its shape in a drawing, and `shown` what
    is written beside that, a line each, with facts in braces (`!` behind one: that it is not stated is said).
    `listed`: a commissioning file lists it among the parts, with tag and due day, though it is no part of a line.
    `means` may be left out where a file below says it.
    `because`: why a file that is laid on top changes what was there; traits and lists of words may say it too.
    """

    kind: str
    is_a: str = ""
    traits: list[str] = field(default_factory=list)
    without: list[str] = field(default_factory=list)
    means: str = ""
    sets_pressure: str = ""
    branches: Literal["", "gather", "share"] = ""
    drawn_as: str = ""
    shown: list[str] = field(default_factory=list)
    listed: bool = False
    facts: dict[str, FactEntry] = field(default_factory=dict)
    holds_things: dict[str, HeldEntry] = field(default_factory=dict)
    related: dict[str, RelatedEntry] = field(default_factory=dict)
    because: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TraitFile(Written):
    """One trait: facts that come to every kind that has it; rules and figures look at it as at a kind.

    `is_a`: what the kinds that have it are in any case.
    """

    trait: str
    is_a: str = ""
    means: str = ""
    facts: dict[str, FactEntry] = field(default_factory=dict)
    related: dict[str, RelatedEntry] = field(default_factory=dict)
    because: str = ""

    @property
    def as_kind(self) -> KindFile:
        """The trait as what rules look at."""
        return KindFile(kind=self.trait, is_a=self.is_a, means=self.means, facts=self.facts, related=self.related)


@dataclass(frozen=True, slots=True, kw_only=True)
class WordList(Written):
    """Words that several facts share, after those of another list if there is one."""

    and_those_of: str = ""
    words: dict[str, str]
    also_written: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Raise ValueError where another spelling leads to no word."""
        _refuse_strays(self.also_written, self.words)


@dataclass(frozen=True, slots=True, kw_only=True)
class WordsFile(Written):
    """The file of the words that several facts share, each list by its name."""

    words: dict[str, WordList]
    because: str = ""


_YES_OR_NO = {"yes": "", "no": ""}


VocabularyFile = KindFile | TraitFile | WordsFile
"""What one file of a vocabulary holds."""


def _refuse_strays(also_written: dict[str, str], words: dict[str, str]) -> None:
    strays = set(also_written.values()) - set(words)
    if strays:
        raise ValueError(f"also_written leads to {', '.join(sorted(strays))}, which is no word")
