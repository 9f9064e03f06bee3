"""The local page as a person has it: a server of its own process, killed and started again; and a real browser."""

from __future__ import annotations

import re
import shutil
import signal
import socket
import subprocess
import sys
from dataclasses import dataclass, field
from pathlib import Path

import httpx

__all__ = ["Served", "chromium"]

NO_BROWSER = (
    "there is no Chromium on this machine, and the local page is tried in a real one. "
    "Install it (Debian: apt-get install chromium), or leave these tests out: pytest -m 'not browser'."
)


def chromium() -> str:
    """Return the path of a browser. Raises `LookupError`, which says what to do."""
    found = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    if found is None:
        raise LookupError(NO_BROWSER)
    return found


def _free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port: int = taken.getsockname()[1]
    return port


@dataclass
class Served:
    """`rigcheck ask RIG --page` in a process of its own."""

    rig: Path
    options: tuple[str, ...] = ("--by", "fitter")
    address: str = ""
    port: int = 0
    process: subprocess.Popen[str] | None = field(default=None)
    inside: httpx.Client | None = field(default=None)

    def start(self) -> str:
        """Start it; return the address with its key."""
        self.port = self.port or _free_port()
        command = [
            sys.executable,
            "-m",
            "rigcheck",
            "ask",
            str(self.rig),
            "--page",
            "--port",
            str(self.port),
            *self.options,
        ]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        assert self.process.stdout is not None
        said = ""
        while not (found := re.search(r"http://\S+key=[\w-]+", said)):
            row = self.process.stdout.readline()
            if not row:
                raise AssertionError(f"{said}{self.process.communicate()[1]}")
            said += row
        self.address = found[0]
        return self.address

    def one_more(self) -> str:
        """Return an address that lets one more browser in, as somebody who is inside is shown it."""
        if self.inside is None:
            key = self.address.partition("key=")[2]
            self.inside = httpx.Client(base_url=self.origin, headers={"origin": self.origin}, timeout=60)
            self.inside.post("/enter", data={"key": key, "by": "host"})
        found = re.search(r"http://[^\s<]+key=[\w-]+", self.inside.post("/phone").text)
        assert found
        return found[0]

    @property
    def origin(self) -> str:
        """The address without the key."""
        return self.address.partition("/?")[0]

    def kill(self) -> None:
        """End it at once, as a machine that loses its power."""
        if self.process is not None:
            self.process.send_signal(signal.SIGKILL)
            self.process.communicate()
            self.process = None

    def look(self) -> str:
        """Return what was written, of all looks beside the rig."""
        return "".join(path.read_text(encoding="utf-8") for path in sorted(self.rig.parent.glob("*-look-*.yaml")))
