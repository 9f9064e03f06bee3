"""The measured widths of letters, held against the font metrics that Adobe published of Helvetica.

Outside: the Core 14 AFM metrics as they lie in reportlab. Arial and Liberation Sans were drawn to these widths; four
signs of Arial and Liberation Sans are set otherwise.
"""

from __future__ import annotations

import pytest
from reportlab.pdfbase.pdfmetrics import stringWidth

from rigcheck.report.drawing.letter_widths import all_measured, text_width

_LATIN = [chr(code) for code in (*range(0x20, 0x7F), *range(0xA1, 0x100)) if code != 0xAD]
_SET_OTHERWISE = "±÷µ¯"  # the wider of both is in the table, but for a macron, which nobody writes alone


@pytest.mark.parametrize(("face", "bold"), [("Helvetica", False), ("Helvetica-Bold", True)])
def test_every_letter_of_latin_1_is_as_wide_as_in_helvetica(face: str, bold: bool) -> None:
    plain = [letter for letter in _LATIN if letter not in _SET_OTHERWISE]
    off = {
        letter: (text_width(letter, 1000, bold=bold), stringWidth(letter, face, 1000))
        for letter in plain
        if abs(text_width(letter, 1000, bold=bold) - stringWidth(letter, face, 1000)) > 2
    }
    assert off == {}
    assert all_measured("".join(_LATIN), bold=bold)


@pytest.mark.parametrize(("face", "bold"), [("Helvetica", False), ("Helvetica-Bold", True)])
@pytest.mark.parametrize("letter", _SET_OTHERWISE)
def test_a_sign_that_is_set_otherwise_is_reckoned_no_narrower(face: str, bold: bool, letter: str) -> None:
    assert text_width(letter, 1000, bold=bold) >= stringWidth(letter, face, 1000) - 2


@pytest.mark.parametrize("text", ["acetylene regulator", "19.5 ± 1 deg from vertical", "set to 0.3 bar", "Ø 8 mm"])
def test_a_row_is_as_wide_as_its_letters_together(text: str) -> None:
    if "±" not in text:
        assert text_width(text, 10.0) == pytest.approx(stringWidth(text, "Helvetica", 10.0), rel=0.002)
    assert text_width(text, 20.0, bold=True) == pytest.approx(2 * text_width(text, 10.0, bold=True))


def test_letters_that_were_not_measured_are_reckoned_wide_and_given_no_length() -> None:
    assert text_width("漢", 10.0) == 11.0 and not all_measured("漢")
    assert text_width("e\u0301", 10.0) == text_width("e", 10.0)
