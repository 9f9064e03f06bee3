"""Run every command on made-up files of every kind for as long as is asked for, and say what went wrong.

    python tests/fuzz/run.py --minutes 60 [--seed 1] [--from 0]

Prints inputs, tracebacks, what took longest and what told most. By hand: `tests/laws/test_fuzz_commands.py` runs a few.
"""

from __future__ import annotations

import argparse
import itertools
import sys
import time
from pathlib import Path

_ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(_ROOT), str(_ROOT / "tests")]

from support.fuzz_run import Ran, runs  # noqa: E402

from rigcheck.cli import pack_option  # noqa: E402
from rigcheck.rules.folders import rules_folder  # noqa: E402
from rigcheck.rules.load import load_pack  # noqa: E402

_SLOW, _LARGE = 2.0, 2_000_000


def _main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--minutes", type=float, default=1.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--from", type=int, default=0, dest="first")
    given = parser.parse_args()
    pack = load_pack(rules_folder())
    pack_option.load_pack = lambda *folders, **more: pack if len(folders) == 1 else load_pack(*folders, **more)
    ends, count, last = time.monotonic() + given.minutes * 60, 0, given.first
    slowest: list[Ran] = []
    largest: list[Ran] = []
    wrong: list[Ran] = []
    over = 0
    for ran in runs(pack, given.seed, itertools.count(given.first)):
        count, last = count + 1, ran.number
        over += ran.seconds > _SLOW or ran.size > _LARGE
        slowest = sorted([*slowest, ran], key=lambda one: -one.seconds)[:5]
        largest = sorted([*largest, ran], key=lambda one: -one.size)[:5]
        if ran.wrong:
            wrong.append(ran)
            print(f"WRONG {given.seed}/{ran.number} {ran.kind}: {' '.join(ran.command)}: {ran.wrong}", flush=True)
        if count % 10_000 == 0:
            print(f"{count} runs, inputs to {last}, {over} over the bounds", flush=True)
        if time.monotonic() > ends:
            break
    print(f"{count} runs on inputs {given.first} to {last}; tracebacks {len(wrong)}")
    print(f"over {_SLOW} s or {_LARGE:,} B: {over}")
    for title, worst in (("slowest", slowest), ("largest", largest)):
        for ran in worst:
            print(f"{title}: {ran.number} {ran.kind} {ran.seconds:.2f} s {ran.size:,} B: {' '.join(ran.command)}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(_main())
