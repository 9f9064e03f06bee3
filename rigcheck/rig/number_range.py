"""What a stated number can mean: its least and its greatest value, and where it mostly lies."""

from __future__ import annotations

from typing import NamedTuple

from rigcheck.quantity.interval import Interval
from rigcheck.quantity.notation import NotRead, read_day, read_quantity
from rigcheck.rig.vocabulary_file import FactEntry
from rigcheck.text.faults import shown_text

__all__ = ["NumberRange", "number_range", "size_of"]


class NumberRange(NamedTuple):
    """The ends between which a number must lie, and those between which it mostly does; an end may be left open."""

    least: Interval | None
    greatest: Interval | None
    usual: tuple[Interval, Interval] | None
    whole: bool

    def refuse_beyond(self, value: Interval, text: str) -> None:
        """Raise `NotRead` where either end of a value is no number that can be meant."""
        for end, least, beyond in ((self.least, True, "less"), (self.greatest, False, "more")):
            if end is None or not _beyond(value, end, below=least):
                continue
            wrong = (value.hi < end.lo) if least else (value.lo > end.hi)
            said = f"is {beyond} than {end.text}" if wrong else f"reaches beyond {end.text}"
            raise NotRead(f"{shown_text(text)} {said}, which cannot be meant.", self._advice())
        if self.whole and (value.lo % 1 or value.hi % 1):
            raise NotRead(f"{shown_text(text)} is no whole number.", self._advice())

    def is_usual(self, value: Interval) -> bool:
        """Whether both ends of a value lie where such numbers mostly lie."""
        if self.usual is None:
            return True
        low, high = self.usual
        return not _beyond(value, low, below=True) and not _beyond(value, high, below=False)

    def _advice(self) -> str:
        number = "a whole number" if self.whole else "a value"
        ends = [f"from {self.least.text}" if self.least else "", f"to {self.greatest.text}" if self.greatest else ""]
        return f"Look at the number and its unit, and write {number} {' '.join(filter(None, ends))}.".replace(" .", ".")


def number_range(entry: FactEntry) -> NumberRange | None:
    """Return the ends of a fact's numbers, or None where it has none. Raises `NotRead` for ends that are no numbers."""
    if not (entry.least or entry.greatest or entry.likely or entry.whole):
        return None
    least, greatest = (_end(text, entry) if text else None for text in (entry.least, entry.greatest))
    usual = (_end(entry.likely[0], entry), _end(entry.likely[1], entry)) if entry.likely else None
    return NumberRange(least, greatest, usual, entry.whole)


def _end(text: str, entry: FactEntry) -> Interval:
    assert entry.measure is not None
    return read_day(text) if entry.measure == "day" else read_quantity(text, entry.measure)


def size_of(value: Interval) -> Interval:
    """Return a value without its sign, which says the direction: -25 deg is 25 deg the other way."""
    if value.lo >= 0.0:
        return value
    sizes = sorted((abs(value.lo), abs(value.hi)))
    least = sizes[0] if value.hi < 0.0 else 0.0
    return Interval(least, sizes[1], value.dimension, value.text, value.unit, value.grain)


def _beyond(value: Interval, end: Interval, *, below: bool) -> bool:
    slack = 0.0 if value.unit == end.unit else max(value.grain, end.grain)
    return value.lo < end.lo - slack if below else value.hi > end.hi + slack
