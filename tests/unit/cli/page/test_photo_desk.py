"""Photos: kept beside the look under a name of their own, whatever they were called, and only pictures."""

from __future__ import annotations

from pathlib import Path

import pytest
from httpx import Response
from support.local_page import BASE, LocalPage, local_page, page_name

from rigcheck.rules.pack import Pack

_RIG = "rig: barn set\nlines: [{gas: propane, parts: [cylinder, regulator, hose]}]\ntorch: {form: air-aspirated}\n"
_JPEG = b"\xff\xd8\xff\xe0" + bytes(64)


@pytest.fixture
def served(tmp_path: Path, pack: Pack) -> LocalPage:
    rig = tmp_path / "barn.yaml"
    rig.write_text(_RIG)
    return local_page(rig, pack)


def _send(served: LocalPage, text: str, data: bytes, called: str = "photo.jpg") -> Response:
    return served.client.post(
        "/photo", data={"page": page_name(text)}, files={"photo": (called, data)}, headers={"origin": BASE}
    )


@pytest.mark.parametrize("called", ["photo.jpg", "../../out.jpg", "<b>.jpg", "con\u202egpj.exe"])
def test_a_photo_is_kept_under_a_name_of_its_own_and_the_question_stays(served: LocalPage, called: str) -> None:
    text = served.post("/walk", {"only": "danger"}).text
    shown = _send(served, text, _JPEG, called)
    folder = served.rig.with_name("barn-look-2026-11-25-photos")
    (kept,) = folder.iterdir()
    assert kept.read_bytes() == _JPEG
    assert kept.name.startswith("001-")
    assert kept.suffix == ".jpg"
    assert page_name(shown.text) == page_name(text)
    assert kept.name in shown.text
    assert sorted(one.name for one in served.rig.parent.iterdir()) == [
        "barn-look-2026-11-25-photos",
        "barn-look-2026-11-25.yaml",
        "barn.yaml",
    ]
    assert "1 photo is kept in" in served.client.get("/").text


@pytest.mark.parametrize("data", [b"", b"GIF89a", b"<svg onload=alert(1)>", b"MZ\x90"])
def test_what_is_no_picture_is_told_and_not_kept(served: LocalPage, data: bytes) -> None:
    text = served.post("/walk", {"only": "danger"}).text
    assert "Nothing was written" in _send(served, text, data).text
    assert not served.rig.with_name("barn-look-2026-11-25-photos").exists()


def test_a_second_photo_replaces_none(served: LocalPage) -> None:
    text = served.post("/walk", {"only": "danger"}).text
    _send(served, text, _JPEG)
    _send(served, text, _JPEG + b"2")
    folder = served.rig.with_name("barn-look-2026-11-25-photos")
    assert sorted(one.name[:4] for one in folder.iterdir()) == ["001-", "002-"]


def test_more_than_a_photo_can_be_is_refused(served: LocalPage) -> None:
    text = served.post("/walk", {"only": "danger"}).text
    assert _send(served, text, _JPEG + bytes(17 * 1024 * 1024)).status_code == 413
    assert not served.rig.with_name("barn-look-2026-11-25-photos").exists()
