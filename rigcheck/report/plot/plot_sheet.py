"""The plots of a calculation sheet as one SVG: contents over the day, pressure along each line.

One column, so that it is read on a narrow screen and on A4 alike; lines differ by stroke and by words,
so that it is read in black and white.
"""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree.ElementTree import Element

from rigcheck.quantity.wording import shown_day
from rigcheck.report.drawing.print_pages import Block
from rigcheck.report.drawing.svg import document, line
from rigcheck.report.drawing.word_rows import paragraph
from rigcheck.report.plot.plot import WIDTH, Plot
from rigcheck.report.plot.plot_figures import contents_plots, pressure_plots
from rigcheck.report.text.calculation_text import ESTIMATE
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rules.overlay import overlay_words
from rigcheck.tasks.calculation_sheet import Calculation
from rigcheck.text.faults import unread_words

__all__ = ["figures_plot"]

_MARGIN = 12.0


def figures_plot(calculation: Calculation) -> str:
    """Return the plots of one rig as an SVG document."""
    page, rig = _Page(), calculation.rig
    day = shown_day(calculation.day)
    with_day = f"{rig.file}; worked out for {day}, limits of local code {calculation.local_code}."
    told = (*unread_words(rig.unread), *overlay_words(calculation.laid))
    laid = [(words, 10.0, True) for words in told]
    page.block([(f"Figures of rig “{rig.title}”", 15, True), (with_day, 10, False), *laid])
    page.section("Gas left over the working day", contents_plots(calculation))
    page.section("Pressure along each line while the torches burn", pressure_plots(calculation))
    page.block([(ESTIMATE, 10, False), (CAUTION, 10, False)], ruled=True)
    size = (WIDTH + 2 * _MARGIN, page.down + _MARGIN)
    return document("rigcheck figures 1", size, f"Figures of rig “{rig.title}”", CAUTION, page.drawn, page.blocks)


_Text = tuple[str, float, bool]
"""A paragraph: its words, their size, whether they are bold."""


class _Page:
    """A column that is filled from the top, block by block."""

    def __init__(self) -> None:
        self.down = _MARGIN
        self.drawn: list[Element] = []
        self.blocks: list[Block] = []

    def section(self, title: str, plots: Iterable[Plot]) -> None:
        """Add plots under a title, which stands with the first of them."""
        heading: list[_Text] = [(title, 13, True)]
        for plot in plots:
            self.block([(plot.words, 10, False)], plot, heading, ruled=bool(heading))
            heading = []
        if heading:
            self.block(heading, ruled=True)

    def block(
        self, texts: Iterable[_Text], plot: Plot | None = None, above: Iterable[_Text] = (), *, ruled: bool = False
    ) -> None:
        """Add a block that no page of paper cuts: texts above, a plot, texts below."""
        name, top = f"block-{len(self.blocks) + 1}", self.down
        made = Element("g", {"id": name})
        if ruled:
            made.append(line((_MARGIN, top), (WIDTH + _MARGIN, top), stroke="#999999"))
            self.down += 8
        for text in above:
            self._text(made, text)
        if plot is not None and plot.shapes:
            self._plot(made, plot)
        for text in texts:
            self._text(made, text)
        self.down += 10
        self.drawn.append(made)
        self.blocks.append(Block(name, top, self.down - top))

    def _text(self, made: Element, text: _Text) -> None:
        told, size, bold = text
        rows, taken = paragraph((_MARGIN, self.down), told, WIDTH, size=size, bold=bold)
        made.extend(rows)
        self.down += taken + 4

    def _plot(self, made: Element, plot: Plot) -> None:
        shapes = Element("g", {"transform": f"translate({_MARGIN:g} {self.down:.2f})"})
        shapes.extend(plot.shapes)
        made.append(shapes)
        self.down += plot.height + 4
