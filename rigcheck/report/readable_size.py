"""How long the report of one rig may grow: beyond that the gravest of it are told, and how much is left out.

Nobody reads two million letters, and services refuse them; a few lines of a rig must not make more.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal

from msgspec.structs import replace

from rigcheck.judge.inspection import Inspection

__all__ = ["MOST_LETTERS", "told_within"]

MOST_LETTERS = 1_500_000
"""Of one rig in one form; what ships makes a third of that at the most."""

_Part = Literal["held", "questions", "findings"]
_MOST: Mapping[_Part, int] = {"held": 2_000, "questions": 1_500, "findings": 500}
"""So many of each are told where they fit; what ships has 900, 750 and 40."""


def told_within(make: Callable[[Inspection], str], inspection: Inspection) -> str:
    """Return what `make` tells of an inspection, of its gravest part alone where all would be too much to read.

    The state stays as it is: of whatever there is, the gravest is told.
    """
    inspection = _gravest(inspection, _MOST)
    told = make(inspection)
    while len(told) > MOST_LETTERS and any(len(getattr(inspection, part)) > 1 for part in _MOST):
        share = 0.8 * MOST_LETTERS / len(told)
        inspection = _gravest(inspection, {part: int(share * len(getattr(inspection, part))) for part in _MOST})
        told = make(inspection)
    return told


def _gravest(inspection: Inspection, most: Mapping[_Part, int]) -> Inspection:
    """Return an inspection with so many of each part at the most; findings and questions stand gravest first."""
    every = {part: getattr(inspection, part) for part in most}
    kept = {part: every[part][: max(1, count)] for part, count in most.items()}
    cut = {part: len(every[part]) - len(kept[part]) for part in most if len(every[part]) > len(kept[part])}
    if not cut:
        return inspection
    left = inspection.left_out
    return replace(inspection, left_out={**left, **{part: left.get(part, 0) + n for part, n in cut.items()}}, **kept)
