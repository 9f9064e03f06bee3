"""The drawing of a rig as SVG: what stands where, each line in the order of flow, each finding on its part.

Pure: a rig and its inspection in, SVG out. It is drawn in one column that scales, strokes and words carry what
colours do, and a page of A4 cuts no row: the gaps for that are there in print alone. `drawing_document` is a file of
its own, with the state and the texts of the findings; `drawing_element` goes into a page that has these texts itself,
under the ids that `finding_anchor` gives.
"""

from __future__ import annotations

from collections.abc import Collection
from xml.etree.ElementTree import Element, SubElement, tostring

from msgspec import Struct
from msgspec.structs import replace

from rigcheck.judge.causes import Alike, alike_questions, causes_of
from rigcheck.judge.inspection import Inspection, State
from rigcheck.quantity.wording import shown_day
from rigcheck.report.drawing.canvas import MARGIN, PAGE, Canvas
from rigcheck.report.drawing.drawing_words import told_in_words
from rigcheck.report.drawing.finding_texts import draw_state, draw_texts
from rigcheck.report.drawing.frame import frame_for
from rigcheck.report.drawing.gaps import gaps_of
from rigcheck.report.drawing.label import Box
from rigcheck.report.drawing.legend import draw_around, draw_key, write_words
from rigcheck.report.drawing.letter_widths import FACE
from rigcheck.report.drawing.pins import Pin, Pinned, finding_anchor, pin_anchor, pin_findings
from rigcheck.report.drawing.print_pages import Block, print_style
from rigcheck.report.drawing.rows import draw_rows
from rigcheck.report.drawing.stand import draw_standing, slots_of, standing_of
from rigcheck.report.drawing.svg import plain
from rigcheck.report.drawing.tracks import lay_runs
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rig.thing import Rig
from rigcheck.rules.overlay import overlay_words
from rigcheck.text.faults import unread_words

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

_MOST_ON_PAGE = 2.0  # a picture that is higher than a page by no more than this is printed smaller, on one page


class Drawing(Struct, frozen=True):
    """A drawing as laid out: its size, its elements in order, the places of its labels, what no page may cut."""

    width: float
    height: float
    elements: tuple[Element, ...]
    boxes: tuple[Box, ...]
    blocks: tuple[Block, ...]


def drawing_document(rig: Rig, inspection: Inspection, state: State | None = None) -> str:
    """Return the drawing of an inspected rig as an SVG file, with its state and the texts of its findings."""
    drawn = lay_drawing(rig, inspection, state)
    if drawn.blocks[0].height > drawn.width * PAGE * _MOST_ON_PAGE:
        drawn = lay_drawing(rig, inspection, state, paged=True)
    root = _root(rig, inspection, drawn)
    root.set("xmlns", "http://www.w3.org/2000/svg")
    root.set("preserveAspectRatio", "xMidYMin meet")
    style = Element("style")
    style.text = print_style((drawn.width, drawn.height), drawn.blocks, 1.0 / _MOST_ON_PAGE)
    root.insert(2, style)
    return DRAWING_HEAD + tostring(root, encoding="unicode") + "\n"


def drawing_element(rig: Rig, inspection: Inspection, lit: Collection[str] = (), state: State | None = None) -> str:
    """Return the drawing as an SVG element to stand in an HTML page; pins lead to `#finding-<number>` there.

    It is as wide as its surroundings, has no texts of findings, no style and no caution: the page has them.
    `lit`: paths of things that are shown while the others step back.
    A page fits it on one sheet of paper.
    """
    root = _root(rig, inspection, lay_drawing(rig, inspection, state, texts=False))
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
        root.set("class", "dimmed")


def lay_drawing(
    rig: Rig, inspection: Inspection, state: State | None = None, *, texts: bool = True, paged: bool = False
) -> Drawing:
    """Return the layout of a drawing; `texts`: with those of the findings; `paged`: no page of A4 cuts a row."""
    pinned = pin_findings(rig, _drawn(inspection))
    runs = lay_runs(rig)
    standing = standing_of(rig, runs)
    frame = frame_for(runs, sum(slots_of(rig, standing).values()))
    canvas = Canvas(rig, pinned, frame.width, paged, gaps=gaps_of(rig, inspection))
    top = _heading(canvas, inspection) if texts else MARGIN
    top = draw_state(canvas, inspection, state, top) if state else top
    top, pipes = draw_standing(canvas, frame, standing, top + 4)
    top = draw_rows(canvas, frame, runs, pipes, top + 6)
    top = draw_key(canvas, draw_around(canvas, top) + 8)
    canvas.blocks.append(Block("picture", 0.0, top))
    top = _texts(canvas, inspection, top + 6) if texts else top
    boxes, elements = tuple(canvas.boxes), (*canvas.under, *canvas.over)
    return Drawing(frame.width, top + MARGIN, elements, boxes, tuple(canvas.blocks))


_MOST_PINNED = 300  # findings, the gravest first; a rig with more is a black page of numbers


def _drawn(inspection: Inspection) -> Inspection:
    return replace(inspection, findings=inspection.findings[:_MOST_PINNED])


def _heading(canvas: Canvas, inspection: Inspection) -> float:
    top = write_words(canvas, f"Rig “{inspection.title}”", MARGIN, size=15, bold=True)
    day = shown_day(inspection.day)
    judged = f"{inspection.file}; judged for {day} under local code {inspection.local_code}."
    top = write_words(canvas, judged, top)
    for words in (*unread_words(inspection.unread), *overlay_words(inspection.laid)):
        top = write_words(canvas, words, top, bold=True)
    return write_words(canvas, "Seen from the front. Below it each line runs down in the order of flow.", top)


def _texts(canvas: Canvas, inspection: Inspection, top: float) -> float:
    since, begun = len(canvas.over), top
    top = write_words(canvas, _count_words(inspection), top, size=12, bold=True) + 2
    canvas.together("findings", since, begun, top)
    if (left := len(inspection.findings) - _MOST_PINNED) > 0:
        top = write_words(canvas, f"{left} findings more are not drawn; rigcheck inspect tells them.", top, bold=True)
    top = draw_texts(canvas, _told_together(canvas.pinned, _drawn(inspection)), top)
    since, begun = len(canvas.over), top + 4
    top = write_words(canvas, CAUTION, begun)
    canvas.together("who-decides", since, begun, top)
    return top


def _told_together(pinned: Pinned, inspection: Inspection) -> list[tuple[Alike, tuple[Pin, ...]]]:
    """Return findings that read the same as one, with the pins of all, in the order of the first."""
    pins = {id(pin.finding): pin for every in (*pinned.on.values(), pinned.elsewhere) for pin in every}
    groups = [group for cause in causes_of(inspection.findings) for group in (cause.told, *cause.also)]
    told = [(group, tuple(sorted((pins[id(one)] for one in group.findings), key=_number))) for group in groups]
    return sorted(told, key=lambda one: one[1][0].number)


def _number(pin: Pin) -> int:
    return pin.number


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
