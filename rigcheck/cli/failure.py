"""What stopped the work on a file, as faults of that file: also a failure of rigcheck itself."""

from __future__ import annotations

import os
import sys
import traceback

from rigcheck.cli.inputs import shown_name, unreadable
from rigcheck.text.faults import Fault, Refused
from rigcheck.text.place import Place

__all__ = ["faults_of", "own_failure"]

_PACKAGE = os.path.dirname(os.path.dirname(os.path.abspath(__file__))) + os.sep


def faults_of(name: str, error: Exception) -> tuple[Fault, ...]:
    """Return what is wrong with a file, by the error that the work on it ended with."""
    if isinstance(error, Refused):
        return error.faults
    if isinstance(error, OSError):
        return (unreadable(name, error),)
    return (Fault(Place(shown_name(name), 1, 1), own_failure(error), "Please report this line, with the file."),)


def own_failure(error: Exception) -> str:
    """Return in one sentence what failed in rigcheck, and where; `python -X dev` shows the traceback too."""
    if sys.flags.dev_mode:
        traceback.print_exception(error)
    said = " ".join(str(error).split())
    return f"rigcheck itself failed here ({type(error).__name__} in {_where(error)}{': ' if said else ''}{said[:200]})."


def _where(error: Exception) -> str:
    """Return the last place in this package that the error went through."""
    frames = traceback.extract_tb(error.__traceback__)
    own = [frame for frame in frames if frame.filename.startswith(_PACKAGE)]
    return f"{own[-1].filename.removeprefix(_PACKAGE)}:{own[-1].lineno}" if own else "its libraries"
