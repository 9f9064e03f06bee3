"""Runs of every command on made-up files, each watched for a traceback, its time and the size of what it tells."""

from __future__ import annotations

import gc
import io
import os
import random
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import chdir, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from time import process_time

from rigcheck.cli.main import main
from rigcheck.rules.pack import Pack
from support.fuzz_grammar import KINDS, Grammar, commands

__all__ = ["Ran", "runs"]

_OWN_FAILURE = "Please report this line"  # how the one place at the top tells of what it did not expect


@dataclass(frozen=True, slots=True)
class Ran:
    """One run: `wrong` is a traceback or an exit code that no command has."""

    number: int
    kind: str
    command: list[str]
    seconds: float
    size: int
    wrong: str


def runs(pack: Pack, seed: int, numbers: Iterator[int]) -> Iterator[list[Ran]]:
    """Yield what every command does with one input after another; seed and number name an input."""
    with tempfile.TemporaryDirectory() as folder, chdir(folder):
        for number in numbers:
            if number % 64 == 0:  # a command, which is a process elsewhere, freezes what is there when its work begins
                gc.unfreeze()
                gc.collect()
            dice = random.Random(f"{seed}/{number}")
            kind = KINDS[number % len(KINDS)]
            _lay(Grammar(pack, dice).files(kind))
            yield [_run(number, kind, command) for command in commands(kind, dice)]
            if number % 64 == 0:  # a command keeps its rules for good: it ends soon, and this does not
                gc.unfreeze()
                gc.collect()


def _lay(files: dict[str, bytes]) -> None:
    for one in os.listdir():
        shutil.rmtree(one) if os.path.isdir(one) else os.remove(one)
    for name, data in files.items():
        path = Path(name)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)


def _run(number: int, kind: str, command: list[str]) -> Ran:
    out, err, began = io.StringIO(), io.StringIO(), process_time()
    try:
        with redirect_stdout(out), redirect_stderr(err):
            code: object = main(command)
        told = out.getvalue() + err.getvalue()
        failed = [line for line in told.splitlines() if _OWN_FAILURE in line]
        wrong = failed[0] if failed else "" if code in (0, 1, 2, 3) else f"exit code {code}"
    except BaseException as error:
        if isinstance(error, KeyboardInterrupt):
            raise
        wrong = repr(error)
    return Ran(number, kind, command, process_time() - began, len(out.getvalue()), wrong)
