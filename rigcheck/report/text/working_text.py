"""A working as text: formula, inputs with the place or source of each, validity, source."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rigcheck.facts.explanation import ShownInput, ShownWorking
from rigcheck.report.text.citations import cited
from rigcheck.report.text.layout import Line, labelled

__all__ = ["NO_NUMBERS", "Numbers", "input_words", "working_lines"]

Numbers = Mapping[tuple[str, str], int]
"""The number of each figure on a calculation sheet, by its key."""

NO_NUMBERS: Numbers = {}


def working_lines(
    working: ShownWorking, width: int, *, indent: int, column: int, numbers: Numbers = NO_NUMBERS
) -> Iterator[Line]:
    """Yield a working, labels at `indent`, text from `column` on."""
    for label, text in _rows(working, numbers):
        yield from labelled(" " * indent + label, text, width, column=column, label_style="quiet")


def _rows(working: ShownWorking, numbers: Numbers) -> Iterator[tuple[str, str]]:
    yield "formula", working.formula
    for number, one in enumerate(working.inputs):
        yield "" if number else "with", input_words(one, numbers)
    if working.validity:
        yield "validity", working.validity
    if working.source != "stated":
        yield "source", working.source


def input_words(one: ShownInput, numbers: Numbers) -> str:
    """Return an input with its value and where it comes from."""
    if one.origin == "more":
        return one.value
    if one.fact == "kind":  # the thing itself counts
        return f"{one.symbol}: the {one.thing} at {one.at}"
    head = one.symbol if one.value in ("", one.symbol) else f"{one.symbol} = {one.value}"
    return f"{head}: {_origin_words(one, numbers)}"


def _origin_words(one: ShownInput, numbers: Numbers) -> str:
    whose = f"{one.fact} of the {one.thing}" if one.thing else one.fact
    if one.origin == "limit" and one.limit is not None:
        return f"limit {one.fact} of local code {one.limit.local_code} ({cited(one.limit.sources)})"
    if one.origin == "figure":
        number = numbers.get(one.key)
        return f"{whose}, figure {number}" if number else f"{whose}, see rigcheck figures"
    return {
        "stated": f"{whose}, stated at {one.at}",
        "counted": f"{whose}, from the dates and the order of the parts at {one.at}",
    }.get(one.origin, f"{whose}, from the data of the figure")
