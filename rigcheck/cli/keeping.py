"""What `--output` may write over: nothing, or an earlier report of the same kind."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from rigcheck.cli.console import ProblemFound

__all__ = ["keep_others"]

_LOOKED_AT = 200  # bytes; every report says at its very beginning what it is


def keep_others(output: Path, inputs: Iterable[str], beginnings: tuple[str, ...]) -> None:
    """Refuse to write over an input, or over a file that does not begin as our own reports do.

    `inputs`: the files that were read, `-` for standard input. Raises `ProblemFound`.
    """
    if any(_same(output, name) for name in inputs):
        raise ProblemFound(f"{output} is one of the rigs; write the report somewhere else.")
    if output.is_file() and output.stat().st_size and not _start(output).startswith(beginnings):
        raise ProblemFound(f"{output} exists and is no report of rigcheck; take it away or name another file.")


def _same(output: Path, name: str) -> bool:
    try:
        return name != "-" and output.samefile(name)
    except OSError:  # one of them is not there
        return False


def _start(output: Path) -> str:
    try:
        with output.open("rb") as file:
            return file.read(_LOOKED_AT).decode("utf-8", "replace")
    except OSError as error:
        raise ProblemFound(f"{output} cannot be read: {error.strerror or error}.") from None
