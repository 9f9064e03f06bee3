"""The figures that are facts, by kind of thing and name."""

from __future__ import annotations

from collections.abc import Mapping

from rigcheck.facts import contents, demand, drawing, flames, plates
from rigcheck.facts.working import Figure

__all__ = ["FIGURES"]

_ALL: tuple[Figure, ...] = (
    *contents.FIGURES,
    *demand.FIGURES,
    *drawing.FIGURES,
    *flames.FIGURES,
    *plates.FIGURES,
)

FIGURES: Mapping[tuple[str, str], Figure] = {(figure.kind, figure.name): figure for figure in _ALL}
"""Every figure; a topic's module is added to `_ALL`."""
