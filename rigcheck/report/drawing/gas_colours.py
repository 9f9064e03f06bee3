"""Colours and strokes of gases and hoses: a colour never stands without a word and a stroke of its own."""

from __future__ import annotations

from collections.abc import Mapping

from rigcheck.report.safety_colours import PAINTS
from rigcheck.rig.thing import Thing

__all__ = ["NO_COLOUR", "STROKES", "gas_of", "hose_paint", "iso_colour", "stroke_of"]

NO_COLOUR = "#a9a9a9"  # darkgray of CSS Color Level 4
"""What is drawn where no colour is stated, or one that has no name."""

STROKES: Mapping[str, str] = {"oxygen": "", "acetylene": "9 4", "other fuel gas": "10 3 2 3", "other gas": "2 3"}
"""Dashes by gas, so that lines are told apart without colour."""

_NO_FUEL = ("air", "nitrogen", "carbon-dioxide", "argon", "other")
_BY_ISO_3821 = {  # ISO 3821, from memory
    **dict.fromkeys(("acetylene", "hydrogen", "ethylene"), "red"),
    **dict.fromkeys(("propane", "butane", "natural-gas", "propylene", "methylacetylene-mix"), "orange"),
    **dict.fromkeys(("air", "nitrogen", "carbon-dioxide", "argon"), "black"),
    "oxygen": "blue",
    "fuel-mix": "red-orange",
}


def gas_of(line: Thing | None) -> str:
    """Return the gas of a line, or 'other' where none is named."""
    gas = line.facts.get("gas") if line is not None else None
    return gas if isinstance(gas, str) else "other"


def stroke_of(gas: str) -> str:
    """Return the name of the stroke that a gas is drawn with."""
    if gas in STROKES:
        return gas
    return "other gas" if gas in _NO_FUEL else "other fuel gas"


def iso_colour(gas: str) -> str:
    """Return the colour of a hose for a gas by ISO 3821 (from memory), or nothing."""
    return _BY_ISO_3821.get(gas, "")


def hose_paint(hose: Thing) -> str:
    """Return what a hose is drawn with: the colour that is stated of it."""
    return PAINTS.get(str(hose.facts.get("colour")), NO_COLOUR)
