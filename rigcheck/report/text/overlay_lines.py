"""What was laid on top of the rules that ship, as lines of a heading."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigcheck.report.text.layout import Line, labelled
from rigcheck.rules.overlay import Laid, overlay_rows

__all__ = ["overlay_lines"]


def overlay_lines(laid: Iterable[Laid], width: int, column: int) -> Iterator[Line]:
    """Yield each change that may bend a verdict, and in short what else a folder brings."""
    for label, text in overlay_rows(laid):
        yield from labelled(label, text, width, column=column, style="stress")
