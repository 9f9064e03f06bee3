"""Whatever is sent to a page of the local page: it is refused in a line or leads on; nothing fails, nothing is written.

Bodies and headers as RFC 9112 (HTTP/1.1), RFC 7578 (multipart/form-data) and the URL standard forbid them, from memory.
"""

from __future__ import annotations

import socket
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from starlette.routing import Route
from support.local_page import BASE, LocalPage, local_page
from support.served_page import Served

from rigcheck.rules.pack import Pack

pytestmark = pytest.mark.crowd

_RIG = "rig: barn set\nlines: [{gas: propane, parts: [cylinder, regulator, hose]}]\ntorch: {form: air-aspirated}\n"
_MANY = "multipart/form-data; boundary=x"
_PLAIN = "application/x-www-form-urlencoded"
_PAGE = b'Content-Disposition: form-data; name="page"\r\n\r\na\r\n'
_PHOTO = b'Content-Disposition: form-data; name="photo"; filename="a.jpg"\r\n\r\n\xff\xd8\xff\r\n'


def _parts(*parts: bytes, end: bytes = b"--x--\r\n") -> bytes:
    return b"".join(b"--x\r\n" + part for part in parts) + end


_SENT = {
    "nothing": (_MANY, b""),
    "no boundary": ("multipart/form-data", _parts(_PAGE)),
    "another boundary": ("multipart/form-data; boundary=y", _parts(_PAGE)),
    "a boundary that is not closed": ('multipart/form-data; boundary="x', _parts(_PAGE)),
    "a long boundary": (f"multipart/form-data; boundary={'b' * 500}", _parts(_PAGE)),
    "a part without a name": (_MANY, _parts(b"Content-Disposition: form-data\r\n\r\na\r\n")),
    "a part without a head": (_MANY, _parts(b"\r\na\r\n")),
    "a head without a colon": (_MANY, _parts(b"nothing\r\n\r\na\r\n")),
    "no end": (_MANY, _parts(_PHOTO, end=b"")),
    "a head that is cut off": (_MANY, b"--x\r\nContent-Dispo"),
    "a page twice": (_MANY, _parts(_PAGE, _PAGE, _PHOTO)),
    "two photos": (_MANY, _parts(_PAGE, _PHOTO, _PHOTO)),
    "a thousand parts": (_MANY, _parts(*[_PAGE] * 1000)),
    "a charset that is none": (f"{_MANY}; charset=nosuch", _parts(_PAGE.replace(b"a\r", b"\xff\r"), _PHOTO)),
    "a photo that is a text": (_MANY, _parts(_PAGE, _PHOTO.replace(b'; filename="a.jpg"', b""))),
    "lines that end in a line feed": (_MANY, _parts(_PAGE, _PHOTO).replace(b"\r", b"")),
    "another sort of content": ("application/json", b'{"page": 1}'),
    "a sort of content that is none": (";;==", b"page=a"),
    "3,000 fields": (_PLAIN, b"&".join(b"a%d=1" % number for number in range(3_000))),
    "fields that are no text": (_PLAIN, b"page=%ff%00&=&&=x&by=%ed%a0%80&key=%e2%80%ae"),
    "a line break in a field": (_PLAIN, b"page=a%0d%0aSet-Cookie:%20x"),
}


@pytest.fixture
def served(tmp_path: Path, pack: Pack) -> LocalPage:
    rig = tmp_path / "barn.yaml"
    rig.write_text(_RIG)
    return local_page(rig, pack)


def _taking_forms(served: LocalPage) -> Iterator[str]:
    for route in served.client.app.routes:  # type: ignore[attr-defined]
        if isinstance(route, Route) and "POST" in (route.methods or ()):
            yield route.path.replace("{name}", "start-up")


@pytest.mark.parametrize("name", _SENT)
def test_no_page_fails_over_what_is_sent_to_it(name: str, served: LocalPage) -> None:
    sort, body = _SENT[name]
    paths = list(_taking_forms(served))
    assert "/photo" in paths and "/answer" in paths
    for path in paths:
        headers = {"origin": BASE, "content-type": sort}
        reply = served.client.post(path, content=body, headers=headers, follow_redirects=False)
        assert reply.status_code in (200, 303, 400, 403, 409, 410, 422), (path, reply.text)
        assert "set-cookie" not in reply.headers
    assert {one.name for one in served.rig.parent.iterdir()} <= {"barn.yaml", "barn-look-2026-11-25.yaml"}
    assert served.rig.read_text() == _RIG
    assert served.looks().count("thing:") <= 1 and "every:" not in served.looks()  # the head of a look that began


@pytest.mark.parametrize("name", ["no boundary", "another boundary", "no end", "a thousand parts", "two photos"])
def test_a_form_of_a_photo_that_is_none_is_the_senders_mistake_and_told_in_a_line(name: str, served: LocalPage) -> None:
    sort, body = _SENT[name]
    reply = served.client.post("/photo", content=body, headers={"origin": BASE, "content-type": sort})
    assert reply.status_code == 400
    assert "Send it once more." in reply.text or "Choose one, then keep it." in reply.text
    assert [one.name for one in served.rig.parent.iterdir()] == ["barn.yaml"]


def test_what_fails_in_a_page_itself_is_told_in_a_line(
    served: LocalPage, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    async def failing(request: object) -> None:
        raise ZeroDivisionError("by nought")

    monkeypatch.setattr("rigcheck.cli.page.photo_desk._sent", failing)
    reply = served.post("/photo", {})
    assert reply.status_code == 500
    assert reply.text.count("\n") == 0 and "ZeroDivisionError" in reply.text and "Please report this line" in reply.text
    assert capsys.readouterr().err == f"rigcheck: {reply.text}\n"


# --- a server, and what no browser sends ---

_ODD_HEADS = {
    "a length below nothing": ("Content-Length: -5", b"", b"400"),
    "a length past all bounds": ("Content-Length: 999999999999999999999", b"a", b"400"),
    "two lengths": ("Content-Length: 3\r\nContent-Length: 5", b"a=b", b"400"),
    "a chunk that is no number": ("Transfer-Encoding: chunked", b"zz\r\nabc\r\n0\r\n\r\n", b"400"),
    "a chunk below nothing": ("Transfer-Encoding: chunked", b"-3\r\nabc\r\n0\r\n\r\n", b"400"),
    "chunks past the bound": ("Transfer-Encoding: chunked", b"fffff\r\n" + b"a" * 0xFFFFF + b"\r\n0\r\n\r\n", b"413"),
}


def test_a_server_stands_what_no_browser_sends_and_tells_its_terminal_of_nothing(tmp_path: Path) -> None:
    rig = tmp_path / "barn.yaml"
    rig.write_text(_RIG)
    served = Served(rig)
    try:
        served.start()
        served.one_more()
        assert served.inside is not None and served.process is not None
        for name, (head, body, wanted) in _ODD_HEADS.items():
            assert _said(served, head, body)[9:12] == wanted, name
        _said(served, "Content-Length: 50", b"page=", wait=False)  # it goes away while it sends
        assert served.inside.get("/").status_code == 200
        served.process.terminate()
        assert served.process.communicate(timeout=30)[1] == ""
    finally:
        served.kill()


def _said(served: Served, head: str, body: bytes, *, wait: bool = True) -> bytes:
    host = urlsplit(served.origin)
    assert served.inside is not None and host.hostname
    cookie = "; ".join(f"{name}={value}" for name, value in served.inside.cookies.items())
    lines = ("POST /answer HTTP/1.1", f"Host: {host.netloc}", f"Origin: {served.origin}", f"Cookie: {cookie}", head)
    with socket.create_connection((host.hostname, host.port or 80), timeout=30) as made:
        made.sendall("\r\n".join((*lines, "", "")).encode() + body)
        return made.recv(65_536) if wait else b""
