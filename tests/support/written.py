"""The figures of the pack that are data, worked out for plain numbers in SI."""

from __future__ import annotations

from functools import cache

from rigcheck.facts.written_figures import way_range
from rigcheck.rules.folders import rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack

__all__ = ["written"]


@cache
def _pack() -> Pack:
    return load_pack(rules_folder())


def written(name: str, way: int = 0, **letters: float) -> tuple[float, float]:
    """Return the least and greatest of a way of a figure; pressures are gauge."""
    figure = _pack().figures[f"figures/{name}"]
    found = way_range(figure.ways[way], figure.measure, {letter: (value, value) for letter, value in letters.items()})
    assert found is not None, name
    return found
