"""What a store holds, counted from its cylinders where nobody added it up."""

from __future__ import annotations

from rigcheck.facts.figure import Figure, Way
from rigcheck.facts.topics.spans import as_stated, multiplied

__all__ = ["FIGURES"]


def _held(name: str, stated: str, count: str, each: str, formula: str, validity: str) -> Figure:
    counted = Way(formula, "arithmetic", multiplied, {"one": count, "other": each}, validity=validity, asks=False)
    return Figure(
        "store", name, (as_stated(stated, asks=True), counted), 0.05, "fillings differ a little, and are rounded"
    )


FIGURES: tuple[Figure, ...] = (
    _held(
        "fuel_held",
        "fuel_volume",
        "fuel_cylinders",
        "fuel_cylinder_content",
        "V = cylinders x content of a full one",
        "full and part-full cylinders each counted as full; volume at 15 degC and 101.325 kPa",
    ),
    _held(
        "lpg_held",
        "lpg_mass",
        "lpg_cylinders",
        "lpg_cylinder_mass",
        "m = cylinders x filling of a full one",
        "full and part-full cylinders each counted as full",
    ),
)
"""The figures of this topic."""
