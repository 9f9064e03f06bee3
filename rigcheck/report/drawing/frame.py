"""Where things stand across a drawing: tracks at both edges, labels inward of them, torches in the middle."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from rigcheck.report.drawing.canvas import MARGIN
from rigcheck.report.drawing.tracks import Run, Side
from rigcheck.rig.thing import Thing

__all__ = ["SLOT", "Frame", "frame_for"]

_NARROWEST, _LABEL = 400.0, 140.0  # of a whole drawing, and of the labels on one side
_TRACK, _AWAY = 18.0, 14.0  # between two tracks, and from the inner track to its labels
SLOT = 64.0
"""The least room across that a cylinder and its label take in the picture."""


class Frame(Struct, frozen=True):
    """`tracks`: how many a side has; `offsets`: by the id of a line, the number of its first track."""

    width: float
    tracks: dict[Side, int]
    offsets: dict[int, int]

    @property
    def middle(self) -> float:
        """Where the torches stand."""
        return (self.inner("left") + self.inner("right")) / 2

    def inner(self, side: Side) -> float:
        """Return where the labels of a side begin, next to its tracks."""
        taken = MARGIN + self.tracks[side] * _TRACK + (_AWAY if self.tracks[side] else 0.0)
        return taken if side == "left" else self.width - taken

    def x(self, run: Run, track: int) -> float:
        """Return where a track of a line lies across."""
        out = self.tracks[run.side] - 1 - (self.offsets[id(run.line)] + track)
        taken = MARGIN + (out + 0.5) * _TRACK
        return taken if run.side == "left" else self.width - taken

    def x_of(self, run: Run, part: Thing) -> float:
        """Return where the track of a part lies across."""
        return self.x(run, run.track[id(part)])

    def label_place(self, side: Side) -> tuple[float, float]:
        """Return the left edge and the width of the labels of a side."""
        other: Side = "right" if side == "left" else "left"
        ends = (self.inner(side), self.middle if self.tracks[other] else self.inner(other))
        return min(ends) + (8 if side == "right" else 0), abs(ends[0] - ends[1]) - 8


def frame_for(runs: Sequence[Run], slots: int) -> Frame:
    """Return a frame that is wide enough for some lines and for so many cylinders in the picture."""
    offsets: dict[int, int] = {}
    tracks: dict[Side, int] = {"left": 0, "right": 0}
    for run in runs:
        offsets[id(run.line)] = tracks[run.side]
        tracks[run.side] += run.tracks
    edges = 2 * MARGIN + _TRACK * (tracks["left"] + tracks["right"]) + 2 * _AWAY
    return Frame(max(_NARROWEST, edges + 2 * _LABEL, edges + slots * SLOT), tracks, offsets)
