"""A sheet as one HTML file to be printed on A4 in black and white; it loads nothing and runs nothing."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from itertools import groupby

from rigcheck.procedure.sheet import Sheet, SheetRow, SheetValue
from rigcheck.quantity.wording import shown_day
from rigcheck.report.sheet.sheet_words import (
    SHEET_CAUTION,
    SIGN_OFF,
    first_words,
    if_so_words,
    not_needed,
    state_words,
)

__all__ = ["HTML_HEAD", "sheet_html"]

HTML_HEAD = '<!DOCTYPE html>\n<html lang="en">\n<!-- rigcheck sheet -->\n'
_POLICY = "default-src 'none'; style-src 'unsafe-inline'"
_COLUMNS = (
    '<tr><th class="box"></th><th class="no"></th><th class="do">Do</th>'
    '<th class="write">Write down</th><th class="why">Because</th></tr>'
)
_STYLE = """
@page { size: A4; margin: 7mm 7mm 6mm 9mm; }
* { box-sizing: border-box; }
body { font: 9.5pt/1.17 "Liberation Sans", Arial, Helvetica, sans-serif; color: #000; background: #fff;
  margin: 0 auto; max-width: 194mm; }
h1 { font-size: 17pt; line-height: 1.05; margin: 0; }
header { display: flex; justify-content: space-between; align-items: flex-end; gap: 6mm;
  border-bottom: 2.2pt solid #000; padding-bottom: .6mm; }
header p { margin: 0; text-align: right; font-size: 8.5pt; overflow-wrap: anywhere; }
.means { margin: .7mm 0 0; font-size: 8.5pt; }
.cautions { border: 1.6pt solid #000; padding: .6mm 2mm; margin: 1mm 0; font-weight: bold; font-size: 9pt; }
.cautions ul { margin: 0; padding-left: 4mm; columns: 2; column-gap: 7mm; }
.cautions li { break-inside: avoid; }
.hold { background: #000; color: #fff; padding: .8mm 2mm; margin: 1mm 0 0; font-weight: bold;
  print-color-adjust: exact; -webkit-print-color-adjust: exact; }
table { border-collapse: collapse; width: 100%; table-layout: fixed; }
thead { display: table-header-group; }
th { text-align: left; font-size: 7.5pt; line-height: 1; padding: 0 1.2mm .4mm; border-bottom: 1pt solid #000; }
td { vertical-align: top; padding: .5mm 1.1mm; border-bottom: .5pt solid #000; overflow-wrap: anywhere; }
tr { break-inside: avoid; }
.box { width: 6.4mm; padding-left: .2mm; padding-right: 0; }
td.box i { display: block; width: 5.4mm; height: 5.4mm; border: 1.3pt solid #000; }
.no { width: 7.2mm; padding-left: 0; }
td.no { font-size: 12pt; font-weight: bold; text-align: right; }
td.do { font-size: 10.5pt; }
.write { width: 37mm; }
.why { width: 42mm; }
td.why { font-size: 7.6pt; line-height: 1.1; }
.stand { display: block; font-size: 8.3pt; }
.if { display: block; font-style: italic; font-size: 8.3pt; }
.value { display: flex; justify-content: space-between; align-items: flex-end; gap: 1mm; font-size: 8.5pt; }
.value + .value { margin-top: .6mm; }
.value b { font-size: 9pt; }
.blank { flex: none; width: 15mm; height: 5.4mm; border: .8pt solid #000; }
.choices { display: block; font-size: 9pt; }
.choice { white-space: nowrap; margin-right: 1.6mm; }
.choice i { display: inline-block; width: 3mm; height: 3mm; border: .9pt solid #000; vertical-align: -.3mm; }
b.word { letter-spacing: .03em; }
b.danger { background: #000; color: #fff; padding: 0 .8mm;
  print-color-adjust: exact; -webkit-print-color-adjust: exact; }
.not { font-size: 7.5pt; line-height: 1.12; margin: 1mm 0 0; }
.sign { display: flex; gap: 4mm; break-inside: avoid; }
.sign div { flex: 1; border-top: .8pt solid #000; padding-top: .4mm; font-size: 8pt; margin-top: 7mm; }
footer { font-size: 7pt; margin-top: .6mm; overflow-wrap: anywhere; }
@media screen { body { padding: 8mm 4mm; } }
"""


def sheet_html(sheet: Sheet) -> str:
    """Return a sheet as HTML; whatever a user wrote is escaped."""
    return HTML_HEAD + "\n".join(_lines(sheet)) + "\n</body>\n</html>\n"


def _lines(sheet: Sheet) -> Iterator[str]:
    title = _safe(f"{sheet.title}: {sheet.rig}")
    yield f'<head>\n<meta charset="utf-8">\n<meta http-equiv="Content-Security-Policy" content="{_POLICY}">'
    yield f"<title>{title}</title>\n<style>{_STYLE}</style>\n</head>\n<body>"
    yield from _heading(sheet)
    yield from _cautions(sheet)
    yield f"<table>\n<thead>{_COLUMNS}</thead>\n<tbody>"
    stood = None
    for _, group in groupby(sheet.rows, key=lambda row: row.step):
        rows = list(group)
        same = stood is not None and bool(stood.stand) and stood.stand == rows[0].stand
        yield from _rows(rows, f"as in step {stood.number}." if same and stood else rows[0].stand)
        stood = stood if same else rows[0]
    yield "</tbody>\n</table>"
    yield from _foot(sheet)


def _heading(sheet: Sheet) -> Iterator[str]:
    day = shown_day(sheet.day)
    named = sheet.local_code if sheet.code_stated else f"{sheet.local_code}, none stated"
    yield f"<header><h1>{_safe(sheet.title)}</h1><p><b>{_safe(sheet.rig)}</b><br>"
    yield f"made for {day} · local code {_safe(named)}</p></header>"
    yield f'<p class="means">{_safe(sheet.means)}</p>'


def _cautions(sheet: Sheet) -> Iterator[str]:
    if sheet.state == "on hold":
        yield f'<p class="hold">{_safe(state_words(sheet))}</p>'
    else:
        yield f'<p class="means">{_safe(state_words(sheet))}</p>'
    told = [*first_words(sheet), *sheet.cautions, SHEET_CAUTION]
    yield f'<div class="cautions"><ul>{"".join(f"<li>{_safe(one)}</li>" for one in told)}</ul></div>'


def _rows(rows: list[SheetRow], stand: str) -> Iterator[str]:
    """Yield the rows of one step; where to stand and what it prevents are said once for all of them."""
    for number, row in enumerate(rows):
        yield f'<tr><td class="box"><i></i></td><td class="no">{row.number}</td>'
        yield f'<td class="do">{_do(row, "" if number else stand)}</td>'
        yield f'<td class="write">{_values(row)}</td>'
        yield f'<td class="why" rowspan="{len(rows)}">{_why(row)}</td></tr>' if number == 0 else "</tr>"


def _do(row: SheetRow, stand: str) -> str:
    told = _safe(row.do)
    if row.if_so or row.optional:
        told += f' <span class="if">{_safe(if_so_words(row))}</span>'
    if stand:
        told += f' <span class="stand"><b>Stand:</b> {_safe(stand)}</span>'
    return told


def _why(row: SheetRow) -> str:
    return f'<b class="word {row.signal}">{row.signal.upper()}</b> {_safe(row.hazard)}'


def _values(row: SheetRow) -> str:
    """Return what is to be written; a choice that stands alone needs no name, unless all of it is right."""
    return "".join(_value(value, named=len(row.values) > 1 or not value.required) for value in row.values)


def _value(value: SheetValue, *, named: bool) -> str:
    if value.choices:
        good = value.required.replace(" or ", ", ").split(", ")
        boxes = " ".join(f'<span class="choice"><i></i> {_choice(word, word in good)}</span>' for word in value.choices)
        name = f"{_safe(_spoken(value.name))}: " if named else ""
        return f'<div class="choices">{name}{boxes}</div>'
    need = f"<br>{_safe(value.required)}" if value.required else ""
    return f'<div class="value"><span>{_safe(_spoken(value.name))}{need}</span><span class="blank"></span></div>'


def _choice(word: str, good: bool) -> str:
    return f"<b>{_safe(word)}</b>" if good else _safe(word)


def _spoken(name: str) -> str:
    return name.replace("_", " ")


def _foot(sheet: Sheet) -> Iterator[str]:
    if sheet.left_out:
        told = " ".join(f"<b>·</b> {_safe(text)}" for text in not_needed(sheet))
        yield f'<p class="not"><b>Does not apply to this rig:</b> {told}</p>'
    roles = "".join(f"<div>{role} (role), time, signed</div>" for role in SIGN_OFF)
    yield f'<div class="sign">{roles}</div>'
    yield f"<footer>{_safe(sheet.file)} · rules {_safe(sheet.pack[:12])}</footer>"


def _safe(text: str) -> str:
    """Return text that HTML shows as it is, with nothing that turns or hides letters."""
    return escape("".join(letter if letter.isprintable() else "?" for letter in text), quote=True)
