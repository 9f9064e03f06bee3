"""How a tall drawing is printed: on pages of A4 that cut no block of it, with gaps that a screen does not see.

CSS moves the blocks in print alone. The drawing keeps its size; `preserveAspectRatio` holds it at the top of the
taller place that it is given on paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

__all__ = ["Block", "print_style"]

_PAPER = (190.0, 276.7)  # mm; A4 within margins of 10 mm, in whole pixels of 1/96 in as browsers print it
_HAIR = 0.01  # units; a block as high as a page stands on it
_LEAD = 4.0  # units; a block that begins a page stands so far below its edge, should the pages run a little apart
_MOST_SHRUNK = 0.62  # of the width of the paper; smaller letters than these would not be read


_ON_A_PHONE = "@media screen { svg:root { max-width: 100%; height: auto } }"
"""In a window of its own a drawing is no wider than a small screen; on a page the page says how wide."""


class Block(NamedTuple):
    """A group of a drawing that no page may cut: its id, and where it stands, in units of the drawing."""

    name: str
    top: float
    height: float


def print_style(size: tuple[float, float], blocks: Sequence[Block], most_shrunk: float = _MOST_SHRUNK) -> str:
    """Return the style that prints a drawing of a size, and fits it on a small screen; `blocks`: from the top down.

    `most_shrunk`: down to which share of the width of the paper, so that its highest block stands on one page.
    """
    highest = max([0.0, *(block.height for block in blocks)])
    scale = _PAPER[0] / size[0] * max(most_shrunk, min(1.0, _PAPER[1] / (highest * _PAPER[0] / size[0] or 1.0)))
    moves = list(_moves(blocks, _PAPER[1] / scale))
    last = moves[-1][1] if moves else 0.0
    moved = " ".join(f"#{name} {{ transform: translateY({move:.1f}px) }}" for name, move in moves if move)
    sides = f"svg {{ width: {size[0] * scale:.1f}mm; height: {(size[1] + last) * scale:.1f}mm }}"
    return f"@page {{ size: A4; margin: 10mm }} @media print {{ {sides} {moved} }} {_ON_A_PHONE}"


def _moves(blocks: Iterable[Block], page: float) -> Iterator[tuple[str, float]]:
    """Yield how far each block goes down so that it stands on one page."""
    down = 0.0
    for block in blocks:
        top = block.top + down
        if int(top // page) != int((top + block.height - _HAIR) // page) and block.height <= page + _HAIR:
            down += (top // page + 1) * page + _LEAD - top
        yield block.name, down
