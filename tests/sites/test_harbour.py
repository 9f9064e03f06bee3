"""The invented harbour: a rig by its standard rig, a register and a look; what each of them says is found."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest
from support.in_full import sites_in_full, text_in_full

from rigcheck.cli.register_input import register_at
from rigcheck.cli.site_input import read_rig
from rigcheck.judge.inspection import explain
from rigcheck.judge.judged import judge
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack

_HARBOUR = configs_folder() / "harbour"
_DAY = date(2026, 11, 25).toordinal()


def test_what_was_seen_is_found_and_what_nobody_saw_is_presumed(pack: Pack) -> None:
    path = _HARBOUR / "plate-shop-2.yaml"
    inspection = explain(judge(read_rig(path.read_bytes(), str(path), pack), pack, day=_DAY))
    assert [(one.rule, one.at.tag) for one in inspection.findings] == [("hoses/hose_cover_is_sound", "H-0231")]
    assert inspection.findings[0].place.file.endswith("looks/plate-shop-2-november.yaml")
    assert sum(inspection.presumed.values()) > 200
    assert inspection.verdicts["holds"] > 30
    assert len(path.read_text(encoding="utf-8").splitlines()) < 30


def _verdicts(path: Path, pack: Pack) -> dict[tuple[str, str], str]:
    """Return what each rule says of each thing."""
    rig = read_rig(path.read_bytes(), str(path), pack)
    judged = judge(rig, pack, day=_DAY)
    assert rig.unread == ()
    return {(thing.path, rule.name): told for thing, rule, told, _ in judged.judgements()}


def test_a_rig_by_standard_rig_register_and_look_has_the_verdicts_of_its_full_form(pack: Pack) -> None:
    by_standard, look = _HARBOUR / "tool-room.yaml", _HARBOUR / "looks" / "tool-room-november.yaml"
    full = _verdicts(sites_in_full() / "tool-room-welding.yaml", pack)
    assert _verdicts(by_standard, pack) == full
    assert sum(told == "holds" for told in full.values()) > 700
    texts = text_in_full("tool-room-welding"), by_standard.read_text(), look.read_text()
    lines = [len(text.splitlines()) for text in texts]
    assert sum(lines[1:]) < lines[0] / 5, lines


@pytest.mark.parametrize(
    ("file", "was", "now", "broken"),
    [
        ("looks/tool-room-november.yaml", "hose: {cover: sound", "hose: {cover: cut", "hoses/hose_cover_is_sound"),
        (
            "looks/tool-room-november.yaml",
            "set_pressure: 0.2 bar",
            "set_pressure: 1.8 bar",
            "regulators/acetylene_stays_under_its_limit",
        ),
        ("tool-room.yaml", "thread_hand: left", "thread_hand: right", "joints/fuel_joint_has_left_hand_thread"),
    ],
)
def test_a_defect_in_any_of_its_files_is_found(
    file: str, was: str, now: str, broken: str, pack: Pack, tmp_path: Path
) -> None:
    copy = shutil.copytree(_HARBOUR, tmp_path / "harbour")
    text = (copy / file).read_text()
    assert was in text
    (copy / file).write_text(text.replace(was, now))
    found = {rule for (_, rule), told in _verdicts(copy / "tool-room.yaml", pack).items() if told == "broken"}
    assert broken in found


def test_the_register_can_be_read_alone(pack: Pack) -> None:
    register = register_at(str(_HARBOUR / "register"), pack)
    kinds = {thing.kind.name for thing in register.things.values()}
    assert kinds >= {"cylinder", "regulator", "arrester", "hose", "torch", "trolley", "tools", "person", "site"}
    assert len(register.things) > 100


def test_every_file_says_that_it_is_invented() -> None:
    files = [*_HARBOUR.rglob("*.yaml"), *(configs_folder() / "sites").glob(".*.yaml")]
    assert len(files) > 10
    assert all(path.read_text(encoding="utf-8").startswith("# Invented for demonstration.\n") for path in files)
