"""Prepares the rule pack while the wheel is built, so that an installed rigcheck starts quickly."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

__all__ = ["PrepareHook"]


class PrepareHook(BuildHookInterface[Any]):
    """Lays the prepared pack beside the rules in the wheel; a faulty pack stops the build."""

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Prepare the pack; an editable install reads the files themselves, so it gets none."""
        if version == "editable":
            return
        sys.path.insert(0, self.root)
        from rigcheck.rules.pack_from_yaml import prepare_pack  # the package that is being built
        from rigcheck.rules.pack_json import PREPARED_NAME

        text = prepare_pack(Path(self.root) / "rules")
        with tempfile.NamedTemporaryFile(suffix=".json", delete=False) as file:
            file.write(text)
        build_data["force_include"][file.name] = f"rigcheck/shipped/rules/{PREPARED_NAME}"
