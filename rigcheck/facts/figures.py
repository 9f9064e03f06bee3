"""The figures that are facts, by kind of thing and name."""

from __future__ import annotations

from collections.abc import Mapping

from rigcheck.facts import (
    airing,
    boiling,
    chilling,
    contents,
    demand,
    drawing,
    flames,
    flowing,
    holding,
    plates,
    seeping,
    standing,
    storing,
    supply,
    welding_room,
)
from rigcheck.facts.working import Figure

__all__ = ["FIGURES"]

_ALL: tuple[Figure, ...] = (
    *airing.FIGURES,
    *boiling.FIGURES,
    *chilling.FIGURES,
    *contents.FIGURES,
    *demand.FIGURES,
    *drawing.FIGURES,
    *flames.FIGURES,
    *flowing.FIGURES,
    *holding.FIGURES,
    *plates.FIGURES,
    *seeping.FIGURES,
    *standing.FIGURES,
    *storing.FIGURES,
    *supply.FIGURES,
    *welding_room.FIGURES,
)

FIGURES: Mapping[tuple[str, str], Figure] = {(figure.kind, figure.name): figure for figure in _ALL}
"""Every figure; a topic's module is added to `_ALL`."""
