"""Documents that rules and limits are drawn from, and how far each clause was read."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal, get_args

from msgspec import Struct, field
from msgspec.structs import replace

from rigcheck.rules.local_codes import COUNTRIES
from rigcheck.text.faults import nearest_word, shown_text

__all__ = [
    "COMMON_PRACTICE",
    "STANDINGS",
    "UNREAD",
    "ClauseEntry",
    "ClauseStanding",
    "Differing",
    "DocumentEntry",
    "Source",
    "Standing",
    "UnknownSource",
    "find_source",
    "sources_under",
]

ClauseStanding = Literal["published", "excerpt", "read through another text", "from memory"]
Standing = ClauseStanding | Literal["common practice"]
COMMON_PRACTICE: Literal["common practice"] = "common practice"
STANDINGS: tuple[Standing, ...] = (*get_args(ClauseStanding), COMMON_PRACTICE)
"""How well a source is known, best first."""
UNREAD: tuple[Standing, ...] = ("from memory", "common practice")
"""Standings of what nobody read."""
_IN_PART = "in part "
_LONGEST_NAME = 200
_ALIKE = 0.55  # clauses are short, and most of them look alike
_UNMARKED = ("published", "common practice")


class ClauseEntry(Struct, frozen=True, array_like=True, omit_defaults=True):
    """A clause: how far it was read, and what it says in our own words."""

    standing: ClauseStanding
    says: str = ""


class DocumentEntry(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One document: its title, whose text it is, and the clauses that are cited.

    `local_codes` are those under which it is in force; `country` is the one that has no local code here.
    A document that has neither is international.
    """

    title: str
    local_codes: tuple[str, ...] = ()
    country: str = ""
    clauses: Mapping[str, ClauseEntry] = field(default_factory=dict)


class Source(Struct, frozen=True, omit_defaults=True):
    """What a rule or a limit was drawn from; `standing` says who read it, `says` what stands there.

    `in_part`: the text supports only a part of what it is cited for.
    `taken_from`: the country that it was taken from, where it is not a text of the local code in force.
    """

    text: str
    title: str
    standing: Standing
    says: str = ""
    in_part: bool = False
    local_codes: tuple[str, ...] = ()
    country: str = ""
    taken_from: str = ""

    @property
    def foreign(self) -> str:
        """The country whose text it is; nothing where it is international."""
        return self.country or (COUNTRIES[self.local_codes[0]] if self.local_codes else "")

    @property
    def words(self) -> str:
        """The citation, with what a reader must know of it."""
        remarks = (
            "in part" if self.in_part else "",
            "" if self.standing in _UNMARKED else self.standing,
            f"taken from {self.taken_from}" if self.taken_from else "",
        )
        told = ", ".join(remark for remark in remarks if remark)
        return f"{self.text} [{told}]" if told else self.text


class Differing(Struct, frozen=True):
    """A text that says otherwise than a rule, a step or a limit, and what it says."""

    says: str
    source: Source


class UnknownSource(ValueError):
    """A citation whose document or clause is not listed."""

    def __init__(self, wrong: str, near: str) -> None:
        super().__init__(wrong)
        self.wrong, self.near = wrong, near


def find_source(citation: str, documents: Mapping[str, DocumentEntry]) -> Source:
    """Return the source that a citation names; `in part` may stand before it. Raises `UnknownSource`."""
    if citation == COMMON_PRACTICE:
        return Source(citation, "What the trade does and teaches.", "common practice")
    cited = citation.removeprefix(_IN_PART)
    name = _longest_name(cited, documents)
    if not name:
        near = nearest_word(citation, [COMMON_PRACTICE, *documents])
        raise UnknownSource(f"{shown_text(citation)} names no document.", near)
    clause, document = cited[len(name) :].strip(), documents[name]
    entry = document.clauses.get(clause)
    if entry is None:
        near = nearest_word(clause, document.clauses, _ALIKE)
        raise UnknownSource(f"{name!r} lists no clause {shown_text(clause)}.", f"{name} {near}".strip())
    return Source(
        cited,
        document.title,
        entry.standing,
        entry.says,
        in_part=cited != citation,
        local_codes=document.local_codes,
        country=document.country,
    )


def sources_under(sources: Iterable[Source], local_code: str) -> tuple[Source, ...]:
    """Return sources as they are told under a local code: its own texts first, those of others marked as taken."""
    told = [one if local_code in one.local_codes else replace(one, taken_from=one.foreign) for one in sources]
    return tuple(sorted(told, key=lambda one: _farness(one, local_code)))


def _farness(source: Source, local_code: str) -> int:
    """Own texts, international ones, those of other countries, and last what nobody read."""
    if local_code in source.local_codes:
        return 0
    if source.standing in UNREAD:
        return 3
    return 2 if source.taken_from else 1


def _longest_name(citation: str, documents: Mapping[str, DocumentEntry]) -> str:
    """Return the longest document name that the citation begins with."""
    for end in range(min(len(citation), _LONGEST_NAME), 0, -1):
        if citation[:end] in documents and not citation[end : end + 1].isalnum():
            return citation[:end]
    return ""
