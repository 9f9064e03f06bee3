"""What bends a verdict is said: whatever kind of file a folder changes, every form of every report names the change.

Each folder here turns a finding of the rig into none, or changes what is told; none is taken without a reason.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Mapping
from itertools import takewhile
from pathlib import Path
from typing import Any

import pytest
from pyarrow.parquet import read_schema
from support.every_report import REPORTS, told_by
from support.local_page import local_page
from support.sampling import sampled

from rigcheck.cli import pack_option
from rigcheck.cli.main import main
from rigcheck.judge.inspection import inspect_rig
from rigcheck.rig.loader import load_rig
from rigcheck.rules.folders import rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.overlay import overlay_rows
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Refused

_MARK = "Ownreason"  # one word, so that no row of a drawing ends within it
_RIG = """\
rig: Yard
inspected: 2026-11-25
trolley: {tilt: 30 deg}
lines:
  - gas: acetylene
    parts: [cylinder: {retest_until: 2001-01, valve_leak: gland}, regulator, hose: {bore: 8 mm}]
  - gas: oxygen
    parts: [cylinder, regulator, hose]
torch: {form: cutting}
hose_pair: {held_by: cable-tie}
"""
_RECORD = "record: start-up\nrig: rig.yaml\ndone: 2026-11-25\nby: user\nsteps: [look_the_rig_over]\n"
_DAY = "2026-11-25"
_SHEET = f"sheet: rig.yaml\nday: {_DAY}\nby: fitter\nanswers:\n  1 trolley tilt: 30 deg\n"


def _shipped(name: str) -> str:
    return (rules_folder() / name).read_text(encoding="utf-8")


def _weaker(name: str, was: str, now: str, *more: tuple[str, str]) -> tuple[str, str]:
    text = _shipped(name)
    for before, after in ((was, now), *more):
        assert before in text
        text = text.replace(before, after)
    return name, text if text != _shipped(name) else f"# ours\n{text}"


def _document(name: str) -> str:
    """Return the entry of one document, with what was only remembered now said to be published."""
    lines = _shipped("documents.yaml").partition(f"\n{name}:\n")[2].splitlines()
    own = "\n".join(takewhile(lambda line: line.startswith(" "), lines))
    return f"{name}:\n  because: {_MARK}\n{own.replace('from memory', 'published')}\n"


_CLIPS = "      clips: parallel-clip\n"
_TIES_ARE_CLIPS = (_CLIPS, f"{_CLIPS}      cable-tie: parallel-clip\n")
_FILES: Mapping[str, tuple[str, str]] = {
    "limit": (
        "limits/general.yaml",
        "local_code: general\nlimits:\n  trolley_tilt:\n    values:\n"
        f"      - {{since: 1990-01-02, value: 89 deg, drawn_from: common practice, because: {_MARK}}}\n",
    ),
    "rule": _weaker("trolley/trolley_stands_upright.yaml", "signal: danger", "signal: notice"),
    "fact": _weaker(
        "vocabulary/hose_pair.yaml", '      cable-tie: ""\n', "", _TIES_ARE_CLIPS, (": cable-tie", ": parallel-clip")
    ),
    "shared words": _weaker("vocabulary/words.yaml", "LPG: propane", "LPG: acetylene"),
    "document": ("documents.yaml", _document("CGA G-1")),
    "table": ("tables/nozzles.yaml", _shipped("tables/nozzles.yaml").replace("from memory", "published")),
    "consequence": _weaker("follows/air_changes_by_itself_in_the_open.yaml", "open-air", "open-air"),
    "procedure": (
        "procedures/start-up.yaml",
        "procedure: start-up\ntitle: Start-up\nmeans: From a rig that is shut to a lit torch.\ndespite_hold: true\n"
        "steps:\n  - {step: look_the_rig_over, do: Light the torch., signal: notice, hazard: Nothing at all.,\n"
        "     put_right: Do it again., drawn_from: [common practice]}\n",
    ),
    "look": _weaker("looks/any_part.yaml", "do: ", "who: somebody\ndo: "),
    "figure": _weaker("figures/air_volume.yaml", "worked by hand", "worked by us"),
}


_MORE: Mapping[str, tuple[str, ...]] = {
    "rules show": ("rules", "show", "trolley/trolley_stands_upright"),
    "rules list": ("rules", "list", "trolley/"),
    "rules prove": ("rules", "prove", "trolley/trolley_stands_upright"),
    "words": ("words",),
    "words of a kind": ("words", "trolley"),
    "words of a fact": ("words", "trolley", "tilt"),
    "schema": ("schema", "limits"),
    "procedures": ("sheet", "RIG", "--day", _DAY),
    "rows": ("rows", "RIG", "--day", _DAY, "--output", "MADE"),
    "paper": ("ask", "RIG", "--paper", "--only", "danger", "--day", _DAY),
    "paper to print": ("ask", "RIG", "--paper", "--only", "danger", "--day", _DAY, "--output", "MADE.html"),
    "paper to type": ("ask", "RIG", "--paper", "--only", "danger", "--day", _DAY, "--output", "MADE.yaml"),
    "walk": ("ask", "RIG", "--by", "fitter", "--day", _DAY),
    "description": ("ask", "RIG", "--write", "--day", _DAY),
    "answers": ("answer", "RIG", "SHEET"),
    "new record": ("new", "record", "RIG", "start-up", "MADE.yaml", "--day", _DAY),
}
"""What is neither a report of `REPORTS` nor made without rules: by a name, its arguments; MADE is what it writes."""
# Eleven and the number of reports have no common factor: a sample of one in eleven still has every report.
_TOLD = [(sort, report) for sort in _FILES for report in [*REPORTS, *_MORE]]


def _own(sort: str, folder: Path, *, reason: bool = True) -> Path:
    name, text = _FILES[sort]
    if _MARK not in text and reason:
        text = f"because: {_MARK}\n{text}"
    path = folder / name
    path.parent.mkdir(parents=True)
    path.write_text(text if reason else text.replace(f", because: {_MARK}", "").replace(f"because: {_MARK}", ""))
    return folder


@pytest.fixture(scope="module")
def packs(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, Pack]:
    """The rules that ship with a folder of each sort on top."""
    folder = tmp_path_factory.mktemp("own")
    return {sort: load_pack(rules_folder(), _own(sort, folder / str(n))) for n, sort in enumerate(_FILES)}


@pytest.mark.parametrize("sort", _FILES)
def test_a_change_that_may_bend_a_verdict_needs_a_reason(sort: str, tmp_path: Path) -> None:
    with pytest.raises(Refused, match="without a reason") as refused:
        load_pack(rules_folder(), _own(sort, tmp_path / "own", reason=False))
    assert {fault.place.file for fault in refused.value.faults} == {str(tmp_path / "own" / _FILES[sort][0])}


_FACT = "{measure: angle, means: Ours., ask: How far?}"
_READ_OTHERWISE: Mapping[str, tuple[str, str]] = {
    "Fact trolley.lean is changed": ("vocabulary/trolley.yaml", f"kind: trolley\nfacts:\n  lean: {_FACT}\n"),
    "Fact hose.oil_free is changed": ("vocabulary/hose.yaml", f"kind: hose\nfacts:\n  oil_free: {_FACT}\n"),
    "Fact hose pair.held_by is changed": (
        "vocabulary/hose_pair.yaml",
        "kind: hose pair\nholds_things:\n  held_by: {kind: gauge, means: Ours.}\n",
    ),
    "Fact rig.troley is changed": (
        "vocabulary/rig.yaml",
        "kind: rig\nholds_things:\n  troley: {kind: gauge, means: Ours.}\n",
    ),
    "Kind bottle is changed": ("vocabulary/bottle.yaml", "kind: bottle\nis_a: part\nmeans: Ours.\n"),
    "Figure ours is changed": (
        "figures/ours.yaml",
        "figure: hot_share\nof: cylinder\nways:\n  - formula: h = p/(10*b)\n"
        "    letters: {p: pressure, b: working_pressure}\n    source: arithmetic\n"
        "    proven_by:\n      - {case: a tenth, p: 2 bar, b: 2 bar, h: 10 %, answer_from: by hand}\n",
    ),
    "Consequence ours is added": (
        "follows/ours.yaml",
        "says: Our cylinders stand upright.\nlooks_at: cylinder\nwhen: {gas: {const: oxygen}}\nthen: {upright: yes}\n"
        "drawn_from: [common practice]\nproven_by:\n  - {case: oxygen, gas: oxygen, follows: yes}\n",
    ),
}
"""What only seems to add: under its name something was read already, worked out already, or asked for."""


def test_what_takes_the_place_of_something_under_another_name_needs_a_reason_too(tmp_path: Path) -> None:
    for name, text in _READ_OTHERWISE.values():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)
    with pytest.raises(Refused) as refused:
        load_pack(rules_folder(), tmp_path)
    # words that cannot be taken end it before what was read by them is
    words = {told for told, (name, _) in _READ_OTHERWISE.items() if name.startswith("vocabulary/")}
    assert {fault.read for fault in refused.value.faults} == {f"{told} without a reason." for told in words}
    for name, text in _READ_OTHERWISE.values():
        (tmp_path / name).write_text(text if "vocabulary" not in name else f"because: {_MARK}\n{text}")
    with pytest.raises(Refused) as refused:
        load_pack(rules_folder(), tmp_path)
    others = {told for told in _READ_OTHERWISE if told not in words}
    assert others <= {fault.read.removesuffix(" without a reason.") for fault in refused.value.faults}


def test_a_kind_that_is_written_as_another_one_is_refused(tmp_path: Path) -> None:
    (tmp_path / "vocabulary").mkdir()
    (tmp_path / "vocabulary/ours.yaml").write_text(f"because: {_MARK}\nkind: hose_pair\nmeans: Ours.\n")
    with pytest.raises(Refused, match="written in a rig as 'hose pair' is"):
        load_pack(rules_folder(), tmp_path)


def test_a_consequence_that_is_added_is_told_with_its_reason(tmp_path: Path) -> None:
    (tmp_path / "follows").mkdir()
    (tmp_path / "follows/ours.yaml").write_text(f"because: {_MARK}\n{_READ_OTHERWISE['Consequence ours is added'][1]}")
    [row] = overlay_rows(load_pack(rules_folder(), tmp_path).laid)
    assert row[0] == "added" and _MARK in row[1]


@pytest.mark.parametrize(("sort", "report"), sampled(_TOLD, 22))
def test_what_was_laid_on_top_is_named_in_every_form_of_every_report(
    sort: str,
    report: str,
    packs: Mapping[str, Pack],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def chosen(*folders: Path, **more: Any) -> Pack:
        return packs[sort]

    monkeypatch.setattr(pack_option, "load_pack", chosen)
    rig, record = tmp_path / "rig.yaml", tmp_path / "record.yaml"
    rig.write_text(_RIG)
    record.write_text(_RECORD)
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    arguments = _more(report, tmp_path) or told_by(report, str(rig), str(record), "--day", _DAY)
    assert main([*arguments, "--rules", str(tmp_path)]) in (0, 1)
    told = _made(tmp_path) or capsys.readouterr().out.replace("\r\n ", "")  # a calendar folds its lines
    assert _MARK in told
    assert "Changed" in told or "changed" in told or "oosened" in told


def _more(report: str, folder: Path) -> list[str]:
    (folder / "sheet.yaml").write_text(_SHEET)
    named = {"RIG": str(folder / "rig.yaml"), "SHEET": str(folder / "sheet.yaml")}
    return [named.get(word, word.replace("MADE", str(folder / "made"))) for word in _MORE.get(report, ())]


def _made(folder: Path) -> str:
    """Return what a command wrote into a file of its own, or into a folder of tables."""
    made = next(folder.glob("made*"), None)
    if made is None:
        return ""
    if made.is_file():
        return made.read_text(encoding="utf-8")
    [told] = {(read_schema(path).metadata or {})[b"laid_on_top"] for path in made.iterdir()}
    return str(told.decode())


def test_every_page_of_a_walk_names_what_was_laid_on_top_to_whoever_is_let_in(
    packs: Mapping[str, Pack], tmp_path: Path
) -> None:
    rig = tmp_path / "rig.yaml"
    rig.write_text(_RIG)
    served = local_page(rig, packs["limit"])
    assert _MARK not in served.browser().get("/").text
    for path in ("/", "/given", "/work", "/emergency", "/ask", "/file", "/work/start-up"):
        assert _MARK in served.client.get(path).text, path


def _findings(pack: Pack) -> set[tuple[str, str]]:
    rig = load_rig(_RIG.encode(), "rig.yaml", pack.vocabulary)
    return {(one.rule, one.signal) for one in inspect_rig(rig, pack, day=739580).findings}


@pytest.mark.parametrize("sort", ["limit", "rule", "fact"])
def test_these_folders_do_bend_what_is_found(sort: str, packs: Mapping[str, Pack], pack: Pack) -> None:
    assert _findings(pack) - _findings(packs[sort])


def test_what_only_adds_or_tightens_is_told_in_short_and_needs_no_reason(tmp_path: Path, pack: Pack) -> None:
    own = tmp_path / "own"
    for name, text in {
        "limits/general.yaml": "local_code: general\nlimits:\n  trolley_tilt:\n    values:\n"
        "      - {since: 1990-01-02, value: 5 deg, drawn_from: common practice}\n",
        "vocabulary/cylinder.yaml": "kind: cylinder\nfacts:\n  painted_by_us:\n"
        "    measure: yes_no\n    means: Whether we painted it.\n    ask: Did we paint it?\n",
        "yard/ours.yaml": _shipped("trolley/trolley_stands_upright.yaml"),
        "documents.yaml": "Works instruction 12:\n  title: Trolleys\n  clauses: {'': published}\n",
    }.items():
        path = own / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)
    made = load_pack(rules_folder(), own)
    assert {(one.how, one.sort) for one in made.laid} == {
        ("tightened", "limit"),
        ("added", "fact"),
        ("added", "rule"),
        ("added", "document"),
    }
    assert "painted_by_us" in made.vocabulary.kinds["cylinder"].facts
    assert set(pack.vocabulary.kinds["cylinder"].facts) < set(made.vocabulary.kinds["cylinder"].facts)


def test_rules_that_ship_are_proven_under_the_limits_that_they_were_written_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "own"
    (own / "limits").mkdir(parents=True)
    (own / "limits/general.yaml").write_text(
        "local_code: general\nlimits:\n  trolley_tilt:\n    values:\n"
        "      - {since: 1990-01-02, value: 5 deg, drawn_from: Works instruction 12}\n"
    )
    (own / "documents.yaml").write_text("Works instruction 12:\n  title: Trolleys\n  clauses: {'': published}\n")
    assert main(["rules", "prove", "trolley/trolley_stands_upright", "--rules", str(own)]) == 0
    capsys.readouterr()
    (tmp_path / "rig.yaml").write_text(_RIG.replace("30 deg", "6 deg"))
    assert main(["inspect", str(tmp_path / "rig.yaml"), "--rules", str(own), "--day", _DAY]) == 1
    told = "".join(capsys.readouterr().out.split())
    assert f"(limittrolleytilt,general,setin{own}:Worksinstruction12)".replace(" ", "") in told
