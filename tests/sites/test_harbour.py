"""The invented harbour: a rig by its standard rig, a register and a look; what each of them says is found."""

from __future__ import annotations

from datetime import date

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


def test_the_register_can_be_read_alone(pack: Pack) -> None:
    register = register_at(str(_HARBOUR / "register"), pack)
    kinds = {thing.kind.name for thing in register.things.values()}
    assert kinds >= {"cylinder", "regulator", "arrester", "hose", "torch", "trolley", "tools", "person", "site"}
    assert len(register.things) > 100


def test_every_file_says_that_it_is_invented() -> None:
    files = [*_HARBOUR.rglob("*.yaml"), *(configs_folder() / "sites").glob(".*.yaml")]
    assert len(files) > 10
    assert all(path.read_text(encoding="utf-8").startswith("# Invented for demonstration.\n") for path in files)
