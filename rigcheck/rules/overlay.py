"""What a folder that is laid on top changes: one list, which every report carries."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Literal

from msgspec import Struct

__all__ = ["How", "Laid", "overlay_rows", "overlay_words"]

How = Literal["added", "tightened", "changed", "loosened"]
"""What is changed could be laxer, as nobody can tell by comparing two conditions: so it needs a reason, as what is."""


class Laid(Struct, frozen=True):
    """One thing that a folder brings: its sort ('limit', 'rule', 'fact' …), its name, and the folder's own reason.

    `told`: what it is now and what it was before, where a few words can say so; `file`: where it is written.
    """

    sort: str
    name: str
    how: How
    folder: str
    file: str
    told: str = ""
    because: str = ""

    @property
    def bends(self) -> bool:
        """Whether it may turn a finding or a question into none."""
        return self.how in ("changed", "loosened") or self.sort == "consequence"  # it answers what was open

    @property
    def words(self) -> str:
        """What was laid on top, in words."""
        told = f": {self.told}" if self.told else ""
        because = f", because: {self.because}" if self.because else ""
        return f"{self.sort} {self.name}{told}{because} ({self.file})"


def overlay_rows(laid: Iterable[Laid]) -> Iterator[tuple[str, str]]:
    """Yield a label and a text for each change that may bend a verdict, and one for what else a folder brings."""
    more: Counter[tuple[str, str, str]] = Counter()
    for one in laid:
        if one.bends:
            yield one.how, one.words
        else:
            more[one.folder, one.how, one.sort] += 1
    for folder in dict.fromkeys(folder for folder, _, _ in more):
        told = [f"{_counted(count, sort)} {how}" for (at, how, sort), count in more.items() if at == folder]
        yield "laid on", f"{folder}: {', '.join(told)}"


def overlay_words(laid: Iterable[Laid]) -> tuple[str, ...]:
    """Return the same as sentences, for forms without labels."""
    return tuple(f"{label.capitalize()}: {text}." for label, text in overlay_rows(laid))


def _counted(count: int, sort: str) -> str:
    return f"{count} {sort}{'' if count == 1 else 's'}"
