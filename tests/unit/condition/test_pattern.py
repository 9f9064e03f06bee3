"""Patterns: what ECMA-262 and Python read alike is searched for, and the rest is refused."""

from __future__ import annotations

from time import process_time

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
        ("^(?:a|b)c", "bc", True),
        (r"^\x41\.$", "A.", True),
        ("^é{2}$", "éé", True),
    ],
)
def test_a_pattern_means_what_ecma_262_says(pattern: str, text: str, found: bool) -> None:
    assert bool(ecma_pattern(pattern).search(text)) is found


@pytest.mark.parametrize(
    "pattern",
    (
        *[
            r"\p{L}",
            r"\Aa",
            r"a\Z",
            "(?i)a",
            "(?P<a>b)",
            "a++",
            "a*+",
            "[]a]",
            "[^]",
            r"[\S]",
            "a(",
            "[b-a]",
            r"\u{61}",
        ],
        *["a(?=b)", "(?<!a)b", r"(a)\1", "(a{1000}){1000}", "[[:alpha:]]", r"\C", r"\Qa\E"],
    ),
)
def test_what_the_two_read_differently_is_refused(pattern: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        ecma_pattern(pattern)


def test_a_pattern_is_shown_as_it_was_written() -> None:
    assert ecma_pattern(r"^\s.$").pattern == r"^\s.$"


@pytest.mark.parametrize("pattern", ["^(a+)+$", "^(a|a)*$", "(a*)*b", "^(?:a?){30}a{30}$", "a*a*a*a*a*a*b"])
def test_no_pattern_takes_longer_than_its_text_is_long(pattern: str) -> None:
    # Cox, "Regular Expression Matching Can Be Simple And Fast" (2007): an engine that goes back takes 2^n steps here.
    began = process_time()
    ecma_pattern(pattern).search("a" * 400 + "!")
    assert process_time() - began < 0.2
