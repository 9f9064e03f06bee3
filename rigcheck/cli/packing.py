"""The pack that a command works with: what ships, and the user's own folders on top."""

from __future__ import annotations

from argparse import Namespace
from datetime import date

from rigcheck.cli.console import ProblemFound
from rigcheck.data import rules_folder
from rigcheck.rules.pack import Pack, load_pack

__all__ = ["chosen_day", "chosen_pack"]


def chosen_pack(parsed: Namespace) -> Pack:
    """Return the pack of the command line. Raises `Refused`, or `ProblemFound` for a bad folder."""
    try:
        return load_pack(rules_folder(), *parsed.rules)
    except OSError as error:
        raise ProblemFound(f"the rules cannot be read: {error}.") from None


def chosen_day(parsed: Namespace) -> int:
    """Return the day of the command line, or today, as a day number."""
    return (parsed.day or date.today()).toordinal()
