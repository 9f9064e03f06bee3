"""What the tests of published schemas share: a folder of rigs that asks the most of a report."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.small_reports import HELD, HOSTILE_FILE, WRONG, hostile_rig


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder of a held rig, one that cannot be read, and one in which everything is hostile."""
    rigs = tmp_path / "rigs"
    rigs.mkdir()
    (rigs / "held.yaml").write_text(HELD)
    (rigs / "wrong.yaml").write_text(WRONG)
    (rigs / HOSTILE_FILE).write_text(hostile_rig())
    return rigs
