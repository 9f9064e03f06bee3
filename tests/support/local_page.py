"""The local page without a server: a client that is let in, and forms as a browser would send them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from html import unescape
from pathlib import Path

from httpx import Response
from starlette.testclient import TestClient

from rigcheck.cli.page.gate import Keys
from rigcheck.cli.page.page_app import page_app
from rigcheck.cli.page.round import Round
from rigcheck.cli.page.visit import Visit
from rigcheck.rules.pack import Pack
from support.simulated_people import DAY

__all__ = ["BASE", "PORT", "LocalPage", "local_page", "page_name"]

PORT = 8765
BASE = f"http://127.0.0.1:{PORT}"
_HOSTS = (f"127.0.0.1:{PORT}", f"localhost:{PORT}")


@dataclass
class LocalPage:
    """A page that is served, and one browser; `enter` lets in a browser more."""

    rig: Path
    keys: Keys[Visit]
    client: TestClient

    def browser(self) -> TestClient:
        """Return one more browser, that nobody let in."""
        return TestClient(self.client.app, base_url=BASE)

    def enter(self, client: TestClient, by: str = "fitter") -> Response:
        """Let a browser in."""
        return self.post("/enter", {"key": self.keys.new_key(), "by": by}, client=client)

    def post(self, path: str, data: dict[str, str], client: TestClient | None = None, origin: str = BASE) -> Response:
        """Send a form."""
        return (client or self.client).post(path, data=data, headers={"origin": origin})

    def answer(self, text: str, client: TestClient | None = None, **fields: str) -> Response:
        """Send an answer to the question that a page shows."""
        return self.post("/answer", {"page": page_name(text), **_dashed(fields)}, client)

    def looks(self) -> str:
        """Return what was written, of all looks beside the rig."""
        return "".join(path.read_text() for path in sorted(self.rig.parent.glob("*-look-*.yaml")))


def _dashed(fields: dict[str, str]) -> dict[str, str]:
    return {name.replace("_", "-"): value for name, value in fields.items()}


def page_name(text: str) -> str:
    """Return the name of the page that a form is to."""
    found = re.search(r'name="page" value="([^"]+)"', text)
    assert found, text
    return unescape(found[1])


def local_page(rig: Path, pack: Pack, first: str = "/", **told: object) -> LocalPage:
    """Return the page of a rig, with one browser let in."""
    keys: Keys[Visit] = Keys(PORT)
    round_ = Round(str(rig), pack, DAY, **told)  # type: ignore[arg-type]
    app = page_app(round_, keys, _HOSTS, lambda key: f"{BASE}/?key={key}", first=first)
    made = LocalPage(rig, keys, TestClient(app, base_url=BASE))
    assert made.enter(made.client).status_code == 200
    return made
