"""Patterns: what ECMA-262 and Python read alike is searched for, and the rest is refused."""

from __future__ import annotations

import pytest

from rigcheck.condition.pattern import ecma_pattern


@pytest.mark.parametrize(
    ("pattern", "text", "found"),
    [
        ("b", "abc", True),  # a pattern is searched for anywhere
        ("^b", "abc", False),
        ("c$", "abc\n", False),  # in Python '$' would match before the last line end
        ("[$]$", "a$", True),
        (r"\$", "a$", True),
        (r"^\d$", "٣", False),  # ASCII digits only
        (r"^\w$", "é", False),
        (r"^\s$", "\u00a0", True),  # every white space of Unicode
        (r"^[\s\d]$", "\u2003", True),
        (r"^\S$", "\ufeff", False),
        (r"\\s", r"a\s", True),
        ("^.$", "\u2028", False),
        ("^[.]$", "x", False),
        (r"^\.$", "x", False),
        ("^(?:a|b)(?=c)", "bc", True),
    ],
)
def test_a_pattern_means_what_ecma_262_says(pattern: str, text: str, found: bool) -> None:
    assert bool(ecma_pattern(pattern).search(text)) is found


@pytest.mark.parametrize(
    "pattern",
    [r"\p{L}", r"\Aa", r"a\Z", "(?i)a", "(?P<a>b)", "a++", "a*+", "[]a]", "[^]", r"[\S]", "a(", "[b-a]", r"\u{61}"],
)
def test_what_the_two_read_differently_is_refused(pattern: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        ecma_pattern(pattern)


def test_a_pattern_is_shown_as_it_was_written() -> None:
    assert ecma_pattern(r"^\s.$").pattern == r"^\s.$"
