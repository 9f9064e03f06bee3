"""What a drawing says in words of findings: the state of the rig above the picture, each finding by number below it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from xml.etree.ElementTree import Element, SubElement

from rigcheck.judge.causes import Alike, alike_questions, measured
from rigcheck.judge.inspection import Inspection, State
from rigcheck.quantity.wording import counted
from rigcheck.report.drawing.canvas import MARGIN, Canvas
from rigcheck.report.drawing.label import DETAIL, Label, Row, pin_mark
from rigcheck.report.drawing.pins import Pin, finding_anchor, pin_anchor
from rigcheck.report.drawing.svg import plain, polygon
from rigcheck.report.drawing.word_rows import fitted_rows
from rigcheck.report.safety_colours import RED
from rigcheck.report.text.finding_words import group_words, things_words
from rigcheck.rules.rule import SIGNALS

__all__ = ["draw_state", "draw_texts"]

_COLUMN = 34.0  # the numbers of the findings
_PIN_DOWN = 18.0  # from one number to the next below it


def draw_state(canvas: Canvas, inspection: Inspection, state: State, top: float) -> float:
    """Write the state of the rig with the counts behind it, framed; a rig on hold on red. Return the lower edge."""
    held = state == "on hold"
    label = canvas.text(
        f"{state.capitalize()}. {_counts(inspection)}", canvas.width - 2 * MARGIN - 16, size=12, bold=True
    )
    top = canvas.fitted(top + 2, label.height + 8)
    right, bottom = canvas.width - MARGIN, top + label.height + 8
    corners = [(MARGIN, top), (right, top), (right, bottom), (MARGIN, bottom)]
    frame = polygon(corners, fill=RED if held else "#ffffff", stroke="#111111", stroke_width="2")
    group = Element("g", {"class": "state"})
    group.append(frame)
    canvas.over.append(group)
    canvas.write(label, MARGIN + 8, top + 3, group)
    for row in group.iter("text"):
        row.set("fill", "#ffffff" if held else "#111111")
    return bottom + 4


def _counts(inspection: Inspection) -> str:
    found = Counter(one.signal for one in inspection.findings)
    told = ", ".join(f"{found[signal]} {signal.upper()}" for signal in SIGNALS if found[signal]) or "No findings"
    asked = len(alike_questions(inspection.questions))
    return f"{told}; {counted(asked, 'question')} open." if asked else f"{told}."


def draw_texts(canvas: Canvas, told: Iterable[tuple[Alike, Sequence[Pin]]], top: float) -> float:
    """Write the findings by number: signal word and things, what was found, what must be; return the lower edge."""
    for alike, pins in told:
        since, begun = len(canvas.over), top
        top = _text(canvas, alike, pins, top)
        canvas.together(f"told-{pins[0].number}", since, begun, top)
    return top


def _text(canvas: Canvas, alike: Alike, pins: Sequence[Pin], top: float) -> float:
    width, first = canvas.width - 2 * MARGIN - _COLUMN, alike.first
    head = f"{first.signal.upper()}: {things_words(alike)}"
    rows = [Row(row, DETAIL, True) for row in fitted_rows(head, width, DETAIL, bold=True, most=6)]
    told = [f"{group_words(alike)} Must be: {first.claim}" if measured(first) else first.told]
    told += [f"Conceded: {first.conceded.words}"] if first.conceded else []
    rows += [Row(row) for text in told for row in fitted_rows(text, width, DETAIL)]
    label = Label(tuple(rows), (), width)
    height = max(label.height, len(pins) * _PIN_DOWN) + 3
    top = canvas.fitted(top, height)
    for place, pin in enumerate(pins):
        group = Element("g", {"id": finding_anchor(pin.number), "class": "finding"})
        group.append(_way_back(pin, (MARGIN, top + 1 + place * _PIN_DOWN)))
        canvas.over.append(group)
        if place == 0:
            canvas.write(label, MARGIN + _COLUMN, top, group)
    return top + height


def _way_back(pin: Pin, at: tuple[float, float]) -> Element:
    told = plain(f"Back to pin {pin.number} in the drawing")
    made = Element("a", {"href": f"#{pin_anchor(pin.number)}", "aria-label": told})
    SubElement(made, "title").text = told
    made.append(pin_mark(pin, at, linked=False))
    return made
