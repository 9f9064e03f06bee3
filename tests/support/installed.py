"""The package as an install lays it out: with the pack prepared, so that a command starts as fast as a user's."""

from __future__ import annotations

import atexit
import compileall
import fcntl
import os
import shutil
import tempfile
from functools import cache
from pathlib import Path

from rigcheck.rules.pack_from_yaml import prepare_pack
from rigcheck.rules.pack_json import PREPARED_NAME

__all__ = ["as_installed", "installed", "lay_out", "shared_folder"]

_ROOT = Path(__file__).parents[2]


def lay_out(home: Path) -> Path:
    """Lay the package out as an installer does, with the pack prepared and the modules compiled, and return where."""
    ignored = shutil.ignore_patterns("__pycache__")
    shutil.copytree(_ROOT / "rigcheck", home / "rigcheck", ignore=ignored)
    for name in ("rules", "configs"):
        shutil.copytree(_ROOT / name, home / "rigcheck" / "shipped" / name)
    prepared = home / "rigcheck" / "shipped" / "rules" / PREPARED_NAME
    prepared.write_bytes(prepare_pack(_ROOT / "rules"))
    compileall.compile_dir(home / "rigcheck", quiet=1)
    return home


def as_installed(**more: str) -> dict[str, str]:
    """Return the environment in which `python -m rigcheck` is an install, whatever folder it starts in."""
    environment = {**os.environ, "PYTHONPATH": str(installed()), "PYTHONSAFEPATH": "1", **more}
    if "FORCE_COLOR" not in more:
        environment.pop("FORCE_COLOR", None)
    return environment


@cache
def installed() -> Path:
    """Return the folder of one install, which all workers of a run share: preparing and compiling takes long."""
    run = os.environ.get("PYTEST_XDIST_TESTRUNUID")
    if run is None:
        folder = tempfile.mkdtemp(prefix="rigcheck-installed-")
        atexit.register(shutil.rmtree, folder, ignore_errors=True)
        return lay_out(Path(folder, "home"))
    home = shared_folder(run) / "home"
    home.parent.mkdir(exist_ok=True)
    with open(home.parent / "lock", "w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not home.exists():
            lay_out(home.parent / "begun").rename(home)
    return home


def shared_folder(run: str) -> Path:
    """Return the folder that the workers of a run share; whoever started them takes it away."""
    return Path(tempfile.gettempdir(), f"rigcheck-installed-{run}")
