"""Below the drawing: things around the rig, and what the strokes and shapes mean."""

from __future__ import annotations

from rigcheck.report.drawing.canvas import MARGIN, Canvas
from rigcheck.report.drawing.drawing_words import name_of
from rigcheck.report.drawing.gas_colours import STROKES, gas_of, iso_colour, stroke_of
from rigcheck.report.drawing.label import DETAIL, Label, Row
from rigcheck.report.drawing.svg import line
from rigcheck.report.drawing.word_rows import fitted_rows
from rigcheck.rig.thing import Thing

__all__ = ["draw_around", "draw_key", "write_words"]

_SAMPLE = 46.0
SHAPES = (
    "Regulators, gauges, non-return valves and hoses are drawn after ISO 1219-1 (from memory); the other shapes "
    "are our own. "
    "Nothing is to scale. Each hose has the colour that is stated of it. A bar across a cylinder: something holds it. "
    "A broken red frame: the part that should stand there is missing."
)
_LIGHTER = "Shapes in a lighter stroke: so the standard rig says, and this rig says nothing of it."


def write_words(canvas: Canvas, words: str, top: float, *, size: float = DETAIL, bold: bool = False) -> float:
    """Write a paragraph as wide as the drawing; return its lower edge."""
    label = canvas.text(words, canvas.width - 2 * MARGIN, size=size, bold=bold)
    top = canvas.fitted(top, label.height)
    canvas.write(label, MARGIN, top)
    return top + label.height


def draw_around(canvas: Canvas, top: float) -> float:
    """Write what has findings and no place in the drawing, two beside each other; return the lower edge."""
    things = [thing for thing in canvas.rig.things if id(thing) not in canvas.drawn and canvas.pins(thing)]
    width = (canvas.width - 2 * MARGIN) / 2 - 10
    if not things and not canvas.pinned.elsewhere:
        return top
    top = write_words(canvas, "Around the rig", top + 4, size=12, bold=True)
    labels: list[tuple[Label, Thing | None]] = [(_named(canvas, thing, width), thing) for thing in things]
    if canvas.pinned.elsewhere:
        labels.append((Label(_rows("elsewhere", width), canvas.pinned.elsewhere, width), None))
    for pair in (labels[n : n + 2] for n in range(0, len(labels), 2)):
        height = max(label.height for label, _ in pair) + 4
        top = canvas.fitted(top, height)
        for place, (label, thing) in enumerate(pair):
            group = None if thing is None else canvas.group_of(thing)
            canvas.write(label, MARGIN + place * (width + 20), top, group)
        top += height
    return top


def _named(canvas: Canvas, thing: Thing, width: float) -> Label:
    return Label(_rows(name_of(thing), width), canvas.pins(thing), width)


def _rows(name: str, width: float) -> tuple[Row, ...]:
    return tuple(Row(row, 10.5, True) for row in fitted_rows(name, width, 10.5, bold=True))


def draw_key(canvas: Canvas, top: float) -> float:
    """Show the stroke of each gas of the rig with the colour of its hoses by ISO 3821; return the lower edge."""
    gases = dict.fromkeys(gas_of(one) for one in canvas.rig.of_kind("line"))
    for gas in gases:
        colour = iso_colour(gas)
        remembered = "by ISO 3821 (from memory); another code may differ"
        by_standard = f"hoses {colour} {remembered}" if colour else "no hose colour of its own"
        label = canvas.text(f"{gas}: {by_standard}", canvas.width - 2 * MARGIN - _SAMPLE)
        top = canvas.fitted(top, label.height)
        sample = line((MARGIN, top + 8), (MARGIN + _SAMPLE - 10, top + 8), stroke="#444444", stroke_width="2.2")
        sample.set("stroke-dasharray", STROKES[stroke_of(gas)] or "none")
        canvas.under.append(sample)
        canvas.write(label, MARGIN + _SAMPLE, top)
        top += label.height
    presumed = any(canvas.is_presumed(thing) for thing in canvas.rig.things if id(thing) in canvas.drawn)
    return write_words(canvas, f"{SHAPES} {_LIGHTER}" if presumed else SHAPES, top)
