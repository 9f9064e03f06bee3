"""One command, its exit code, and no traceback, whatever goes wrong."""

from __future__ import annotations

import io
import signal
import sys
from argparse import Namespace
from collections.abc import Sequence
from importlib import import_module

from rigcheck.cli.arguments import build_parser
from rigcheck.cli.console import ProblemFound, complain, let_go
from rigcheck.text.faults import Refused

__all__ = ["main"]

_UNREADABLE = 2
_INTERRUPTED = 128 + signal.SIGINT
_PIPE_CLOSED = 128 + 13  # as a shell tells of a command that SIGPIPE ended


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    if isinstance(sys.stdout, io.TextIOWrapper):  # a screen may lack a letter that a report needs
        sys.stdout.reconfigure(errors="backslashreplace")
    parsed = Namespace()
    try:
        given = sys.argv[1:] if arguments is None else arguments
        build_parser(given[0] if given else None).parse_args(given, parsed)
        return _flushed(_run(parsed.command, parsed))
    except SystemExit as stopped:  # help was shown, or arguments were wrong, or a signal ended the run
        return _flushed(stopped.code if isinstance(stopped.code, int) else _UNREADABLE)
    except BaseException as error:
        return _told(error, parsed)


def _flushed(code: int) -> int:
    """Return the exit code once all that was shown is really out."""
    try:
        sys.stdout.flush()
    except OSError as error:
        return _stream_failed(error)
    return code


def _told(error: BaseException, parsed: Namespace) -> int:
    """Say what ended a command, and return its exit code."""
    match error:
        case KeyboardInterrupt():
            return _INTERRUPTED
        case Refused():
            complain(*map(str, error.faults))
        case ProblemFound():
            complain(str(error))
        case OSError():
            return _stream_failed(error)
        case Exception():
            _complain_of_itself(error, parsed)
        case _:
            raise error
    return _flushed(_UNREADABLE)


def _stream_failed(error: OSError) -> int:
    """Files are told of where they are opened: what is left is standard output, closed, full or without a reader."""
    let_go(sys.stdout)
    if isinstance(error, BrokenPipeError):
        return _PIPE_CLOSED
    complain(f"{error.filename or 'standard output'} cannot be written: {error.strerror or error}.")
    return _UNREADABLE


def _complain_of_itself(error: Exception, parsed: Namespace) -> None:
    from rigcheck.cli.failure import own_failure  # no run should need it

    given = vars(parsed)
    named = (given.get(key) for key in ("rig", "paths", "before", "after", "template", "file"))
    files = [str(one) for value in named if value for one in (value if isinstance(value, list) else [value])]
    about = ", ".join(files) or given.get("command", "rigcheck")
    complain(f"{about}: {own_failure(error)} Please report this line, with the file.")


def _run(command: str, parsed: Namespace) -> int:
    """Run a command; its module is imported only now: `inspect` starts without what the others need."""
    if command == "completion":
        return _completion(parsed)
    return int(import_module(f"rigcheck.cli.commands.{command}").run(parsed))


def _completion(parsed: Namespace) -> int:
    from rigcheck.cli.completion import shell_completion

    sys.stdout.write(shell_completion(parsed.shell))
    return 0
