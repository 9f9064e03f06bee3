"""The lines as rows from the cylinders down, each part on its track with its label beside it, torch by torch."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from xml.etree.ElementTree import Element

from rigcheck.quantity.interval import Interval
from rigcheck.report.drawing.canvas import Canvas
from rigcheck.report.drawing.frame import Frame
from rigcheck.report.drawing.gas_colours import gas_of, stroke_of
from rigcheck.report.drawing.svg import Point, line
from rigcheck.report.drawing.symbols import GAP_HALF, bar, gap, gauges, half_height, hose, joint_mark, pipe, symbol
from rigcheck.report.drawing.torch import draw_torch
from rigcheck.report.drawing.tracks import Run, Side
from rigcheck.rig.thing import Thing

__all__ = ["draw_rows"]

_BELOW = 8.0  # between two rows
_GAUGED = 26.0  # from the top of a row to the middle of a regulator: its gauges stand above it
_SIDES: tuple[Side, Side] = ("left", "right")


def draw_rows(canvas: Canvas, frame: Frame, runs: Sequence[Run], pipes: Mapping[int, list[Point]], top: float) -> float:
    """Draw all lines and torches from `top` down; `pipes` come from the picture. Return the lower edge."""
    rows = _Rows(canvas, frame, runs, pipes, top)
    torches: tuple[Thing, ...] = canvas.rig.root.facts.get("torch") or ()
    for band in range(max(1, len(torches))):
        for run in runs:
            rows.run(run, band)
        if band < len(torches):
            rows.torch(torches[band])
    rows.pipes_of_lines()
    return max(rows.down.values())


class _Rows:
    def __init__(
        self, canvas: Canvas, frame: Frame, runs: Sequence[Run], pipes: Mapping[int, list[Point]], top: float
    ) -> None:
        self.canvas, self.frame, self.runs, self.sources = canvas, frame, runs, pipes
        self.down: dict[Side, float] = dict.fromkeys(_SIDES, top)
        self.ends: dict[int, tuple[float, float]] = {}  # where the pipe comes to a part, and where it leaves
        self.inlets: dict[int, list[Point]] = {}  # by joint: the way from a track to a torch
        self.begun: set[int] = set()

    # --- one row ---

    def run(self, run: Run, band: int) -> None:
        """Draw the parts of a line that come before a torch."""
        for part in run.parts:
            if run.band[id(part)] == band and part not in run.sources:
                self._heading(run)
                self._part(run, part)
        if run.parts and run.band[id(run.parts[0])] == band:
            self._heading(run)
        for part in run.parts:
            self._torch_joints(run, part, band)

    def _heading(self, run: Run) -> None:
        if id(run.line) in self.begun:
            return
        self.begun.add(id(run.line))
        left, width = self.frame.label_place(run.side)
        label = self.canvas.label(run.line, width, self._anchor(run))
        top = self._room(run, label.height)
        self.canvas.write(label, left, top, self.canvas.thing(run.line, []))
        self.down[run.side] = top + label.height + _BELOW

    def _anchor(self, run: Run) -> str:
        return "start" if run.side == "left" else "end"

    def _room(self, run: Run, height: float) -> float:
        return self.canvas.fitted(self.down[run.side], height)

    def _part(self, run: Run, part: Thing) -> None:
        for joint in run.ups(part):
            self._joint_row(run, joint)
        left, width = self.frame.label_place(run.side)
        label = self.canvas.label(part, width, self._anchor(run))
        height = max(label.height, _least_height(part))
        top = self._room(run, height + _BELOW)
        self.down[run.side] = top + height + _BELOW
        at = (self.frame.x_of(run, part), top + _middle_of(part))
        self.ends[id(part)] = (top + 5, top + height - 3) if part.kind.drawn_as == "hose" else (at[1], at[1])
        group = self.canvas.thing(part, self._shapes(run, part, at))
        for gauge, shapes in self._gauges_of(part, at):
            self.canvas.thing(gauge, shapes)
        for joint in run.ups(part):
            self._mark(run, joint, top - 1)
        self._leader(run, part, at)
        down = self.canvas.write(label, left, top, group)
        self._inner_labels(part, run, down.top + down.height)

    def _gauges_of(self, part: Thing, at: Point) -> Iterable[tuple[Thing, list[Element]]]:
        held = [(key, part.facts.get(key)) for key in ("inlet_gauge", "outlet_gauge")]
        return gauges(at, [(key, gauge) for key, gauge in held if isinstance(gauge, Thing)])

    def _inner_labels(self, part: Thing, run: Run, top: float) -> None:
        """Write what is built into a part and has findings, and whatever has no shape of its own."""
        left, width = self.frame.label_place(run.side)
        for one in _held_in(part):
            if id(one) in self.canvas.drawn and not self.canvas.pins(one):
                continue
            label = self.canvas.label(one, width, self._anchor(run))
            top = self.canvas.fitted(top, label.height)
            self.canvas.write(label, left, top, self.canvas.group_of(one))
            top += label.height
            self.down[run.side] = max(self.down[run.side], top + _BELOW)

    def _shapes(self, run: Run, part: Thing, at: Point) -> list[Element]:
        if part.kind.drawn_as == "hose":
            begin, end = self.ends[id(part)]
            return hose(part, (at[0], begin), end - begin, stroke_of(gas_of(run.line)))
        if part.kind.drawn_as == "bar":
            across = [self.frame.x(run, track) for track in self._met(run, part)]
            return bar((min(across), at[1]), (max(across), at[1]))
        return symbol(part, at)

    def _met(self, run: Run, part: Thing) -> list[int]:
        """Return the tracks that meet at a part."""
        before = [run.track[id(joint.facts["upstream"])] for joint in run.ups(part)]
        after = [run.track.get(id(joint.facts["downstream"])) for joint in run.downs(part)]
        return [run.track[id(part)], *before, *(track for track in after if track is not None)]

    def _leader(self, run: Run, part: Thing, at: Point) -> None:
        """Lead from a part on an outer track to its label."""
        inward = 1 if run.side == "left" else -1
        ends = (at[0] + 9 * inward, at[1]), (self.frame.inner(run.side) - 2 * inward, at[1])
        if abs(ends[1][0] - ends[0][0]) > 12:
            self.canvas.under.insert(0, line(*ends, stroke="#777777", stroke_dasharray="1 2"))

    # --- joints ---

    def _joint_row(self, run: Run, joint: Thing) -> None:
        """Give a joint that has findings a row of its own, and one before it to each part that is missing there."""
        for missing in self.canvas.gaps.get(id(joint), ()):
            self._gap_row(run, joint, missing)
        if not self.canvas.pins(joint):
            return
        left, width = self.frame.label_place(run.side)
        label = self.canvas.label(joint, width, self._anchor(run))
        top = self._room(run, label.height)
        self.down[run.side] = top + label.height + _BELOW
        group = self._mark(run, joint, top + 8)
        if group is not None:
            self._leader(run, self._on_track(run, joint), (self._x_of(run, joint), top + 8))
            self.canvas.write(label, left, top, group)

    def _gap_row(self, run: Run, joint: Thing, missing: str) -> None:
        """Leave the place of a missing part empty, the pipe broken, with what should stand there beside it."""
        left, width = self.frame.label_place(run.side)
        label = self.canvas.text(missing, width, bold=True, anchor=self._anchor(run))
        height = max(label.height, 2 * GAP_HALF + 4)
        top = self._room(run, height)
        self.down[run.side] = top + height + _BELOW
        group = Element("g", {"class": "gap"})
        group.append(gap((self._x_of(run, joint), top + GAP_HALF + 2)))
        self.canvas.over.append(group)
        self.canvas.write(label, left, top, group)

    def _mark(self, run: Run, joint: Thing, y: float) -> Element | None:
        if id(joint) in self.canvas.drawn:
            return None
        return self.canvas.thing(joint, [joint_mark((self._x_of(run, joint), y))])

    def _on_track(self, run: Run, joint: Thing) -> Thing:
        """Return the part on whose track a joint lies: where branches meet, that of the branch."""
        upstream, downstream = joint.facts["upstream"], joint.facts["downstream"]
        many = len(run.ups(downstream)) > 1
        found: Thing = upstream if many or id(downstream) not in run.track else downstream
        return found

    def _x_of(self, run: Run, joint: Thing) -> float:
        return self.frame.x_of(run, self._on_track(run, joint))

    def _torch_joints(self, run: Run, part: Thing, band: int) -> None:
        """Give the joints to the torch of this band their rows, where they have findings."""
        if run.band[id(part)] == band:
            for joint in run.downs(part):
                if "torch" in joint.facts["downstream"].kind.lineage:
                    self._joint_row(run, joint)

    # --- torches ---

    def torch(self, torch: Thing) -> None:
        """Draw a torch below both sides, and lead the lines to it."""
        joints = {side: self._inlets(torch, side) for side in _SIDES}
        counts = {side: len(found) for side, found in joints.items()}
        lower, ports = draw_torch(self.canvas, self.frame, torch, counts, max(self.down.values()) + 6)
        for side in _SIDES:
            for (run, joint), port in zip(joints[side], ports[side], strict=True):
                x = self._x_of(run, joint)
                self.inlets[id(joint)] = [(x, port[1]), port]
                if id(joint) not in self.canvas.drawn:
                    near = (port[0] + (-7 if side == "left" else 7), port[1])
                    self.canvas.thing(joint, [joint_mark(near, across=False)])
        self.down = dict.fromkeys(_SIDES, lower + _BELOW)

    def _inlets(self, torch: Thing, side: Side) -> list[tuple[Run, Thing]]:
        """Return the joints that lead to a torch from a side, that on the innermost track first."""
        runs = [run for run in self.runs if run.side == side]
        found = [(run, joint) for run in runs for joint in run.ups(torch)]
        inward = -1 if side == "left" else 1
        return sorted(found, key=lambda one: inward * self._x_of(*one))

    # --- pipes ---

    def pipes_of_lines(self) -> None:
        """Draw the pipes between all parts, under everything else."""
        for run in self.runs:
            stroke = stroke_of(gas_of(run.line))
            for joint in run.joints:
                self.canvas.under += pipe(self._way(run, joint), stroke)

    def _way(self, run: Run, joint: Thing) -> list[Point]:
        upstream, downstream = joint.facts["upstream"], joint.facts["downstream"]
        start = self.sources.get(id(upstream)) or [(self._x_of(run, joint), self.ends[id(upstream)][1])]
        if id(joint) in self.inlets:
            return [*start, *self.inlets[id(joint)]]
        return [*start, (self._x_of(run, joint), self.ends[id(downstream)][0])]


def _held_in(part: Thing) -> Iterator[Thing]:
    for key in part.kind.holds:
        held = part.facts.get(key)
        yield from (one for one in (held if isinstance(held, tuple) else (held,)) if isinstance(one, Thing))


def _middle_of(part: Thing) -> float:
    return _GAUGED if part.kind.drawn_as == "regulator" else max(12.0, half_height(part) + 4)


def _least_height(part: Thing) -> float:
    """Return how much room down a shape takes; a hose is drawn the longer the longer it is."""
    if part.kind.drawn_as != "hose":
        return _middle_of(part) + half_height(part) + 2
    length = part.facts.get("length")
    metres = (length.lo + length.hi) / 2 if isinstance(length, Interval) else 0.0
    return 32 + 22 * min(4, int(max(0.0, metres) // 15))
