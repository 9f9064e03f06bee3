"""What the tests of procedures share: a pack with the small start-up of their own."""

from __future__ import annotations

import pytest
from support.procedure_tools import FOLDER, pack_with

from rigcheck.rules.pack import Pack


@pytest.fixture(scope="module")
def own(pack: Pack) -> Pack:
    """The pack with the start-up of this folder in place of the one that ships."""
    return pack_with(pack, {"start-up": (FOLDER / "start-up.yaml").read_text()})
