"""Documents that rules and limits are drawn from, and how far each clause was read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar, Literal

from rigcheck.text.faults import nearest_word, shown_text

__all__ = ["COMMON_PRACTICE", "DocumentEntry", "Source", "Standing", "UnknownSource", "find_source"]

Standing = Literal["published", "read through another text", "from memory", "common practice"]
ClauseStanding = Literal["published", "read through another text", "from memory"]
COMMON_PRACTICE = "common practice"
_LONGEST_NAME = 200
_ALIKE = 0.55  # clauses are short, and most of them look alike


@dataclass(frozen=True, slots=True, kw_only=True)
class DocumentEntry:
    """One document: its title, where it is in force, and the clauses that are cited."""

    __pydantic_config__: ClassVar[Any] = {"extra": "forbid"}

    title: str
    local_code: str = ""
    clauses: dict[str, ClauseStanding]


@dataclass(frozen=True, slots=True)
class Source:
    """What a rule or a limit was drawn from; `standing` says who read it."""

    text: str
    title: str
    standing: Standing


class UnknownSource(ValueError):
    """A citation whose document or clause is not listed."""

    def __init__(self, wrong: str, near: str) -> None:
        super().__init__(wrong)
        self.wrong, self.near = wrong, near


def find_source(citation: str, documents: Mapping[str, DocumentEntry]) -> Source:
    """Return the source that a citation names. Raises `UnknownSource`."""
    if citation == COMMON_PRACTICE:
        return Source(citation, "What the trade does and teaches.", "common practice")
    name = _longest_name(citation, documents)
    if not name:
        near = nearest_word(citation, [COMMON_PRACTICE, *documents])
        raise UnknownSource(f"{shown_text(citation)} names no document.", near)
    clause, document = citation[len(name) :].strip(), documents[name]
    standing = document.clauses.get(clause)
    if standing is None:
        near = nearest_word(clause, document.clauses, _ALIKE)
        raise UnknownSource(f"{name!r} lists no clause {shown_text(clause)}.", f"{name} {near}".strip())
    return Source(citation, document.title, standing)


def _longest_name(citation: str, documents: Mapping[str, DocumentEntry]) -> str:
    """Return the longest document name that the citation begins with."""
    for end in range(min(len(citation), _LONGEST_NAME), 0, -1):
        if citation[:end] in documents and not citation[end : end + 1].isalnum():
            return citation[:end]
    return ""
