"""The walk as a local page: what it lets in, what it writes, and what it does not."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import html5lib
import pytest
from starlette.testclient import TestClient

from rigcheck.cli.ask_page import page_app
from rigcheck.cli.walk_on_disk import WalkOnDisk, look_for
from rigcheck.rules.pack import Pack
from tests.support.simulated_people import DAY

_RIG = """rig: "<script>one</script>"
lines: [{gas: propane, parts: [cylinder, regulator, hose]}]
torch: {form: air-aspirated}
people: none
workpiece: none
"""
_KEY, _PORT = "a-key", 8765
_BASE = f"http://127.0.0.1:{_PORT}"


@pytest.fixture
def going(tmp_path: Path, pack: Pack) -> WalkOnDisk:
    rig = tmp_path / "one.yaml"
    rig.write_text(_RIG)
    look, _ = look_for(str(rig), DAY, "fitter", pack)
    return WalkOnDisk(str(rig), look, pack, DAY, only="danger")


@pytest.fixture
def client(going: WalkOnDisk) -> Iterator[TestClient]:
    with TestClient(page_app(going, _KEY, _PORT, "warning"), base_url=_BASE) as made:
        yield made


@pytest.fixture
def let_in(client: TestClient) -> TestClient:
    assert client.get(f"/?key={_KEY}").status_code == 200
    return client


def _token(text: str) -> str:
    found = re.search(r'name="page" value="(\w+)"', text)
    assert found
    return found[1]


def _post(client: TestClient, data: dict[str, str], path: str = "/answer", origin: str = _BASE):  # type: ignore[no-untyped-def]
    return client.post(path, data=data, headers={"origin": origin})


def test_without_the_key_nothing_is_shown(client: TestClient) -> None:
    assert client.get("/").status_code == 403
    assert client.get("/?key=other").status_code == 403
    assert client.get("/style.css").status_code == 403


def test_another_host_or_origin_is_refused(let_in: TestClient) -> None:
    assert let_in.get("/", headers={"host": "evil.example"}).status_code == 400
    token = _token(let_in.get("/").text)
    assert _post(let_in, {"page": token, "f0": "open-air"}, origin="http://evil.example").status_code == 403
    assert let_in.post("/answer", data={"page": token, "f0": "open-air"}).status_code == 403


def test_nothing_is_loaded_from_elsewhere_and_no_script_runs(let_in: TestClient) -> None:
    shown = let_in.get("/")
    assert "default-src 'none'" in shown.headers["content-security-policy"]
    assert "<script" not in shown.text
    assert "&lt;script&gt;one&lt;/script&gt;" in shown.text
    assert not re.findall(r'(?:src|href)="(?!/style\.css")', shown.text)


def test_the_page_is_well_formed_and_nothing_is_chosen_beforehand(let_in: TestClient) -> None:
    text = let_in.get("/").text
    html5lib.HTMLParser(strict=True).parse(text)
    assert not re.search(r"\bchecked\b|\bselected\b", text)


def test_an_answer_is_on_the_disk_before_the_next_question(let_in: TestClient, going: WalkOnDisk) -> None:
    after = _post(let_in, {"page": _token(let_in.get("/").text), "f0": "open-air"})
    assert after.status_code == 200
    assert "  - {thing: site, place: open-air}\n" in going.look.read_text()
    assert "Where is the work done?" not in after.text


def test_what_is_no_answer_is_told_beside_it_and_what_was_typed_is_kept(let_in: TestClient, going: WalkOnDisk) -> None:
    before = going.look.read_text()
    token = _token(let_in.get("/").text)
    empty = _post(let_in, {"page": token})
    assert empty.status_code == 422
    assert "Answer this, or mark that you cannot tell." in empty.text
    both = _post(let_in, {"page": token, "f0": "open-air", "f0-x": "x", "f0-because": "no light"})
    assert "Both an answer and" in both.text
    assert re.search(r'value="open-air" checked', both.text)
    assert "Choose why you cannot tell." in _post(let_in, {"page": token, "f0-x": "x"}).text
    assert "is not one of its words" in unescape(_post(let_in, {"page": token, "f0": "moon"}).text)
    assert going.look.read_text() == before


def test_cannot_tell_is_put_down_with_why(let_in: TestClient, going: WalkOnDisk) -> None:
    _post(let_in, {"page": _token(let_in.get("/").text), "f0-x": "x", "f0-because": "no light"})
    assert "{thing: site, fact: place, because: no light}" in going.look.read_text()


def test_of_two_tabs_the_second_answer_to_one_question_is_told_and_not_written(
    let_in: TestClient, going: WalkOnDisk
) -> None:
    token = _token(let_in.get("/").text)
    _post(let_in, {"page": token, "f0": "open-air"})
    before = going.look.read_text()
    assert _post(let_in, {"page": token, "f0": "workshop"}).status_code == 409
    assert going.look.read_text() == before


def test_back_asks_again_and_the_new_answer_stands_below_the_old(let_in: TestClient, going: WalkOnDisk) -> None:
    _post(let_in, {"page": _token(let_in.get("/").text), "f0": "open-air"})
    again = _post(let_in, {}, path="/back")
    assert "It was answered." in again.text
    _post(let_in, {"page": _token(again.text), "f0": "workshop"})
    text = going.look.read_text()
    assert text.index("place: open-air") < text.index("place: workshop")


def test_an_answer_that_is_too_long_is_refused(let_in: TestClient, going: WalkOnDisk) -> None:
    before = going.look.read_text()
    assert _post(let_in, {"page": _token(let_in.get("/").text), "f0": "x" * 70_000}).status_code == 413
    assert going.look.read_text() == before


def test_a_walk_on_the_page_comes_to_its_end_and_says_who_decides(let_in: TestClient, going: WalkOnDisk) -> None:
    text = let_in.get("/").text
    for _ in range(200):
        if "End of this walk" in text:
            break
        names = set(re.findall(r'name="(f\d+)-x"', text))
        told = {f"{name}-x": "x" for name in names} | {f"{name}-because": "no light" for name in names}
        text = _post(let_in, {"page": _token(text), **told}).text
    assert "End of this walk" in text
    assert "decide whether this rig may be used. This report does not." in unescape(text)
    assert going.walk.next_page is None
