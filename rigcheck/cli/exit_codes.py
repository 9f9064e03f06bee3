"""Exit codes of a run over many rigs: what was found is one bit, what could not be read another."""

from __future__ import annotations

from collections.abc import Iterable

from rigcheck.cli.console import complain
from rigcheck.quantity.wording import counted
from rigcheck.text.faults import Fault

__all__ = ["exit_code", "told_unread"]

_FOUND, _UNREAD = 1, 2


def exit_code(found: int, called: str, unread: int) -> int:
    """Return 0, 1 where something was found, 2 where files were not read, 3 for both, which standard error tells apart.

    `called`: what those that were found are, as 'on hold'.
    """
    code = _FOUND * bool(found) + _UNREAD * bool(unread)
    if found and unread:
        complain(f"exit code {code}: {found} {called}, and {counted(unread, 'file')} not read, or only in part.")
    return code


def told_unread(unread: Iterable[Fault]) -> int:
    """Say what of a rig could not be read and is left out of all that is made of it; return 2 where there is any."""
    faults = tuple(unread)
    complain(*map(str, faults))
    return _UNREAD * bool(faults)
