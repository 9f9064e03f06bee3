"""The earlier report that a command line names, to compare what is found now with it."""

from __future__ import annotations

from io import TextIOWrapper

from rigcheck.cli.console import ProblemFound
from rigcheck.cli.inputs import shown_name
from rigcheck.report.summary.earlier_report import NoReport, earlier_report
from rigcheck.rules.pack import Pack
from rigcheck.tasks.changes import Changes
from rigcheck.text.source_file import ordinary_file

__all__ = ["read_earlier"]


def read_earlier(name: str, pack: Pack) -> Changes:
    """Return what an earlier report found, with nothing compared yet. Raises `ProblemFound`."""
    try:
        with TextIOWrapper(ordinary_file(name), encoding="utf-8") as file:
            return earlier_report(file, shown_name(name), pack.digest)
    except NoReport as error:
        write = "make one with: rigcheck inspect PATH --format json --output REPORT.json"
        raise ProblemFound(f"{error}; {write}") from None
    except OSError as error:
        raise ProblemFound(f"the report {name} cannot be read: {error.strerror or error}.") from None
