"""How well the sources of the rules and steps are known, as tables for people."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import islice

from rigcheck.report.text.layout import Line, wrapped
from rigcheck.rules.documents import STANDINGS, Standing
from rigcheck.rules.rule import SIGNALS
from rigcheck.tasks.source_shares import WHOSE, Shares, Whose, unread_share

__all__ = ["code_rows", "share_lines"]

_HEADS = ("all", "published", "excerpt", "other text", "memory", "practice", "unread", "in part")
_CODE_HEADS = ("rules", "own", "international", "other countries", "unread")
_FIRST, _COLUMN = 8, 5


def share_lines(rules: Shares, steps: Shares, by_code: Mapping[str, Counter[Whose]], width: int) -> Iterator[Line]:
    """Yield the best standing of each rule and step by signal word, and by local code whose texts rules rest on."""
    yield from _by_signal("Rules", rules)
    yield Line()
    yield from _by_signal("Steps of procedures", steps)
    yield Line()
    yield Line((("head", "Rules by local code, and the nearest texts that were read for them"),))
    yield _row(["code", *_CODE_HEADS], _CODE_HEADS)
    yield from (_row(row, _CODE_HEADS) for row in islice(code_rows(by_code), 1, None))
    yield Line()
    told = (
        "Each counts once, by its best source: published (the clause was read), excerpt (read in a part of its page), "
        "other text (read where another text repeats it), from memory, common practice. Unread: the share of the last "
        "two. In part: no text that was read supports the whole of it. By local code: texts of its own, international "
        "ones, those of other countries, and rules for which nothing was read."
    )
    yield from wrapped(told, width)


def code_rows(by_code: Mapping[str, Counter[Whose]]) -> Iterator[list[str]]:
    """Yield a table as rows of cells: for each local code its rules, by the texts that they rest on."""
    yield ["code", "rules", *WHOSE]
    for code, counts in by_code.items():
        yield [code, str(counts.total()), *(str(counts[whose]) for whose in WHOSE)]


def _by_signal(title: str, shares: Shares) -> Iterator[Line]:
    yield Line((("head", title),))
    yield _row(["", *_HEADS], _HEADS)
    for signal in SIGNALS:
        yield _row(_cells(signal.upper(), shares.counts[signal], shares.in_part[signal]), _HEADS, style=signal)
    yield _row(_cells("all", shares.of(), sum(shares.in_part.values())), _HEADS)


def _cells(label: str, counts: Counter[Standing], in_part: int) -> list[str]:
    known = [str(counts[standing]) for standing in STANDINGS]
    return [label, str(counts.total()), *known, f"{unread_share(counts):.0%}".replace("%", " %"), str(in_part)]


def _row(cells: Sequence[str], heads: Sequence[str], style: str = "") -> Line:
    first, *rest = cells
    told = (cell.rjust(max(_COLUMN, len(head) + 2)) for cell, head in zip(rest, heads, strict=True))
    return Line(((style, first.ljust(_FIRST)), ("", "".join(told))))
