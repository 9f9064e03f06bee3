"""The reports of the invented sites, word for word."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from rigcheck.cli.site_input import read_rig
from rigcheck.judge.inspection import inspect_rig
from rigcheck.report.json.inspection_json import rig_entry
from rigcheck.report.text.inspection_text import inspection_lines
from rigcheck.report.text.layout import plain_text
from rigcheck.rules.folders import configs_folder, rules_folder
from rigcheck.rules.pack import Pack

DAY = date(2026, 11, 25).toordinal()
SITES = sorted((configs_folder() / "sites").glob("[!.]*.yaml"))


def told_from_here(text: str) -> str:
    """Return a report with the rules' folder as it is called in the checkout."""
    return text.replace(str(rules_folder()), "rules")


@pytest.fixture
def beside_the_sites(monkeypatch: pytest.MonkeyPatch, pack: Pack) -> Iterator[None]:
    """Files are named as seen from the folder of the sites, wherever that lies."""
    kept = dict(pack.kept)
    pack.kept.clear()  # a register that was read before was named otherwise
    monkeypatch.chdir(configs_folder() / "sites")
    yield
    pack.kept.clear()
    pack.kept.update(kept)


@pytest.mark.parametrize("path", SITES, ids=lambda path: path.stem)
@pytest.mark.usefixtures("beside_the_sites")
def test_a_site_is_told_in_the_same_words(path: Path, pack: Pack, snapshot: SnapshotAssertion) -> None:
    inspection = inspect_rig(read_rig(path.read_bytes(), path.name, pack), pack, day=DAY)
    lines = inspection_lines(inspection, 400, hold_at="warning")
    assert told_from_here(plain_text(lines)) == snapshot


@pytest.mark.usefixtures("beside_the_sites")
def test_a_site_has_the_same_entry_in_a_report_for_programs(pack: Pack, snapshot: SnapshotAssertion) -> None:
    path = configs_folder() / "sites" / "wharf-crane-rail.yaml"
    inspection = inspect_rig(read_rig(path.read_bytes(), path.name, pack), pack, day=DAY)
    entry = rig_entry(inspection, hold_at="warning", on_unproven=None)
    assert told_from_here(entry.model_dump_json(indent=1)) == snapshot
