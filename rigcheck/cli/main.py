"""Entry point: one command, its exit code, and no traceback for what a user did."""

from __future__ import annotations

import io
import os
import signal
import sys
from argparse import Namespace
from collections.abc import Callable, Mapping, Sequence

from rigcheck.cli.arguments import build_parser
from rigcheck.cli.console import ProblemFound, complain
from rigcheck.faults import Refused

__all__ = ["main"]

_UNREADABLE = 2
_INTERRUPTED = 128 + signal.SIGINT


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    if isinstance(sys.stdout, io.TextIOWrapper):  # a screen may lack a letter that a report needs
        sys.stdout.reconfigure(errors="backslashreplace")
    parsed = build_parser().parse_args(arguments)
    try:
        code = _COMMANDS[parsed.command](parsed)
        sys.stdout.flush()
        return code
    except BrokenPipeError:
        return _closed_pipe()
    except KeyboardInterrupt:
        return _INTERRUPTED
    except Refused as refused:
        for fault in refused.faults:
            complain(str(fault))
        return _UNREADABLE
    except ProblemFound as problem:
        complain(str(problem))
        return _UNREADABLE


def _closed_pipe() -> int:
    """The reader went away; point the stream elsewhere so that closing it stays quiet."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 0


# Each command is imported when it is called: `inspect` starts without what the others need.


def _inspect(parsed: Namespace) -> int:
    from rigcheck.cli.inspecting import run_inspect

    return run_inspect(parsed)


def _figures(parsed: Namespace) -> int:
    from rigcheck.cli.figuring import run_figures

    return run_figures(parsed)


def _draw(parsed: Namespace) -> int:
    from rigcheck.cli.drawing import run_draw

    return run_draw(parsed)


def _file(parsed: Namespace) -> int:
    from rigcheck.cli.filing import run_file

    return run_file(parsed)


def _sheet(parsed: Namespace) -> int:
    from rigcheck.cli.sheeting import run_sheet

    return run_sheet(parsed)


def _compare(parsed: Namespace) -> int:
    from rigcheck.cli.comparing import run_compare

    return run_compare(parsed)


def _due(parsed: Namespace) -> int:
    from rigcheck.cli.due_listing import run_due

    return run_due(parsed)


def _summary(parsed: Namespace) -> int:
    from rigcheck.cli.overviewing import run_summary

    return run_summary(parsed)


def _rules(parsed: Namespace) -> int:
    from rigcheck.cli.ruling import run_rules

    return run_rules(parsed)


def _new(parsed: Namespace) -> int:
    from rigcheck.cli.starting import run_new

    return run_new(parsed)


def _schema(parsed: Namespace) -> int:
    from rigcheck.cli.schemas import run_schema

    return run_schema(parsed)


def _completion(parsed: Namespace) -> int:
    import shtab

    sys.stdout.write(shtab.complete(build_parser(), parsed.shell) + "\n")
    return 0


_COMMANDS: Mapping[str, Callable[[Namespace], int]] = {
    "inspect": _inspect,
    "figures": _figures,
    "draw": _draw,
    "file": _file,
    "sheet": _sheet,
    "compare": _compare,
    "due": _due,
    "summary": _summary,
    "rules": _rules,
    "new": _new,
    "schema": _schema,
    "completion": _completion,
}
