"""The shapes of the YAML files of a pack: rules, limits, documents, tables.

Only what reads those files imports this: an installed rigcheck starts from prepared data.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Literal, get_args

from pydantic import BaseModel, ConfigDict, Field, RootModel, model_validator

from rigcheck.rules.documents import ClauseEntry, ClauseStanding, DocumentEntry
from rigcheck.rules.local_codes import LocalCode, OwnCode
from rigcheck.rules.rule import Signal

__all__ = [
    "BECAUSE",
    "ConsequenceFile",
    "DifferingEntry",
    "DocumentsFile",
    "FigureFile",
    "LimitEntry",
    "LimitsFile",
    "RuleFile",
    "SharperEntry",
    "TableEntry",
    "TablesFile",
    "ValueEntry",
]

_Row = dict[str, Any]
BECAUSE = "In a folder that is laid on top: why it stands in the place of what was there."


class _Entry(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)


class DifferingEntry(_Entry):
    """A text that says otherwise, and what it says."""

    says: str = Field(min_length=10, description="What it says, in our own words.")
    drawn_from: str = Field(description="The document with its clause.")


class SharperEntry(_Entry):
    """What a rule about many kinds says more sharply of one of them."""

    signal: Signal | None = Field(None, description="How grave a breach is at this kind.")
    claim: str = Field("", description="What is right at this kind.")
    harm: str = Field("", description="What happens at this kind.")
    put_right: str = Field("", description="What to do at this kind.")


class RuleFile(_Entry):
    """The shape of a rule file; keys in reading order."""

    claim: str = Field(min_length=10, description="What is right, in one sentence.")
    signal: Signal = Field(description="How grave a breach is, as ANSI Z535.4 has it (from memory).")
    looks_at: str = Field(description="The kind of thing that the rule is about.")
    under: list[LocalCode] = Field([], description="Only under these local codes.")
    concerns: Any = Field(None, description="Which of these things the rule is about.")
    holds: Any = Field(description="The condition: facts and JSON Schema keywords.")
    harm: str = Field(min_length=10, description="What happens if it is not so.")
    put_right: str = Field(min_length=10, description="What to do.")
    for_: dict[str, SharperEntry] = Field(
        {}, alias="for", description="Of some kinds that have the trait: their own signal, claim, harm, cure."
    )
    drawn_from: list[str] = Field(min_length=1, description="Documents with clause.")
    differs: list[DifferingEntry] = Field([], description="Texts that say otherwise than this rule.")
    may_be_conceded: bool | None = Field(
        None, description="Whether a breach may be conceded; unless it is said, a danger may not."
    )
    proven_by: Any = Field(description="Cases: facts and the verdict that they must give.")
    because: str = Field("", description=BECAUSE)


class ConsequenceFile(_Entry):
    """The shape of a file in `follows/`; keys in reading order."""

    says: str = Field(min_length=10, description="What follows, in one sentence.")
    looks_at: str = Field(description="The kind of thing whose facts follow.")
    when: Any = Field(description="The condition: facts and JSON Schema keywords.")
    then: Any = Field(description="The facts that follow: values, or {fact|at_least|at_most: path}.")
    gives_way: bool = Field(False, description="It counts only while nobody states the fact.")
    drawn_from: list[str] = Field(min_length=1, description="Documents with clause.")
    proven_by: Any = Field(description="Cases: facts, and whether it follows: yes, no or not known.")
    because: str = Field("", description=BECAUSE)


class FigureCase(BaseModel):
    """What a way must give: a value for each letter, and where the right answer is from."""

    model_config = ConfigDict(frozen=True, extra="allow")

    case: str = Field(min_length=3, description="What is worked out.")
    answer_from: str = Field(min_length=6, description="Who else says so: a document and its clause, another program.")
    within: str = Field("0.5 %", description="How far the answer may be off, since it was rounded.")


class WayEntry(_Entry):
    """One way to work a figure out."""

    formula: str = Field("", description="As it is printed: 'v = Q/(2*pi*x^2)'.")
    letters: dict[str, str] = Field({}, description="Each letter: the path of a fact, 'limit:NAME', or a constant.")
    valid: dict[str, list[str]] = Field({}, description="Letters, and the two ends between which the formula holds.")
    only: dict[str, Any] = Field({}, description="Facts, and the words for which this way is gone.")
    stated: str = Field("", description="A stated fact that is taken as it is, in place of a formula.")
    alone: bool = Field(False, description="What else the figure comes from is no knowledge of this very thing.")
    asks: bool | None = Field(None, description="Whether what it lacks is asked for; unless it is said, of a formula.")
    source: str = Field("", description="Who says so, as it can be looked up.")
    validity: str = Field("", description="What it takes for granted.")
    proven_by: list[FigureCase] = Field([], description="Cases: a value for each letter and for the result.")


class FigureFile(_Entry):
    """The shape of a file in `figures/`; keys in reading order."""

    figure: str = Field(description="Its name, a fact of the kind.")
    of: str = Field(description="The kind of thing that has it.")
    measure: str = Field("", description="What is measured, where the vocabulary does not have the fact yet.")
    means: str = Field("", description="What it is, where the vocabulary does not have the fact yet.")
    tolerance: str = Field("", description="By what share it may differ from what is stated.")
    because: str = Field("", description="Why by as much as that.")
    ways: list[WayEntry] = Field(min_length=1, description="Ways, the first that can be gone counts.")


class ValueEntry(_Entry):
    """A value from a day on; `none` withdraws the limit from that day."""

    since: str
    value: str
    drawn_from: str | list[str]
    since_from_memory: bool = False
    because: str = ""


class LimitEntry(_Entry):
    """One limit; what it means and which way is cautious stands in `general` only."""

    means: str = ""
    cautious: Literal["", "low", "high"] = ""
    differs: list[DifferingEntry] = []
    values: list[ValueEntry] = Field(min_length=1)


class LimitsFile(_Entry):
    """One file of limits."""

    local_code: LocalCode
    limits: dict[str, LimitEntry]


def _or_alone(choices: Any) -> Callable[[dict[str, Any]], None]:
    """Return what lets one of some words stand in a schema where more could be written."""

    def widen(schema: dict[str, Any]) -> None:
        whole = dict(schema)
        schema.clear()
        schema |= {"anyOf": [{"enum": list(get_args(choices))}, whole]}

    return widen


class ClauseModel(_Entry):
    """A clause; one word in its place is its standing."""

    model_config = ConfigDict(json_schema_extra=_or_alone(ClauseStanding))

    standing: ClauseStanding
    says: str = Field("", description="What it says, in our own words.")

    @model_validator(mode="before")
    @classmethod
    def _short(cls, data: Any) -> Any:
        return {"standing": data} if isinstance(data, str) else data


class DocumentModel(_Entry):
    """One document; `address` is where it was read."""

    title: str = Field(min_length=1)
    local_code: list[OwnCode] = Field(
        [],
        description="Under which local codes it is in force; none: international.",
        json_schema_extra=_or_alone(OwnCode),
    )
    country: str = Field("", description="Whose text it is, where no local code here is that country's.")
    edition: str = Field("", description="Which edition was read.")
    address: str = Field("", description="Where it was read.")
    clauses: dict[str, ClauseModel]
    because: str = Field("", description=BECAUSE)

    @model_validator(mode="before")
    @classmethod
    def _one_code(cls, data: Any) -> Any:
        if isinstance(data, dict) and isinstance(data.get("local_code"), str):
            return data | {"local_code": [data["local_code"]]}
        return data

    def entry(self) -> DocumentEntry:
        """Return the document as it is cited."""
        clauses = {name: ClauseEntry(one.standing, one.says) for name, one in self.clauses.items()}
        return DocumentEntry(
            title=self.title, local_codes=tuple(self.local_code), country=self.country, clauses=clauses
        )


class DocumentsFile(RootModel[dict[str, DocumentModel]]):
    """The file `rules/documents.yaml`: documents by the name that they are cited by."""

    model_config = ConfigDict(frozen=True)


class TableEntry(_Entry):
    """One table of one source; a column with a unit holds numbers, or pairs of least and greatest."""

    name: str = Field(min_length=1)
    drawn_from: str = Field(min_length=1)
    standing: Literal["published", "from memory"]
    process: str = ""
    gases: list[str] = []
    between_rows: bool = False
    units: dict[str, str]
    every_row: _Row = {}
    rows: list[_Row] = Field(min_length=1)

    @model_validator(mode="before")
    @classmethod
    def _numbers(cls, data: Any) -> Any:
        """Read the cells of columns that have a unit as numbers."""
        if not isinstance(data, dict) or not isinstance(data.get("units"), dict):
            return data
        rows = data.get("rows")
        return data | {
            "rows": [_numbered(row, data["units"]) for row in rows] if isinstance(rows, list) else rows,
            "every_row": _numbered(data.get("every_row", {}), data["units"]),
        }


class TablesFile(_Entry):
    """One file of tables."""

    tables: list[TableEntry] = Field(min_length=1)
    because: str = Field("", description=BECAUSE)


def _numbered(row: Any, units: Mapping[str, str]) -> Any:
    if not isinstance(row, dict):
        return row
    return {column: _number(column, cell) if column in units else cell for column, cell in row.items()}


def _number(column: str, cell: Any) -> Any:
    if isinstance(cell, list):
        return [_number(column, one) for one in cell]
    try:
        return float(cell)
    except (TypeError, ValueError):
        raise ValueError(f"{column} {cell!r} is no number") from None
