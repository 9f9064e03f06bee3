"""A working in the commissioning file: formula, inputs with place or source, each figure linked to its own working."""

from __future__ import annotations

from rigcheck.facts.explanation import ShownInput, ShownWorking
from rigcheck.report.html.markup import listed, rows, shown, tag
from rigcheck.report.text.working_text import Numbers, input_words

__all__ = ["figure_anchor", "working_markup"]


def figure_anchor(number: int) -> str:
    """Return the id of a figure of the calculation sheet."""
    return f"figure-{number}"


def working_markup(working: ShownWorking, numbers: Numbers) -> str:
    """Return a working as a list of its rows; `numbers` are those of the figures on the sheet."""
    told = [("Formula", shown(working.formula))]
    if working.inputs:
        told.append(("With", listed((_input(one, numbers) for one in working.inputs), "inputs")))
    if working.validity:
        told.append(("Validity", shown(working.validity)))
    if working.source != "stated":
        told.append(("Source", shown(working.source)))
    return rows(told)


def _input(one: ShownInput, numbers: Numbers) -> str:
    told, number = input_words(one, numbers), numbers.get(one.key)
    named = f"figure {number}"
    if number is None or not told.endswith(named):
        return shown(told)
    return f"{shown(told.removesuffix(named))} {tag('a', named, href=f'#{figure_anchor(number)}')}"
