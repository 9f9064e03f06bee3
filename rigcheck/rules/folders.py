"""Where the rules, templates and sites that come with rigcheck are."""

from __future__ import annotations

from pathlib import Path

__all__ = ["configs_folder", "rules_folder"]

_PACKAGE = Path(__file__).resolve().parents[1]


def rules_folder() -> Path:
    """Return the folder of the rule pack: inside the wheel, or beside the package in a checkout."""
    return _shipped("rules")


def configs_folder() -> Path:
    """Return the folder of templates and demonstration sites."""
    return _shipped("configs")


def _shipped(name: str) -> Path:
    inside = _PACKAGE / "shipped" / name
    return inside if inside.is_dir() else _PACKAGE.parent / name
