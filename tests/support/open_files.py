"""Which files another process has open, seen from outside."""

from __future__ import annotations

import os
from pathlib import Path

__all__ = ["nameless_drafts"]


def nameless_drafts(process: int, folder: Path) -> list[int]:
    """Return the size of each file on the disk of a folder that a process writes and that has no name there yet."""
    found = []
    for entry in Path(f"/proc/{process}/fd").glob("*"):
        try:
            if Path(os.readlink(entry)).parent == folder and entry.stat().st_nlink == 0:
                found.append(entry.stat().st_size)
        except OSError:  # it was closed meanwhile
            continue
    return found
