"""Whatever is in a file, it is read or refused with a place: never another exception, never slowly."""

from __future__ import annotations

import io
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.installed import as_installed
from support.sampling import sampled

from rigcheck.judge.inspection import inspect_rig
from rigcheck.report.json.inspection_json import rig_entry
from rigcheck.report.text.inspection_text import inspection_lines, refusal_lines
from rigcheck.report.text.layout import plain_text
from rigcheck.rig.loader import load_rig
from rigcheck.rules.cases import read_cases
from rigcheck.rules.folders import configs_folder, rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule_reading import RuleReader
from rigcheck.text.faults import Refused
from rigcheck.text.yamlfile import LARGEST, read_yaml

_ROOT = Path(__file__).parents[2]
_DAY = 739_945
_PACK = load_pack(rules_folder())
_FILES = [path for name in ("templates", "sites") for path in sorted((configs_folder() / name).glob("[!.]*.yaml"))]
_RIGS = [path.read_text(encoding="utf-8") for path in _FILES]
_RULES = [Path(rule.file).read_text(encoding="utf-8") for rule in list(_PACK.rules.values())[::7]]

# What people, editors and bad luck put into such files, beside what stands in them already.
_BITS = st.sampled_from(
    "|: |- |  |\n|\t|{|}|[|]|,|#|'|\"|&a |*a|!!int |---\n|...\n|? |<<: |none|?|unknown|yes|-1|0|1e9|.5|1/0|±|5 ± 9|"
    "15 psi|1.5 bar abs|-2 bar|20 to 10 m|99999999999999999999|2026-13-45|0000|joint|torch|hose|parts:|lines:|to: x|"
    "branches:|manifold|header|allOf|not|if|const: |enum: |limit: |fact: |minimum: |pattern: '(a+)+$'|items: |type: |"
    "\\0|\u0000|\u2028|\u202e|\ufeff|é|😀|%|@|`|>|>-".split("|")
)
_WORDS = re.compile(r"[\w.-]+|\s+|[^\w\s]")


@st.composite
def _mutated(draw: st.DrawFn, texts: list[str]) -> str:
    """One of the texts, with a few of its words dropped, doubled, swapped or replaced."""
    pieces = _WORDS.findall(draw(st.sampled_from(texts)))
    for _ in range(draw(st.integers(1, 6))):
        at = draw(st.integers(0, len(pieces) - 1))
        other = draw(st.integers(0, len(pieces) - 1))
        change = draw(st.sampled_from(("drop", "double", "swap", "put", "cut", "move")))
        if change == "drop" and len(pieces) > 1:
            del pieces[at : at + draw(st.integers(1, 8))]
            pieces = pieces or ["x"]
        elif change == "double":
            pieces[at:at] = pieces[at : at + draw(st.integers(1, 40))]
        elif change == "swap":
            pieces[at], pieces[other] = pieces[other], pieces[at]
        elif change == "put":
            pieces[at] = draw(_BITS)
        elif change == "cut":
            pieces = pieces[: at + 1]
        else:
            pieces[at:at] = pieces[other : other + 8]
    return "".join(pieces)


def _judge(data: bytes) -> str:
    """Return the report of a rig, or what it was refused for."""
    try:
        rig = load_rig(data, "fuzz.yaml", _PACK.vocabulary)
    except Refused as refused:
        return plain_text(refusal_lines(_placed(refused, data), 80))
    inspection = inspect_rig(rig, _PACK, day=_DAY)
    rig_entry(inspection, hold_at="warning", on_unproven=None).model_dump_json()
    return plain_text(inspection_lines(inspection, 80, hold_at="warning"))


def _placed(refused: Refused, data: bytes) -> tuple:
    """Return the faults, each of which must say something about a place that the file has."""
    assert refused.faults
    lines = data.count(b"\n") + data.count(b"\r") + 1
    for fault in refused.faults:
        assert fault.read.strip()
        assert fault.write.strip()
        assert 1 <= fault.place.line <= lines + 1
        assert fault.place.column >= 1
        assert str(fault).isprintable()
    return refused.faults


@given(st.binary(max_size=400))
@settings(max_examples=20)
def test_any_bytes_are_refused_or_judged(data: bytes) -> None:
    assert _judge(data)


@given(st.text(alphabet=st.sampled_from("ab:-?[]{},&*!|>'\"%@`# \n\t0.~<="), max_size=60))
@settings(max_examples=20)
def test_any_text_of_signs_that_mean_something_in_yaml_is_refused_or_read(text: str) -> None:
    try:
        read_yaml(text.encode(), "fuzz.yaml")
    except Refused as refused:
        _placed(refused, text.encode())


@given(_mutated(_RIGS))
@settings(max_examples=20)
def test_any_change_of_a_rig_is_refused_or_judged(text: str) -> None:
    assert _judge(text.encode("utf-8", "replace"))


@given(_mutated(_RULES))
@settings(max_examples=20)
def test_any_change_of_a_rule_is_refused_or_read(text: str) -> None:
    reader = RuleReader(_PACK.vocabulary, _PACK.documents, {n: d.dimension for n, d in _PACK.definitions.items()})
    data = text.encode("utf-8", "replace")
    try:
        read_cases(reader.read(data, "fuzz.yaml", "fuzz"), _PACK.vocabulary)
    except Refused as refused:
        _placed(refused, data)


@given(_mutated([path.read_text(encoding="utf-8") for path in sorted((rules_folder() / "limits").glob("*.yaml"))]))
@settings(max_examples=20)
def test_any_change_of_a_file_of_limits_is_refused_or_read(text: str) -> None:
    folder = _ROOT / "tests" / "broken_files" / "pack"
    data = text.encode("utf-8", "replace")
    try:
        _overlaid(folder, data)
    except Refused as refused:
        _placed(refused, data)


def _overlaid(folder: Path, data: bytes) -> Pack:
    import tempfile

    with tempfile.TemporaryDirectory() as own:
        (Path(own) / "limits").mkdir()
        (Path(own) / "limits" / "own.yaml").write_bytes(data)
        return load_pack(folder, Path(own))


# --- the largest files: each is read or refused in about a second, and in little memory ---

_HEAD = "rig: Yard\nlines:\n  - gas: acetylene\n    parts:\n      - cylinder: {gas: acetylene}\n"


def _filled(piece: Callable[[int], str], head: str = "", foot: str = "") -> str:
    """Return a text of nearly the largest size that is read, made of numbered pieces."""
    made, out, number = len(head) + len(foot), io.StringIO(head), 0
    out.seek(0, io.SEEK_END)
    while made < LARGEST - 200:
        text = piece(number)
        out.write(text)
        made, number = made + len(text.encode()), number + 1
    return out.getvalue() + foot


_LARGE: dict[str, Callable[[], str]] = {
    "long quantity of blanks": lambda: _HEAD + "      - hose: {length: '1" + " " * (LARGEST - 500) + "m'}\n",
    "long name": lambda: "rig: " + "a" * (LARGEST - 500) + _HEAD[9:],
    "long quantity": lambda: _HEAD + "      - regulator: {set_pressure: " + "9" * (LARGEST - 500) + "}\n",
    "long word": lambda: _HEAD + "      - regulator: {stages: " + "o" * (LARGEST - 500) + "}\n",
    "long key": lambda: _HEAD + "      - ? " + "k" * (LARGEST - 500) + "\n        : x\n",
    "long comment": lambda: _HEAD + "#" * (LARGEST - 500) + "\n",
    "one line of quotes": lambda: 'rig: "' + "\\u00e9" * ((LARGEST - 500) // 6) + '"\n',
    "many unknown keys": lambda: _filled(lambda n: f"set_presure_{n}: 1\n", _HEAD),
    "many unknown short keys": lambda: _filled(lambda n: f"k{n}: 1\n", _HEAD),
    "many doubled keys": lambda: _filled(lambda n: "a: 1\n"),
    "many wrong words": lambda: _filled(lambda n: f"      - hose: {{colour: rde{n}}}\n", _HEAD),
    "many wrong quantities": lambda: _filled(lambda n: f"      - hose: {{length: {n} bar}}\n", _HEAD),
    "many wrong days": lambda: _filled(lambda n: f"      - hose: {{made: 2025-02-3{n}}}\n", _HEAD),
    "many wrong open facts": lambda: _filled(lambda n: f"  - hose.colr{n}\n", _HEAD + "on_site:\n"),
    "many unknown parts": lambda: _filled(lambda n: f"      - hoze{n}\n", _HEAD),
    "many torches that are not there": lambda: _filled(
        lambda n: f"  - {{gas: oxygen, to: cuter{n}, parts: [hose]}}\n",
        "rig: Yard\nlines:\n",
        "torch: {name: cutter}\n",
    ),
    "many parts": lambda: _filled(lambda n: "      - hose\n", _HEAD),
    "many joints": lambda: _filled(lambda n: "      - joint\n      - hose\n", _HEAD),
    "many lines": lambda: _filled(
        lambda n: "  - {gas: oxygen, parts: [cylinder, hose]}\n", _HEAD, "torch: {name: c}\n"
    ),
    "many torches": lambda: _filled(lambda n: f"  - {{name: t{n}}}\n", _HEAD + "torch:\n"),
    "many people": lambda: _filled(lambda n: "  - {}\n", _HEAD + "people:\n"),
    "many words of a fact": lambda: _filled(lambda n: "oxygen, ", _HEAD + "      - hose: {gases: [", "]}\n"),
    "many list items": lambda: _filled(lambda n: "- x\n"),
    "many empty items": lambda: _filled(lambda n: "-\n"),
    "many items in one line": lambda: "[" + "x," * (LARGEST // 2 - 10) + "]",
    "deep lists": lambda: "[" * (LARGEST - 10),
    "deep mappings": lambda: "{a: " * (LARGEST // 4 - 10),
    "deep blocks": lambda: "- " * (LARGEST // 2 - 10),
    "deep indentation": lambda: _filled(lambda n: " " * min(n, 90) + "a:\n"),
    "many anchors": lambda: _filled(lambda n: f"- &a{n} x\n"),
    "many aliases": lambda: _filled(lambda n: "- *a\n", "- &a x\n"),
    "many tags": lambda: _filled(lambda n: "- !!str x\n"),
    "many wrong letters": lambda: "\0" * (LARGEST - 10),
    "many documents": lambda: _filled(lambda n: "---\na: 1\n"),
    "many empty lines": lambda: "\n" * (LARGEST - 10),
    "many carriage returns": lambda: "\r\n" * (LARGEST // 2 - 10),
}

_RULE = (
    "claim: Hoses are short enough.\nsignal: caution\nlooks_at: hose\nholds:\n  {}\n"
    "harm: Long hoses are trodden on.\nput_right: Fit shorter hoses.\ndrawn_from: [{}]\nproven_by:\n"
)
_SHORT, _PRACTICE = "length: {maximum: 20 m}", "common practice"
_LARGE_RULES: dict[str, Callable[[], str]] = {
    "long source": lambda: _RULE.format(_SHORT, "x" * (LARGEST - 900)),
    "long pattern": lambda: _RULE.format("name: {pattern: '" + "a|" * (LARGEST // 2 - 900) + "'}", _PRACTICE),
    "long claim": lambda: "claim: " + "x" * (LARGEST - 900) + _RULE.format(_SHORT, _PRACTICE)[30:],
    "many words": lambda: _RULE.format("colour: {enum: [" + "red, " * (LARGEST // 5 - 200) + "]}", _PRACTICE),
    "many wrong words": lambda: _RULE.format("colour: {enum: [" + "rde, " * (LARGEST // 5 - 200) + "]}", _PRACTICE),
    "many unknown facts": lambda: _RULE.format(
        _filled(lambda n: f"length{n}: {{}}\n  ", "", "bore: {}")[:-900], _PRACTICE
    ),
    "many wrong sources": lambda: _RULE.format(_SHORT, "ISO 99, " * (LARGEST // 8 - 100)),
    "many unknown keys": lambda: _filled(lambda n: f"clam{n}: 1\n", _RULE.format(_SHORT, _PRACTICE)),
    "many cases": lambda: _filled(
        lambda n: f"  - {{case: n{n}, length: 1 m, verdict: holds}}\n", _RULE.format(_SHORT, _PRACTICE)
    ),
    "many wrong cases": lambda: _filled(
        lambda n: f"  - {{case: n{n}, lenght: 1 m, verdict: holds}}\n", _RULE.format(_SHORT, _PRACTICE)
    ),
}

_GUARD = """
import resource, sys
from pathlib import Path
from rigcheck.cli.main import main
import rigcheck.cli.commands.inspect, rigcheck.report.text.inspection_text
folder = Path(sys.argv[1])
(folder / "warm.yaml").write_text("rig: a\\nlines:\\n  - {gas: oxygen, parts: [hose]}\\n")
main(["inspect", str(folder / "warm.yaml"), "--output", str(folder / "warm.txt")])
pages = int(Path("/proc/self/statm").read_text().split()[0]) * resource.getpagesize()
resource.setrlimit(resource.RLIMIT_AS, (pages + 300_000_000,) * 2)
used = int(resource.getrusage(resource.RUSAGE_SELF).ru_utime) + 1
resource.setrlimit(resource.RLIMIT_CPU, (used + 4, used + 5))
for name in folder.glob("large-*.yaml"):
    print(main(["inspect", str(name), "--output", str(name.with_suffix(".txt"))]), flush=True)
for name in folder.glob("own/*/large_*.yaml"):
    print(main(["rules", "prove", "own/", "--rules", str(folder / "own")]), flush=True)
"""


def _guarded(folder: Path) -> str:
    """Run the guard; its processor time is twice the two seconds that are promised, its wall clock generous."""
    command = [sys.executable, "-c", _GUARD, str(folder)]
    done = subprocess.run(
        command, cwd=folder, env=as_installed(), text=True, capture_output=True, timeout=120, check=False
    )
    assert done.returncode == 0, done.stderr[-2_000:]
    assert "Traceback" not in done.stderr
    return done.stdout.strip().split("\n")[-1]


@pytest.mark.parametrize("name", sampled(_LARGE, 6))
def test_the_largest_rig_file_of_any_sort_is_read_in_little_time_and_memory(name: str, tmp_path: Path) -> None:
    data = _LARGE[name]().encode()
    assert LARGEST * 0.9 < len(data) <= LARGEST
    (tmp_path / "large-file.yaml").write_bytes(data)
    assert _guarded(tmp_path) in ("0", "1", "2", "3")
    assert (tmp_path / "large-file.txt").stat().st_size < 10_000_000


@pytest.mark.parametrize("name", sampled(_LARGE_RULES, 6))
def test_the_largest_rule_file_of_any_sort_is_read_in_little_time_and_memory(name: str, tmp_path: Path) -> None:
    data = _LARGE_RULES[name]().encode()
    assert LARGEST * 0.9 < len(data) <= LARGEST
    (tmp_path / "own" / "own").mkdir(parents=True)
    (tmp_path / "own" / "own" / "large_rule.yaml").write_bytes(data)
    assert _guarded(tmp_path) in ("0", "1", "2")
