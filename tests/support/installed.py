"""The package as an install lays it out: with the pack prepared, so that a command starts as fast as a user's."""

from __future__ import annotations

import atexit
import compileall
import os
import shutil
import tempfile
from functools import cache
from pathlib import Path

from rigcheck.rules.pack_from_yaml import prepare_pack
from rigcheck.rules.pack_json import PREPARED_NAME

__all__ = ["as_installed", "lay_out"]

_ROOT = Path(__file__).parents[2]


def lay_out(home: Path) -> Path:
    """Lay the package out as an installer does, with the pack prepared and the modules compiled, and return where."""
    ignored = shutil.ignore_patterns("__pycache__")
    shutil.copytree(_ROOT / "rigcheck", home / "rigcheck", ignore=ignored)
    for name in ("rules", "configs"):
        shutil.copytree(_ROOT / name, home / "rigcheck" / "shipped" / name)
    prepared = home / "rigcheck" / "shipped" / "rules" / PREPARED_NAME
    prepared.write_text(prepare_pack(_ROOT / "rules"), encoding="utf-8")
    compileall.compile_dir(home / "rigcheck", quiet=1)
    return home


def as_installed(**more: str) -> dict[str, str]:
    """Return the environment in which `python -m rigcheck` is an install, whatever folder it starts in."""
    environment = {**os.environ, "PYTHONPATH": str(_home()), "PYTHONSAFEPATH": "1", **more}
    if "FORCE_COLOR" not in more:
        environment.pop("FORCE_COLOR", None)
    return environment


@cache
def _home() -> Path:
    folder = tempfile.mkdtemp(prefix="rigcheck-installed-")
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return lay_out(Path(folder, "home"))
