"""Times of day as a record notes them."""

from __future__ import annotations

import re

from rigcheck.quantity.notation import NotRead, read_day
from rigcheck.text.faults import shown_text

__all__ = ["clock_words", "read_clock"]

_CLOCK = re.compile(r"(?:(?P<day>\d{4}-\d{2}-\d{2})[ T])?(?P<h>[01]?\d|2[0-3]):(?P<m>[0-5]\d)(?::(?P<s>[0-5]\d))?")
_DAY = 86_400


def read_clock(text: str, day: int) -> int:
    """Return a time of day in seconds from the start of `day` (a day number).

    A time that belongs to another day is written with it: '2026-11-25 00:10'. Raises `NotRead`.
    """
    match = _CLOCK.fullmatch(text.strip())
    if match is None:
        raise NotRead(f"{shown_text(text)} is no time of day.", 'Write it in quotes, as "07:31" or "07:31:30".')
    days = int(read_day(match["day"]).lo) - day if match["day"] else 0
    return days * _DAY + int(match["h"]) * 3600 + int(match["m"]) * 60 + int(match["s"] or 0)


def clock_words(seconds: int) -> str:
    """Return a time of day as it is written, with the seconds where there are any."""
    hours, rest = divmod(seconds % _DAY, 3600)
    minutes, left = divmod(rest, 60)
    return f"{hours:02}:{minutes:02}" + (f":{left:02}" if left else "")
