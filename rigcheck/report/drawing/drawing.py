"""The drawing of a rig as SVG: what stands where, each line in the order of flow, each finding on its part.

Pure: a rig and its inspection in, SVG out. It is drawn in one column that scales, strokes and words carry what
colours do, and a page of A4 cuts no row. `drawing_document` is a file of its own, with the texts of the findings;
`drawing_element` goes into a page that has these texts itself, under the ids that `finding_anchor` gives.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from xml.etree.ElementTree import Element, SubElement, tostring

from msgspec import Struct

from rigcheck.judge.causes import alike_questions
from rigcheck.judge.inspection import Inspection
from rigcheck.quantity.wording import shown_day
from rigcheck.report.drawing.canvas import MARGIN, PAGE, Canvas
from rigcheck.report.drawing.drawing_words import told_in_words
from rigcheck.report.drawing.frame import frame_for
from rigcheck.report.drawing.label import Box
from rigcheck.report.drawing.legend import draw_around, draw_key, draw_texts, write_words
from rigcheck.report.drawing.letter_widths import FACE
from rigcheck.report.drawing.pins import Pin, Pinned, finding_anchor, pin_anchor, pin_findings
from rigcheck.report.drawing.rows import draw_rows
from rigcheck.report.drawing.stand import draw_standing, slots_of, standing_of
from rigcheck.report.drawing.svg import plain
from rigcheck.report.drawing.tracks import lay_runs
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rig.thing import Rig
from rigcheck.rules.overlay import overlay_words

__all__ = [
    "DRAWING_HEAD",
    "Drawing",
    "drawing_document",
    "drawing_element",
    "finding_anchor",
    "lay_drawing",
    "pin_anchor",
]

DRAWING_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n<!-- rigcheck drawing 1 -->\n'
"""How a drawing of ours begins."""

_PAPER = 190.0  # mm across on A4
_ONE_PAGE = 1.2  # what is higher than a page by no more than this is printed smaller, on one page
_ONE_SHEET = 1.4  # the same for a drawing without the texts of its findings: its letters stay above 2 mm


class Drawing(Struct, frozen=True):
    """A drawing as laid out: its size, its elements in order, and the places of its labels."""

    width: float
    height: float
    elements: tuple[Element, ...]
    boxes: tuple[Box, ...]


def drawing_document(rig: Rig, inspection: Inspection) -> str:
    """Return the drawing of an inspected rig as an SVG file, with the texts of its findings."""
    drawn = lay_drawing(rig, inspection)
    if drawn.height > drawn.width * PAGE * _ONE_PAGE:
        drawn = lay_drawing(rig, inspection, paged=True)
    root = _root(rig, inspection, drawn)
    root.set("xmlns", "http://www.w3.org/2000/svg")
    root.insert(2, _print_style(drawn))
    return DRAWING_HEAD + tostring(root, encoding="unicode") + "\n"


def drawing_element(rig: Rig, inspection: Inspection, lit: Collection[str] = ()) -> str:
    """Return the drawing as an SVG element to stand in an HTML page; pins lead to `#finding-<number>` there.

    It is as wide as its surroundings, has no texts of findings, no style and no caution: the page has them.
    `lit`: paths of things that are shown while the others step back.
    Its class is `whole`, or `paged` where it fills more than a page of A4 and each page is to begin at its rows.
    """
    drawn = lay_drawing(rig, inspection, texts=False)
    paged = drawn.height > drawn.width * PAGE * _ONE_SHEET
    root = _root(rig, inspection, lay_drawing(rig, inspection, texts=False, paged=True) if paged else drawn)
    root.set("class", "paged" if paged else "whole")
    for name in ("width", "height"):
        del root.attrib[name]
    if lit:
        _light(root, {f"part-{place}" for place, one in enumerate(rig.things, start=1) if one.path in lit})
    return tostring(root, encoding="unicode")


def _light(root: Element, names: Collection[str]) -> None:
    """Mark parts of a drawing, and the drawing itself where one of them is drawn."""
    found = [one for one in root.iter("g") if one.get("id") in names]
    for one in found:
        one.set("class", "part lit")
    if found:
        root.set("class", f"{root.get('class')} dimmed")


def lay_drawing(rig: Rig, inspection: Inspection, *, texts: bool = True, paged: bool = False) -> Drawing:
    """Return the layout of a drawing; `texts`: with those of the findings; `paged`: no page of A4 cuts a row."""
    pinned = pin_findings(rig, inspection)
    runs = lay_runs(rig)
    standing = standing_of(rig, runs)
    frame = frame_for(runs, sum(slots_of(rig, standing).values()))
    canvas = Canvas(rig, pinned, frame.width, paged)
    top = _heading(canvas, inspection) if texts else MARGIN
    top, pipes = draw_standing(canvas, frame, standing, top + 4)
    top = draw_rows(canvas, frame, runs, pipes, top + 6)
    top = draw_key(canvas, draw_around(canvas, top) + 8)
    top = _texts(canvas, inspection, top + 6) if texts else top
    return Drawing(frame.width, top + MARGIN, (*canvas.under, *canvas.over), tuple(canvas.boxes))


def _heading(canvas: Canvas, inspection: Inspection) -> float:
    top = write_words(canvas, f"Rig “{inspection.title}”", MARGIN, size=15, bold=True)
    day = shown_day(inspection.day)
    judged = f"{inspection.file}; judged for {day} under local code {inspection.local_code}."
    top = write_words(canvas, judged, top)
    for words in overlay_words(inspection.laid):
        top = write_words(canvas, words, top, bold=True)
    return write_words(canvas, "Seen from the front. Below it each line runs down in the order of flow.", top)


def _texts(canvas: Canvas, inspection: Inspection, top: float) -> float:
    top = write_words(canvas, _count_words(inspection), top, size=12, bold=True)
    top = draw_texts(canvas, _in_order(canvas.pinned), top + 2)
    return write_words(canvas, CAUTION, top + 4)


def _in_order(pinned: Pinned) -> Iterable[Pin]:
    found = (pin for pins in (*pinned.on.values(), pinned.elsewhere) for pin in pins)
    return sorted(found, key=lambda pin: pin.number)


def _count_words(inspection: Inspection) -> str:
    findings, asked = len(inspection.findings), len(alike_questions(inspection.questions))
    told = "Findings: what was found, then what must be" if findings else "No findings"
    return told + (f" (open questions, not drawn: {asked})" if asked else "")


def _root(rig: Rig, inspection: Inspection, drawn: Drawing) -> Element:
    size = {"width": f"{drawn.width:.0f}", "height": f"{drawn.height:.0f}"}
    root = Element("svg", {"viewBox": f"0 0 {size['width']} {size['height']}", **size})
    root.attrib |= {"role": "group", "aria-labelledby": "drawing-title", "aria-describedby": "drawing-words"}
    root.attrib |= {"font-family": FACE}
    SubElement(root, "title", {"id": "drawing-title"}).text = plain(f"Drawing of rig “{rig.title}”")
    told = " ".join((told_in_words(rig, len(inspection.findings)), *overlay_words(inspection.laid)))
    SubElement(root, "desc", {"id": "drawing-words"}).text = plain(told)
    SubElement(root, "rect", {**size, "fill": "#ffffff"})
    root.extend(drawn.elements)
    return root


def _print_style(drawn: Drawing) -> Element:
    """Return how a drawing is printed: as wide as the paper, or smaller where it then stands on one page."""
    page = drawn.width * PAGE
    shrunk = page / drawn.height if page < drawn.height <= page * _ONE_PAGE else 1.0
    width, height = _PAPER * shrunk, _PAPER * shrunk * drawn.height / drawn.width
    style = Element("style")
    style.text = (
        f"@page {{ size: A4; margin: 10mm }} @media print {{ svg {{ width: {width:.1f}mm; height: {height:.1f}mm }} }}"
    )
    return style
