"""What tests share here: a folder of rigs that asks the most of a report, and the nozzle tables that ship."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from support.small_reports import HELD, HOSTILE_FILE, WRONG, hostile_rig

from rigcheck.physics import nozzle


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder of a held rig, one that cannot be read, and one in which everything is hostile."""
    rigs = tmp_path / "rigs"
    rigs.mkdir()
    (rigs / "held.yaml").write_text(HELD)
    (rigs / "wrong.yaml").write_text(WRONG)
    (rigs / HOSTILE_FILE).write_text(hostile_rig())
    return rigs


@pytest.fixture(scope="session")
def nozzle_rows() -> tuple[nozzle.NozzleRow, ...]:
    """The rows of the nozzle tables that ship."""
    path = Path(__file__).parents[2] / "rules" / "tables" / "nozzles.yaml"
    return nozzle.read_tables(yaml.safe_load(path.read_text(encoding="utf-8")))
