"""Entry point: one command, its exit code, and no traceback for what a user did."""

from __future__ import annotations

import io
import os
import signal
import sys
from argparse import Namespace
from collections.abc import Sequence
from importlib import import_module

from rigcheck.cli.arguments import build_parser
from rigcheck.cli.console import ProblemFound, complain
from rigcheck.text.faults import Refused

__all__ = ["main"]

_UNREADABLE = 2
_INTERRUPTED = 128 + signal.SIGINT


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    if isinstance(sys.stdout, io.TextIOWrapper):  # a screen may lack a letter that a report needs
        sys.stdout.reconfigure(errors="backslashreplace")
    parsed = build_parser().parse_args(arguments)
    try:
        code = _run(parsed.command, parsed)
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


def _run(command: str, parsed: Namespace) -> int:
    """Run a command; its module is imported only now: `inspect` starts without what the others need."""
    if command == "completion":
        return _completion(parsed)
    return int(import_module(f"rigcheck.cli.commands.{command}").run(parsed))


def _completion(parsed: Namespace) -> int:
    import shtab

    sys.stdout.write(shtab.complete(build_parser(), parsed.shell) + "\n")
    return 0
