"""Whatever goes wrong, in the rig, in rigcheck or around it: a message and an exit code, never a traceback."""

from __future__ import annotations

import json
import random
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from support.installed import as_installed
from support.sampling import sampled

from rigcheck.cli.main import main
from rigcheck.rig import loader
from rigcheck.rig.thing import Rig
from rigcheck.rig.vocabulary import Vocabulary

pytestmark = pytest.mark.crowd

_ROOT = Path(__file__).parents[2]
_RIG = """\
rig: {name}
lines:
  - {{gas: acetylene, parts: [cylinder, regulator, hose]}}
  - {{gas: oxygen, parts: [cylinder, regulator, hose]}}
torch: {{form: cutting}}
"""
_COMMANDS = {
    "inspect": ("inspect", "rig.yaml"),
    "inspect as JSON": ("inspect", "rig.yaml", "--format", "json"),
    "figures": ("figures", "rig.yaml"),
    "draw": ("draw", "rig.yaml"),
    "file": ("file", "rig.yaml"),
    "sheet": ("sheet", "rig.yaml", "start-up"),
    "procedures": ("sheet", "rig.yaml"),
    "compare": ("compare", "rig.yaml", "rig.yaml"),
    "due": ("due", "rig.yaml"),
    "summary": ("summary", "rig.yaml"),
    "rules list": ("rules", "list", "hoses"),
    "new": ("new",),
    "schema": ("schema", "report"),
    "completion": ("completion", "bash"),
    "help": ("--help",),
    "version": ("--version",),
}
_JUDGING = ["inspect", "figures", "draw", "file", "sheet", "compare", "due", "summary"]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "rig.yaml").write_text(_RIG.format(name="first"))
    return tmp_path


def _shell(command: str, folder: Path, *arguments: str, given: str | None = None) -> subprocess.CompletedProcess[str]:
    """Run rigcheck as `$@` of a line of shell."""
    line = ["bash", "-c", command, "-", sys.executable, "-m", "rigcheck", *arguments]
    environment = as_installed()
    return subprocess.run(
        line, cwd=folder, env=environment, text=True, input=given, capture_output=True, timeout=120, check=False
    )


# --- streams, and the folder ---


@pytest.mark.parametrize("name", sampled(_COMMANDS, 4))
def test_an_output_that_is_full_is_told_of(name: str, folder: Path) -> None:
    done = _shell('"$@" > /dev/full', folder, *_COMMANDS[name])
    assert (done.returncode, done.stderr) == (
        2,
        "rigcheck: standard output cannot be written: No space left on device.\n",
    )


@pytest.mark.parametrize("name", sampled([name for name in _COMMANDS if name not in ("help", "version")], 4))
def test_an_output_that_is_closed_is_told_of(name: str, folder: Path) -> None:
    done = _shell('"$@" >&-', folder, *_COMMANDS[name])
    assert (done.returncode, done.stderr) == (2, "rigcheck: standard output cannot be written: it is closed.\n")


def test_a_closed_output_is_not_needed_where_the_report_goes_to_a_file(folder: Path) -> None:
    done = _shell('"$@" >&- 2>&- <&-', folder, "inspect", "rig.yaml", "--output", "report.txt")
    assert (done.returncode, done.stderr) == (1, "")
    assert (folder / "report.txt").read_text().startswith("rigcheck inspection\n")


@pytest.mark.parametrize("name", sampled(_JUDGING, 4))
def test_an_input_that_is_closed_is_told_of(name: str, folder: Path) -> None:
    arguments = ["-" if one == "rig.yaml" else one for one in _COMMANDS[name]]
    if name == "compare":
        arguments[-1] = "rig.yaml"
    done = _shell('"$@" <&-', folder, *arguments)
    assert done.returncode == 2
    told = " ".join((done.stdout + done.stderr).split())
    assert re.search(r"standard input:1:1:? The file cannot be read: it is closed.", told)
    assert "Traceback" not in done.stdout + done.stderr


def test_a_walk_whose_input_is_closed_stops_as_at_the_end_of_it(folder: Path) -> None:
    done = _shell('"$@" <&-', folder, "ask", "rig.yaml", "--by", "fitter")
    assert "readline" not in done.stderr
    assert "To go on:" in " ".join(done.stdout.split())


@pytest.mark.parametrize("stream", ["/dev/full", "&-"])
def test_a_lost_stream_of_messages_loses_no_exit_code(stream: str, folder: Path) -> None:
    assert _shell(f'"$@" 2>{stream}', folder, "figures", "nowhere.yaml").returncode == 2


@pytest.mark.parametrize("name", sampled(_COMMANDS, 6))
def test_a_folder_that_is_gone_is_told_of(name: str, tmp_path: Path) -> None:
    (tmp_path / "gone").mkdir()
    done = _shell('rmdir "$PWD"; "$@"', tmp_path / "gone", *_COMMANDS[name])
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == "rigcheck: the folder that this runs in is gone or closed; go to another one.\n"


@pytest.mark.parametrize("form", sampled(["sarif", "json"], 2))  # longer than what a pipe takes in
def test_another_report_is_written_though_the_reader_of_the_first_goes_away(form: str, folder: Path) -> None:
    arguments = ("inspect", "rig.yaml", "--format", form, "--format", "text", "--output", "report.txt")
    done = _shell('set -o pipefail; "$@" | head -c 9', folder, *arguments)
    assert (done.returncode, done.stderr) == (141, "")
    assert "decide whether this rig may be used" in (folder / "report.txt").read_text()


# --- at any moment ---


def test_ctrl_c_at_any_moment_is_quiet(folder: Path) -> None:
    dice = random.Random(1)
    environment = as_installed()
    seen = set()
    for _ in range(12):
        # What the interpreter does before it comes to us is not ours to keep quiet.
        code = "import sys; from rigcheck.cli.entry import start; print(0, flush=True); sys.exit(start())"
        started = subprocess.Popen(
            [sys.executable, "-c", code, "inspect", "rig.yaml"],
            cwd=folder,
            env=environment,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        )
        assert started.stdout is not None
        started.stdout.readline()
        time.sleep(0.005 + dice.uniform(0, 0.3))
        started.send_signal(signal.SIGINT)
        _, err = started.communicate()
        seen.add(started.returncode)
        assert (err, started.returncode in (0, 1, 130, -signal.SIGINT)) == (b"", True)
    assert 130 in seen


_IN_A_CALLBACK = """
import signal, sys, types
from rigcheck.cli import entry
class Dropped:
    def __del__(self):
        signal.raise_signal(signal.SIGINT)
        for _ in range(99):
            pass
def main():
    Dropped()
    print("it went on")
command = types.ModuleType("rigcheck.cli.main")
command.main = main
sys.modules["rigcheck.cli.main"] = command
sys.exit(entry.start())
"""


def test_ctrl_c_while_an_object_is_let_go_ends_the_run_without_a_word() -> None:
    command = [sys.executable, "-c", _IN_A_CALLBACK]
    ran = subprocess.run(command, env=as_installed(), text=True, capture_output=True, check=False)
    assert (ran.returncode, ran.stdout, ran.stderr) == (130, "", "")


def test_next_to_nothing_is_imported_before_ctrl_c_is_ours() -> None:
    code = "import sys; before = {*sys.modules}; import rigcheck.cli.entry; print(*sorted({*sys.modules} - before))"
    done = subprocess.run([sys.executable, "-c", code], env=as_installed(), text=True, capture_output=True, check=True)
    own = {name for name in done.stdout.split() if name.partition(".")[0] == "rigcheck"}
    assert own == {"rigcheck", "rigcheck.cli", "rigcheck.cli.entry", "rigcheck.version"}
    assert {*done.stdout.split()} - own <= {"__future__", "errno"}


# --- rigcheck itself ---


def _failing(data: bytes, file: str, vocabulary: Vocabulary, *around: loader.Around, **how: bool) -> Rig:
    if b"rig: bad" in data:
        raise ZeroDivisionError("a fault\nof rigcheck")
    return loader.load_rig(data, file, vocabulary, *around, **how)


@pytest.fixture
def rigs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a rig that rigcheck fails on, and two others."""
    monkeypatch.setattr("rigcheck.cli.site_input.load_rig", _failing)
    for name in ("ant", "bad", "cat"):
        (tmp_path / f"{name}.yaml").write_text(_RIG.format(name=name))
    return tmp_path


@pytest.mark.parametrize("command", ["inspect", "due", "summary"])
def test_a_failure_on_one_file_is_a_fault_of_that_file_and_the_others_are_judged(
    command: str, rigs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([command, str(rigs), "--format", "json"]) == (2 if command == "due" else 3)  # the others are on hold
    told = json.loads(capsys.readouterr().out)
    counted = told if command == "summary" else told["totals"]
    judged = counted["rigs"] if command != "inspect" else ["ant", "cat"][: counted["on_hold"]]
    assert (len(judged) if isinstance(judged, list) else judged) == 2
    shown = json.dumps(told, ensure_ascii=False)
    assert "bad.yaml" in shown
    assert "rigcheck itself failed here (ZeroDivisionError in" in shown


@pytest.mark.parametrize("name", ["figures", "draw", "file", "sheet", "compare"])
def test_a_failure_of_rigcheck_is_one_line_that_names_the_file_and_asks_for_a_report(
    name: str, rigs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bad = str(rigs / "bad.yaml")
    assert main([bad if one == "rig.yaml" else one for one in _COMMANDS[name]]) == 2
    told = capsys.readouterr()
    [line] = told.err.splitlines()
    assert told.out == ""
    assert line.startswith(f"rigcheck: {bad}")
    assert "ZeroDivisionError" in line
    assert line.endswith("a fault of rigcheck). Please report this line, with the file.")


# --- what broke it once ---

_BROKE = {
    "a mass that may be below nothing": """
rig: a propane cylinder that may be empty
site: {ambient_temperature: 15 degC}
lines:
  - gas: propane
    parts: [cylinder: {diameter: 300 mm, contents_mass: 0.2 ± 0.5 kg, upright: yes}, regulator, hose]
""",
    "a holding test that ends at nothing kelvin": """
rig: cold
lines:
  - gas: acetylene
    hold_end_temperature: -273.15 degC
    hold_start_temperature: 20 degC
    hold_start_pressure: 1 bar
    hold_end_pressure: 1 bar
    hold_time: 10 min
    hold_gauge_step: 0.1 bar
    parts: [cylinder, regulator, hose: {bore: 8 mm, length: 10 m}]
""",
    "a bubble and a pressure beyond all bounds": """
rig: large
lines:
  - gas: acetylene
    hold_start_pressure: 1e99 bar
    hold_end_pressure: 1e98 bar
    hold_time: 10 min
    hold_gauge_step: 0.1 bar
    parts:
      - cylinder
      - joint: {leak_test: leaks, bubble_size: 999999999999999e99 m, bubble_interval: 10 s}
      - regulator
      - hose: {bore: 8 mm, length: 10 m}
""",
}


@pytest.mark.parametrize("name", sampled(_JUDGING, 2))
@pytest.mark.parametrize("text", sampled(_BROKE, 3))
def test_values_that_no_formula_can_take_are_refused_or_not_known(
    text: str, name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rig = tmp_path / "rig.yaml"
    rig.write_text(_BROKE[text], encoding="utf-8")
    assert main([str(rig) if one == "rig.yaml" else one for one in _COMMANDS[name]]) in (0, 1, 2, 3)
    told = capsys.readouterr()
    assert "itself failed" not in told.out + told.err
    assert " inf " not in told.out
