"""Give made-up inputs of every kind to the readers, and to every command, for as long as is asked for.

    python tests/fuzz/run.py --minutes 60 [--inputs 1000000] [--seed 1] [--from 0] [--whole-every 200]

One input in so many is a whole rig with what lies beside it, run through two commands; the others are small and go to
one reader each, which takes about a hundredth of the time. Prints inputs, what went wrong, what took longest and what
told most. By hand: `tests/laws/test_fuzz_commands.py` and `test_fuzz_readings.py` run a few.
"""

from __future__ import annotations

import argparse
import itertools
import sys
import time
from collections import Counter
from pathlib import Path

_ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(_ROOT), str(_ROOT / "tests")]

from support.fuzz_readings import readings  # noqa: E402
from support.fuzz_run import Ran, runs  # noqa: E402

from rigcheck.cli import pack_option  # noqa: E402
from rigcheck.rules.folders import rules_folder  # noqa: E402
from rigcheck.rules.load import load_pack  # noqa: E402
from rigcheck.rules.pack import Pack  # noqa: E402

_SLOW, _LARGE = 2.0, 2_000_000


class _Count:
    """What came of the inputs so far."""

    def __init__(self, pack: Pack, seed: int, first: int, whole_every: int) -> None:
        self.seed, self.whole_every = seed, whole_every
        self.whole = runs(pack, seed, itertools.count(first // whole_every))
        self.small = readings(pack, seed, itertools.count(first))
        self.tried: Counter[str] = Counter()
        self.wrong = self.over = self.ran = 0
        self.slowest: list[tuple[float, str]] = []
        self.largest: list[tuple[int, str]] = []

    def take(self, number: int) -> None:
        """Try one input."""
        if number % self.whole_every == 0:
            self._take_whole(next(self.whole))
            return
        read = next(self.small)
        self.tried[read.kind] += 1
        self._note(f"small {self.seed}/{read.number} {read.kind}", read.seconds, 0, read.wrong, repr(read.given))

    def _take_whole(self, ran: list[Ran]) -> None:
        self.tried[f"whole: {ran[0].kind}"] += 1
        for one in ran:
            self.ran += 1
            told = f"whole {self.seed}/{one.number} {one.kind}"
            self._note(told, one.seconds, one.size, one.wrong, " ".join(one.command))

    def _note(self, name: str, seconds: float, size: int, wrong: str, given: str) -> None:
        self.over += seconds > _SLOW or size > _LARGE
        self.slowest = sorted([*self.slowest, (seconds, f"{name}: {given[:200]}")], reverse=True)[:5]
        self.largest = sorted([*self.largest, (size, f"{name}: {given[:200]}")], reverse=True)[:5]
        if wrong:
            self.wrong += 1
            print(f"WRONG {name}: {wrong}: {given[:2_000]}", flush=True)

    def tell(self) -> None:
        """Print where it stands."""
        print(f"{sum(self.tried.values()):,} inputs, {self.ran:,} commands run; wrong: {self.wrong}", flush=True)
        print(f"over {_SLOW} s or {_LARGE:,} B: {self.over}", flush=True)


def _main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--minutes", type=float, default=1.0)
    parser.add_argument("--inputs", type=int, default=sys.maxsize)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--from", type=int, default=0, dest="first")
    parser.add_argument("--whole-every", type=int, default=200)
    given = parser.parse_args()
    pack = load_pack(rules_folder())
    pack_option.load_pack = lambda *folders, **more: pack if len(folders) == 1 else load_pack(*folders, **more)
    count, began = _Count(pack, given.seed, given.first, given.whole_every), time.monotonic()
    for number in itertools.count(given.first):
        count.take(number)
        if (number + 1) % 20_000 == 0:
            count.tell()
        if number + 1 - given.first >= given.inputs or time.monotonic() > began + given.minutes * 60:
            break
    count.tell()
    print(f"{sum(count.tried.values()) / (time.monotonic() - began):.0f} inputs a second")
    print("tried: " + ", ".join(f"{kind} {number:,}" for kind, number in sorted(count.tried.items())))
    for seconds, name in count.slowest:
        print(f"slowest: {seconds:.2f} s {name}")
    for size, name in count.largest:
        print(f"largest: {size:,} B {name}")
    return 1 if count.wrong else 0


if __name__ == "__main__":
    sys.exit(_main())
