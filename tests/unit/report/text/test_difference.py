"""A difference is told row by row, with the blanks that rows begin with and every letter to be seen."""

from __future__ import annotations

from rigcheck.report.text.difference import difference


def test_rows_keep_their_blanks_and_say_whether_they_are_more_or_less() -> None:
    rows = list(difference("a:\n  b: 1\n", "a:\n  b: 1\n    c: 2\n"))
    assert ("+", "    c: 2") in rows
    assert (" ", "  b: 1") in rows
    assert list(difference("a: 1\n", "a: 1\n")) == []


def test_a_letter_that_would_turn_others_round_is_shown_as_its_number() -> None:
    assert ("+", "a: [U+202E]x") in list(difference("", "a: \u202ex\n"))
