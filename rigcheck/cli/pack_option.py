"""The pack that a command works with: what ships, and the user's own folders on top."""

from __future__ import annotations

import gc
from argparse import Namespace
from datetime import date
from pathlib import Path

from rigcheck.cli.console import ProblemFound, complain
from rigcheck.rules.folders import rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack

__all__ = ["chosen_day", "chosen_pack", "pack_folders"]


def chosen_pack(parsed: Namespace) -> Pack:
    """Return the pack of the command line. Raises `Refused`, or `ProblemFound` for a bad folder."""
    gc.disable()  # all of a pack stays: sweeping it while it is made takes longer than making it
    try:
        return load_pack(*pack_folders(parsed), tell=complain)
    except OSError as error:
        at = f"{error.filename}: {error.strerror}" if error.filename else str(error)
        raise ProblemFound(f"the rules cannot be read: {at}.") from None
    finally:
        gc.freeze()
        gc.enable()


def pack_folders(parsed: Namespace) -> list[Path]:
    """Return the folders of rules in the order in which they are laid on each other."""
    return [rules_folder(), *parsed.rules]


def chosen_day(parsed: Namespace) -> int:
    """Return the day of the command line, or today, as a day number."""
    return (parsed.day or date.today()).toordinal()
