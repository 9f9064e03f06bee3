"""Sources in words: the citation, how far its text was read, and the country that it was taken from."""

from __future__ import annotations

from collections.abc import Sequence

from rigcheck.rules.documents import Source

__all__ = ["MOST", "cited"]

MOST = 4
"""The most sources that a finding names; `rules show` and the reports for programs have all."""


def cited(sources: Sequence[Source], most: int = MOST) -> str:
    """Return sources as a list; those past the most are counted."""
    told = "; ".join(source.words for source in sources[:most])
    left = len(sources) - most
    return f"{told}; and {left} more" if left > 0 else told
