"""The form of a report: the one that was asked for, or that the name of the output says."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping

from rigcheck.cli.console import ProblemFound

__all__ = ["chosen_form"]


def chosen_form(parsed: Namespace, endings: Mapping[str, str]) -> str:
    """Return the form of a report, `text` where nothing says another; `endings` of file names say forms.

    Raises `ProblemFound` where the name of the output says another form than `--format`.
    """
    by_name = endings.get(parsed.output.suffix.lower()) if parsed.output is not None else None
    if by_name and parsed.format not in (None, by_name):
        raise ProblemFound(f"{parsed.output} would hold {parsed.format}; name it otherwise, or leave --format out.")
    return str(by_name or parsed.format or "text")
