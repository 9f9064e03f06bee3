"""The commissioning file of a rig as one HTML page: it loads nothing, runs nothing, and prints on A4.

Pure: what was compiled goes in, text comes out. What each part says is made ready by a module of its own.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import count

from markupsafe import Markup
from msgspec import Struct

from rigcheck.condition.wording import value_words
from rigcheck.judge.causes import alike_questions, causes_of
from rigcheck.procedure.sheet import Sheet
from rigcheck.quantity.wording import shown_day
from rigcheck.report.drawing.drawing import drawing_element
from rigcheck.report.html import basis
from rigcheck.report.html.addresses import file_name
from rigcheck.report.html.finding_blocks import findings, questions
from rigcheck.report.html.first_page import first_page
from rigcheck.report.html.heads import FILE_HEAD
from rigcheck.report.html.page import page, style_of
from rigcheck.report.html.parts_page import part_rows, settings
from rigcheck.report.html.running_foot import running_foot
from rigcheck.report.html.sheet_page import StepRow, step_rows
from rigcheck.report.html.working_blocks import thing_blocks
from rigcheck.report.plot.plot import Plot
from rigcheck.report.plot.plot_figures import contents_plots, pressure_plots
from rigcheck.report.sheet.sheet_words import SHEET_CAUTION, code_words, first_words, not_needed, state_words
from rigcheck.report.text.calculation_text import CYLINDER_GAUGES, ESTIMATE, tally_words
from rigcheck.report.text.finding_words import count_words
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.question_words import open_words
from rigcheck.rules.overlay import overlay_words
from rigcheck.tasks.commissioning_file import RigFile
from rigcheck.text.faults import unread_words
from rigcheck.version import __version__

__all__ = ["file_page"]

_MOST_LETTERS = 1_350_000  # what ships makes a third of that


class _SheetPart(Struct, frozen=True):
    """A sheet in the file."""

    anchor: str
    sheet: Sheet
    state: str
    first: tuple[str, ...]
    rows: tuple[StepRow, ...]
    left_out: tuple[str, ...]


class _Plot(Struct, frozen=True):
    """A plot in the file; `svg` is empty where it could not be drawn, and `words` say why."""

    name: str
    svg: Markup
    words: str


def file_page(file: RigFile, *, working: bool = True) -> str:
    """Return the page of a rig; whatever a user wrote is escaped. `working`: with the working of the figures.

    A page that nobody could load on a phone leaves the working out, and says so.
    """
    told = _page(file, working=working, cut=False)
    return told if not working or len(told) <= _MOST_LETTERS else _page(file, working=False, cut=True)


def _page(file: RigFile, *, working: bool, cut: bool) -> str:
    inspection, numbers = file.inspection, file.calculation.numbers()
    day, code = shown_day(inspection.day), code_words(inspection.local_code, stated=inspection.code_stated)
    plots = count(1)
    return page(
        "file.html",
        head=Markup(FILE_HEAD),  # noqa: S704
        title=f"Commissioning file: {file.rig.title}",
        style=style_of("base", "steps", "file") + running_foot(f"{file.rig.title}, judged for {day}"),
        rig=file.rig.title,
        written=file_name(inspection.file),
        unread=unread_words(inspection.unread),
        looked=_looked(file),
        day=day,
        code=code,
        first=first_page(file),
        drawing=Markup(drawing_element(file.rig, inspection, state=inspection.state(file.hold_at))),  # noqa: S704
        parts=part_rows(file),
        settings=list(settings(file.rig)),
        findings=list(findings(inspection, numbers)),
        together=count_words(causes_of(inspection.findings)),
        questions=list(questions(inspection, numbers)),
        open_words=open_words(alike_questions(inspection.questions)),
        sheets=list(map(_sheet, file.sheets)),
        dues=list(basis.due_rows(file.dues, inspection.day)),
        daily=basis.daily_words(file.dues),
        limits=list(basis.limits(file)),
        laid=overlay_words(inspection.laid),
        concessions=list(basis.concessions(inspection)),
        origins=list(basis.origins(file, code)),
        contents=_plots(contents_plots(file.calculation), plots),
        pressures=_plots(pressure_plots(file.calculation), plots),
        working=working,
        linked=working,
        cut=cut,
        things=list(thing_blocks(file.calculation)),
        tally=tally_words(file.calculation),
        roles=basis.ROLES,
        words={"caution": CAUTION, "estimate": ESTIMATE, "sea_level": CYLINDER_GAUGES, "sheet": SHEET_CAUTION},
        version=__version__,
    )


def _looked(file: RigFile) -> str:
    looked = file.rig.root.facts.get("inspected")
    return value_words(looked) if looked is not None else "no day is stated"


def _sheet(sheet: Sheet) -> _SheetPart:
    first, left = (*first_words(sheet), *sheet.cautions), tuple(not_needed(sheet))
    rows = tuple(step_rows(sheet))
    return _SheetPart(f"sheet-{sheet.procedure}", sheet, state_words(sheet), first, rows, left)


def _plots(figures: Iterable[Plot], numbers: Iterable[int]) -> list[_Plot]:
    return [_plot(one, f"plot-{number}") for one, number in zip(figures, numbers, strict=False)]


def _plot(figure: Plot, name: str) -> _Plot:
    return _Plot(name, Markup(figure.svg(name) if figure.shapes else ""), figure.words)  # noqa: S704
