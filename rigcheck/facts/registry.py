"""The figures that are facts, by kind of thing and name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rigcheck.facts.figure import Figure
from rigcheck.facts.topics import (
    acetylene_cooling,
    air_readings,
    bank,
    cylinder_contents,
    demand,
    flame,
    hood,
    leak_tightness,
    line_pressure,
    liquefied_supply,
    nozzle_choice,
    nozzle_consumption,
    piping,
    pressure_hold_test,
    room_air,
    site_sums,
    standing_pressure,
    store,
    supply,
    trolley_load,
    trolley_stability,
    unusual_numbers,
    withdrawal_rate,
)
from rigcheck.facts.written_figures import figure_of
from rigcheck.rules.written_figure import WrittenFigure

__all__ = ["FIGURES", "figures_of"]

_ALL: tuple[Figure, ...] = (
    *room_air.FIGURES,
    *liquefied_supply.FIGURES,
    *acetylene_cooling.FIGURES,
    *air_readings.FIGURES,
    *bank.FIGURES,
    *cylinder_contents.FIGURES,
    *demand.FIGURES,
    *flame.FIGURES,
    *hood.FIGURES,
    *withdrawal_rate.FIGURES,
    *nozzle_consumption.FIGURES,
    *line_pressure.FIGURES,
    *piping.FIGURES,
    *pressure_hold_test.FIGURES,
    *nozzle_choice.FIGURES,
    *leak_tightness.FIGURES,
    *trolley_load.FIGURES,
    *trolley_stability.FIGURES,
    *standing_pressure.FIGURES,
    *store.FIGURES,
    *site_sums.FIGURES,
    *supply.FIGURES,
    *unusual_numbers.FIGURES,
)

FIGURES: Mapping[tuple[str, str], Figure] = {(figure.kind, figure.name): figure for figure in _ALL}
"""Every figure whose arithmetic is a function; a topic's module is added to `_ALL`."""


def figures_of(written: Iterable[WrittenFigure]) -> Mapping[tuple[str, str], Figure]:
    """Return every figure, by kind and name: those of this module, and over them those that are written as data."""
    return {**FIGURES, **{(one.kind, one.name): figure_of(one) for one in written}}
