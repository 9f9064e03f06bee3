"""The commissioning file of a rig as one HTML page: it loads nothing, runs nothing, and prints on A4.

Pure: what was compiled goes in, text comes out. Each section is built by a module of its own.
"""

from __future__ import annotations

from rigcheck.condition.wording import value_words
from rigcheck.judge.causes import alike_questions
from rigcheck.quantity.wording import shown_day
from rigcheck.report.html.basis import code_words, limits_section, origins_section, signing_section
from rigcheck.report.html.figures_part import calculation_section, drawing_section
from rigcheck.report.html.findings_part import findings_section, questions_section
from rigcheck.report.html.markup import joined, listed, rows, shown, tag
from rigcheck.report.html.page_style import STYLE
from rigcheck.report.html.sheets_part import sheet_section
from rigcheck.report.html.state_part import cautions_section, state_section
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.tasks.commissioning_file import RigFile
from rigcheck.version import __version__

__all__ = ["FILE_HEAD", "file_page"]

FILE_HEAD = '<!DOCTYPE html>\n<html lang="en">\n<!-- rigcheck file 1 -->\n'
"""How a commissioning file of ours begins."""

_POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"


def file_page(file: RigFile) -> str:
    """Return the page of a rig; whatever a user wrote is escaped."""
    body = joined(
        [
            tag("a", "Skip to the state of the rig", class_="skip", href="#state"),
            _header(file),
            _contents(file),
            tag("main", joined(["", *_sections(file), ""]), id="content"),
            tag(
                "footer", tag("p", shown(CAUTION)) + tag("p", shown(f"Made by rigcheck {__version__}."), class_="quiet")
            ),
        ]
    )
    return f"{FILE_HEAD}{_head(file)}\n<body>\n{body}\n</body>\n</html>\n"


def _head(file: RigFile) -> str:
    lines = [
        '<meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        '<meta name="referrer" content="no-referrer">',
        tag("title", shown(f"Commissioning file: {file.rig.name}")),
        f"<style>{STYLE}</style>",
    ]
    return tag("head", joined(["", *lines, ""]))


def _header(file: RigFile) -> str:
    inspection = file.inspection
    head = tag("h1", f"Commissioning file: {tag('bdi', shown(file.rig.name))}")
    looked = file.rig.root.facts.get("inspected")
    told = [
        ("Written in", tag("bdi", shown(inspection.file))),
        ("Looked at", shown(value_words(looked)) if looked is not None else "no day is stated"),
        ("Judged for", shown_day(inspection.day)),
        ("Local code", shown(code_words(inspection))),
    ]
    return tag("header", joined([head, rows(told)]))


def _contents(file: RigFile) -> str:
    sheets = ((f"sheet-{sheet.procedure}", f"{sheet.title} sheet") for sheet in file.sheets)
    found, asked = len(file.inspection.findings), len(alike_questions(file.inspection.questions))
    named = (
        ("state", "State of the rig"),
        ("cautions", "Cautions"),
        ("drawing", "Drawing"),
        ("findings", f"Findings ({found})"),
        ("questions", f"Questions ({asked})"),
        ("calculation", "Calculation sheet"),
        *sheets,
        ("limits", "Limits used"),
        ("signing", "Sign-off"),
        ("origins", "Made from"),
    )
    links = listed(tag("a", shown(title), href=f"#{anchor}") for anchor, title in named)
    return tag("nav", links, aria_label="Contents")


def _sections(file: RigFile) -> list[str]:
    numbers = file.calculation.numbers()
    return [
        state_section(file),
        cautions_section(),
        drawing_section(file.rig, file.inspection),
        findings_section(file.inspection, numbers),
        questions_section(file.inspection, numbers),
        calculation_section(file.calculation),
        *(sheet_section(sheet) for sheet in file.sheets),
        limits_section(file),
        signing_section(),
        origins_section(file),
    ]
