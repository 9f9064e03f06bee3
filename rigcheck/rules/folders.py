"""Where the rules, templates and sites that come with rigcheck are."""

from __future__ import annotations

import os
from pathlib import Path

from rigcheck.text.harmless import visible

__all__ = ["SHIPPED_RULES", "configs_folder", "file_of", "label_of", "rules_folder"]

SHIPPED_RULES = "rules"
"""What the folder of the rules that ship is called in everything that is handed over: no path of a machine."""

_PACKAGE = Path(__file__).resolve().parents[1]


def rules_folder() -> Path:
    """Return the folder of the rule pack: inside the wheel, or beside the package in a checkout."""
    return _shipped("rules")


def label_of(folder: Path) -> str:
    """Return what a folder of rules is called: the shipped one by name, any other as it was named, all to be seen."""
    if os.path.samefile(folder, rules_folder()):
        return SHIPPED_RULES
    named = visible(str(folder))
    return named if named.split(os.sep)[0] != SHIPPED_RULES else os.path.join(os.curdir, named)  # not taken for it


def file_of(shown: str) -> Path:
    """Return the file of a rule that ships, by the path under which it is told of."""
    return rules_folder() / shown.removeprefix(f"{SHIPPED_RULES}/")


def configs_folder() -> Path:
    """Return the folder of templates and demonstration sites."""
    return _shipped("configs")


def _shipped(name: str) -> Path:
    inside = _PACKAGE / "shipped" / name
    return inside if inside.is_dir() else _PACKAGE.parent / name
