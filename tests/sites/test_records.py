"""The records that ship beside the demonstration sites, judged as a user would have them judged."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from support.installed import as_installed

from rigcheck.rules.folders import configs_folder

_RECORDS = configs_folder() / "records"


def _judged(path: Path) -> dict[str, Any]:
    command = [sys.executable, "-m", "rigcheck", "inspect", str(path), "--format", "json"]
    ran = subprocess.run(command, env=as_installed(), capture_output=True, text=True, check=False, timeout=60)
    found: dict[str, Any] = json.loads(ran.stdout)
    return found


@pytest.mark.parametrize("name", ["tool-room-start-up", "pipe-loft-leak-test"])
def test_a_record_of_work_done_right_has_no_finding_and_no_question(name: str) -> None:
    (entry,) = _judged(_RECORDS / f"{name}.yaml")["entries"]
    assert (entry["state"], entry["findings"], entry["questions"]) == ("nothing found against it", [], [])


def test_the_hurried_start_up_is_held_for_its_three_faults() -> None:
    (entry,) = _judged(_RECORDS / "tool-room-hurried-start-up.yaml")["entries"]
    found = [(one["rule"], one["thing"], one["found"][0]["fact"]) for one in entry["findings"]]
    assert found == [
        ("procedures/start-up/open_acetylene_cylinder_valve", "acetylene cylinder", "order"),
        ("procedures/start-up/open_acetylene_cylinder_valve", "acetylene cylinder", "turns"),
        ("procedures/start-up/read_contents_gauge", "oxygen regulator", "not in the record"),
    ]
    assert entry["state"] == "on hold"


def test_every_record_that_ships_says_that_it_is_invented() -> None:
    texts = {path.name: path.read_text(encoding="utf-8") for path in _RECORDS.glob("*.yaml")}
    assert texts
    assert [name for name, text in texts.items() if not text.startswith("# Invented for demonstration.\n")] == []
