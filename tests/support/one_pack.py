"""One pack for every command of a test: what ships is read once, and not for each of a thousand runs."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from rigcheck.cli import pack_option
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack

__all__ = ["with_one_pack"]


def with_one_pack(pack: Pack, patch: pytest.MonkeyPatch) -> None:
    """Have commands in this process take `pack` where they name no folder of their own."""

    def chosen(*folders: Path, **more: Any) -> Pack:
        return pack if len(folders) == 1 else load_pack(*folders, **more)

    patch.setattr(pack_option, "load_pack", chosen)
