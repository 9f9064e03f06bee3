"""Serving the local page: which address and port, and how the terminal tells of it."""

from __future__ import annotations

import io
import logging
import socket
from collections.abc import Callable, Iterable
from contextlib import suppress

from rigcheck.cli.console import ProblemFound
from rigcheck.cli.page.round import Round
from rigcheck.cli.page.visit import Visit

__all__ = ["HERE", "network_address", "qr_lines", "serve"]

HERE = "127.0.0.1"
"""Whoever is served by this address alone is on this machine."""
_PORTS = range(8765, 8775)
"""Tried in turn: a browser that waits with answers finds the page again after a new start."""


def serve(
    round_: Round,
    show: Callable[[str], None],
    *,
    by: str = "",
    first: str = "/",
    address: str = HERE,
    port: int | None = None,
) -> None:
    """Serve the page of a walk until it is stopped; `show` tells where it is. Raises `ProblemFound`.

    `first`: the page that is shown to whoever came in.
    """
    try:
        import uvicorn  # slow to load, and not there unless the page is wanted

        from rigcheck.cli.page.gate import Keys
        from rigcheck.cli.page.page_app import page_app
    except ImportError:
        raise ProblemFound("the page needs a few libraries more: pip install 'rigcheck[page]'.") from None
    listening = _listening(address, (*_PORTS, 0) if port is None else (port,))
    port = listening.getsockname()[1]
    host = f"{address}:{port}"
    keys: Keys[Visit] = Keys(port)

    def address_of(key: str) -> str:
        return f"http://{host}/?key={key}"

    hosts = [host] + ([f"localhost:{port}"] if address == HERE else [])
    settings = uvicorn.Config(
        page_app(round_, keys, hosts, address_of, by, first),
        log_level="error",
        access_log=False,
        ws="none",
        lifespan="off",
        server_header=False,
        limit_concurrency=64,
    )
    logging.getLogger("python_multipart.multipart").disabled = True  # it tells the terminal of every form that is none
    show(address_of(keys.new_key()))
    with listening:
        uvicorn.Server(settings).run(sockets=[listening])


def network_address() -> str:
    """Return the address of this machine in its network. Raises `ProblemFound` where it is in none.

    Nothing is sent: a datagram socket only looks up the way to an address that is kept for documents (RFC 5737).
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as looking:
        try:
            looking.connect(("192.0.2.1", 9))
        except OSError:
            raise ProblemFound("this machine is in no network; leave --on-network out.") from None
        address: str = looking.getsockname()[0]
    return address


def qr_lines(text: str) -> str:
    """Return a text as a QR code (ISO/IEC 18004) of block characters, for a camera that looks at a terminal."""
    import segno

    out = io.StringIO()
    segno.make(text, error="m", micro=False).terminal(out, compact=True)
    return out.getvalue()


def _listening(address: str, ports: Iterable[int]) -> socket.socket:
    for port in ports:
        with suppress(OSError, OverflowError):
            return socket.create_server((address, port))
    raise ProblemFound(f"the port at {address} is taken, or is none; name another one with --port.")
