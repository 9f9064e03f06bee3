"""Text that came from a file, made ready to be shown: on one line, nothing in it that acts unseen."""

from __future__ import annotations

__all__ = ["printable"]


def printable(text: str) -> str:
    """Return text on one line; a control character or a mark that turns the writing direction shows as '?'."""
    line = " ".join(text.split())
    return line if line.isprintable() else "".join(letter if letter.isprintable() else "?" for letter in line)
