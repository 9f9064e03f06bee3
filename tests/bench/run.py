"""How fast rigcheck is, as ratios to floors that no program of its sort can go below.

Run by hand: `python tests/bench/run.py` (about two minutes; `--files 500` for a quick look).
It measures the package laid out as the wheel lays it out, with the prepared pack, in a temporary
folder. Floors: the same text read by the same C parser into placed values; an interpreter that
imports what every such program imports. One rig is measured in processor time, the others in both
wall clock and processor time: where the two differ by much, the machine was busy with other work.
"""

from __future__ import annotations

import argparse
import gc
import json
import os
import platform
import re
import resource
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

_ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(_ROOT), str(_ROOT / "tests")]

from support.in_full import text_in_full  # noqa: E402
from support.installed import lay_out  # noqa: E402

from rigcheck import inspect_rig, load_pack, load_rig, rules_folder  # noqa: E402
from rigcheck.report.text.inspection_text import inspection_lines  # noqa: E402
from rigcheck.report.text.layout import plain_text  # noqa: E402
from rigcheck.text.yamlfile import read_yaml  # noqa: E402

_RIG = "sites/pipe-loft-brazing"
"""About 200 lines in full statement; the cold start and the many files are measured with it."""
_OTHERS = ("sites/tool-room-welding", "sites/plate-shop-cutting", "templates/oxy-acetylene-cutting")
"""Two gases in full statement; with many findings; with all left open that only the site can say."""
_DAY = date(2026, 11, 25)
_IMPORTS = "import pydantic, yaml, rich.console"


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--files", type=int, default=5_000, help="how many files the run over many has")
    parser.add_argument("--rounds", type=int, default=15, help="how often each start is measured")
    chosen = parser.parse_args()
    print(f"{date.today()}, {_machine()}")
    text = rig_text(_RIG)
    with tempfile.TemporaryDirectory() as folder:
        home = lay_out(Path(folder) / "home")
        floor = one_rig(_RIG)
        for name in _OTHERS:
            one_rig(name)
        cold_start(text, Path(folder), home, chosen.rounds)
        many_files(text, Path(folder), home, chosen.files, floor)


def rig_text(name: str) -> str:
    """Return a rig that ships, a site with all that is on record and said of many things written in it."""
    folder, _, stem = name.partition("/")
    if folder == "sites":
        return text_in_full(stem)
    return (_ROOT / "configs" / f"{name}.yaml").read_text(encoding="utf-8")


def one_rig(name: str) -> float:
    """Print what one rig takes in a warm process; return the floor in seconds."""
    data, pack = rig_text(name).encode(), load_pack(rules_folder())

    def inspect() -> Any:
        return inspect_rig(load_rig(data, "rig.yaml", pack.vocabulary), pack, day=_DAY.toordinal())

    inspection = inspect()
    floor = median_time(lambda: read_yaml(data, "rig.yaml"))
    judged = median_time(inspect)
    told = median_time(lambda: plain_text(inspection_lines(inspect(), 80, hold_at="warning")))
    rules, checks = len(pack.rules), sum(inspection.verdicts.values())
    counts = f"{checks} checks, {len(inspection.findings)} findings, {len(inspection.questions)} questions"
    lines = data.count(b"\n")
    print(f"{name}, {lines} lines by {rules} rules ({counts}):")
    print(f"  floor, read into placed values  {floor * 1e3:8.2f} ms")
    print(f"  read and judged                 {judged * 1e3:8.2f} ms  {judged / floor:5.2f} x floor")
    print(f"  read, judged and told as text   {told * 1e3:8.2f} ms  {told / floor:5.2f} x floor")
    return floor


def median_time(work: Callable[[], object], rounds: int = 60) -> float:
    """Return the median of seconds of processor time that `work` takes."""
    times = []
    gc.collect()
    gc.freeze()
    for _ in range(rounds):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    gc.unfreeze()
    return statistics.median(times)


def cold_start(text: str, folder: Path, home: Path, rounds: int) -> None:
    """Print what starting from nothing takes, the two in turn."""
    rig = folder / "one.yaml"
    rig.write_text(text, encoding="utf-8")
    commands = {
        "floor, import pydantic, yaml, rich": [sys.executable, "-c", _IMPORTS],
        "rigcheck --version": [sys.executable, "-m", "rigcheck", "--version"],
        "rigcheck inspect one.yaml": [sys.executable, "-m", "rigcheck", "inspect", str(rig), "--day", str(_DAY)],
    }
    times: dict[str, list[tuple[float, float]]] = {name: [] for name in commands}
    for turn in range(rounds + 2):
        for name, command in commands.items():
            start, before = time.perf_counter(), children_time()
            subprocess.run(command, cwd=folder, env=environment(home), stdout=subprocess.DEVNULL, check=False)
            if turn > 1:  # the first two write and warm the compiled files
                times[name].append((time.perf_counter() - start, children_time() - before))
    floor = [statistics.median(column) for column in zip(*next(iter(times.values())), strict=True)]
    print(f"cold start, compiled files warm, median of {rounds}:")
    for name, taken in times.items():
        wall, processor = (statistics.median(column) for column in zip(*taken, strict=True))
        print(
            f"  {name:<36}{wall * 1e3:6.0f} ms  {wall / floor[0]:5.2f} x floor; "
            f"processor {processor * 1e3:6.0f} ms  {processor / floor[1]:5.2f} x floor"
        )


def children_time() -> float:
    """Return the seconds of processor time of the processes that ended."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def environment(home: Path) -> dict[str, str]:
    """Return an environment in which the laid-out package is found and compiled files are written."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return kept | {"PYTHONPATH": str(home)}


def many_files(text: str, folder: Path, home: Path, number: int, floor: float) -> None:
    """Print what many files on all cores take, in time and memory."""
    cores = os.cpu_count() or 1
    print(f"many files as JSON on {cores} cores, against floor x files / cores:")
    for count in (number // 10, number):
        rigs = folder / f"rigs-{count}"
        rigs.mkdir()
        for one in range(count):
            (rigs / f"rig-{one:05}.yaml").write_text(text.replace("rig: ", f"rig: {one} ", 1), encoding="utf-8")
        before = children_time()
        taken, largest, total = measured_run(rigs, folder / f"report-{count}.json", home)
        processor = (children_time() - before) / cores
        least = floor * count / cores
        size = (folder / f"report-{count}.json").stat().st_size / 1e6
        print(f"  {count:5} files  {taken:6.2f} s  {taken / least:5.2f} x floor ({least:.2f} s)")
        print(f"    processor {processor:.2f} s a core, {processor / least:.2f} x floor")
        print(f"    largest process {largest:.0f} MB, all together {total:.0f} MB, report {size:.0f} MB")
        report = json.loads((folder / f"report-{count}.json").read_bytes())
        assert report["totals"]["files"] == count
        assert report["totals"]["refused"] == 0


def measured_run(rigs: Path, output: Path, home: Path) -> tuple[float, float, float]:
    """Return the seconds of a run, the memory of its largest process and of all together in MB."""
    command = [sys.executable, "-m", "rigcheck", "inspect", str(rigs), "--format", "json", "--output", str(output)]
    start = time.perf_counter()
    started = subprocess.Popen([*command, "--day", str(_DAY)], cwd=rigs.parent, env=environment(home))
    peaks: list[tuple[float, float]] = []
    watcher = threading.Thread(target=_watch, args=(started.pid, peaks, started))
    watcher.start()
    code = started.wait()
    taken = time.perf_counter() - start
    watcher.join()
    assert code in (0, 1), code
    return taken, max(one for one, _ in peaks), max(every for _, every in peaks)


def _watch(pid: int, peaks: list[tuple[float, float]], started: subprocess.Popen[bytes]) -> None:
    while started.poll() is None:
        sizes = [size for one in _family(pid) if (size := _memory(one))]
        if sizes:
            peaks.append((max(sizes), sum(sizes)))
        time.sleep(0.05)


def _family(pid: int) -> list[int]:
    try:
        children = Path(f"/proc/{pid}/task/{pid}/children").read_text().split()
    except OSError:
        return [pid]
    return [pid] + [one for child in children for one in _family(int(child))]


def _memory(pid: int) -> float:
    """Return the memory of a process in MB, its share of what is shared (Linux: PSS)."""
    try:
        rollup = Path(f"/proc/{pid}/smaps_rollup").read_text()
    except OSError:
        return 0.0
    found = re.search(r"^Pss:\s+(\d+) kB", rollup, re.MULTILINE)
    return int(found[1]) / 1e3 if found else 0.0


def _machine() -> str:
    model = platform.processor() or platform.machine()
    try:
        names = re.findall(r"^model name\s*: (.+)$", Path("/proc/cpuinfo").read_text(), re.MULTILINE)
        memory = int(re.findall(r"^MemTotal:\s+(\d+)", Path("/proc/meminfo").read_text(), re.MULTILINE)[0]) / 1e6
    except OSError:
        return f"{os.cpu_count()} cores, {model}, Python {platform.python_version()}"
    cores = f"{os.cpu_count()} cores of {names[0] if names else model}"
    return f"{cores}, {memory:.0f} GB, Python {platform.python_version()}"


if __name__ == "__main__":
    main()
