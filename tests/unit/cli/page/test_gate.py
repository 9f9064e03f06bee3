"""Who is let in to the local page, and what is taken from him."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from support.local_page import BASE, LocalPage, local_page, page_name

from rigcheck.rules.pack import Pack

_RIG = "rig: barn set\nlines: [{gas: propane, parts: [cylinder, regulator, hose]}]\ntorch: {form: air-aspirated}\n"


@pytest.fixture
def served(tmp_path: Path, pack: Pack) -> LocalPage:
    rig = tmp_path / "barn.yaml"
    rig.write_text(_RIG)
    return local_page(rig, pack)


@pytest.fixture
def stranger(served: LocalPage) -> TestClient:
    return served.browser()


@pytest.mark.parametrize("path", ["/", "/?key=other", "/?key=", "/ask", "/given", "/ahead", "/procedures", "/file"])
def test_nobody_sees_the_rig_without_a_key(served: LocalPage, stranger: TestClient, path: str) -> None:
    shown = stranger.get(path)
    assert shown.status_code == 403
    assert "propane" not in shown.text
    assert served.client.get("/").status_code == 200


def test_a_key_lets_one_browser_in_and_is_spent_only_when_somebody_says_who_looks(
    served: LocalPage, stranger: TestClient
) -> None:
    key = served.keys.new_key()
    for _ in range(2):  # what previews an address must not use it up
        assert "Who looks?" in stranger.get(f"/?key={key}").text
    assert stranger.get("/ask").status_code == 403
    assert served.post("/enter", {"key": key, "by": ""}, stranger).status_code == 422
    assert served.post("/enter", {"key": key, "by": "welder"}, stranger).status_code == 200
    assert served.post("/enter", {"key": key, "by": "welder"}, served.browser()).status_code == 403


def test_a_cookie_that_nobody_was_given_lets_nobody_in(served: LocalPage, stranger: TestClient) -> None:
    stranger.cookies.set(served.keys.cookie, "0" * 32)
    assert stranger.get("/ask").status_code == 403


def test_the_cookie_is_out_of_reach_of_scripts_and_of_other_sites(served: LocalPage, stranger: TestClient) -> None:
    form = {"key": served.keys.new_key(), "by": "welder"}
    entered = stranger.post("/enter", data=form, headers={"origin": BASE}, follow_redirects=False)
    assert {"HttpOnly", "SameSite=strict"} <= set(entered.headers["set-cookie"].split("; "))


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1", "127.0.0.1:1", "localhost:8765.evil.example", ""])
def test_another_host_is_refused(served: LocalPage, host: str) -> None:
    assert served.client.get("/", headers={"host": host}).status_code == 400


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "https://127.0.0.1:8765", "http://127.0.0.1:1"])
@pytest.mark.parametrize("path", ["/walk", "/answer", "/back", "/enter", "/photo", "/phone", "/step", "/begin"])
def test_what_is_sent_from_elsewhere_is_refused(served: LocalPage, origin: str, path: str) -> None:
    assert served.post(path, {"key": served.keys.new_key(), "by": "x"}, origin=origin).status_code == 403
    assert served.client.post(path, data={}).status_code == 403
    assert not served.looks()


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_only_what_a_browser_does_is_done(served: LocalPage, method: str) -> None:
    assert served.client.request(method, "/").status_code == 405


@pytest.mark.parametrize("path", ["/", "/ask", "/given", "/style.css", "/script.js", "/no-such-page"])
def test_every_page_says_that_nothing_else_may_run_or_be_loaded(served: LocalPage, path: str) -> None:
    headers = served.client.get(path).headers
    policy = dict(part.split(" ", 1) for part in headers["content-security-policy"].split("; "))
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == policy["form-action"] == "'self'"
    assert policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["cache-control"] == "no-store"


def test_an_answer_that_is_too_long_is_refused_and_nothing_is_written(served: LocalPage) -> None:
    text = served.post("/walk", {"only": ""}).text
    before = served.looks()
    assert served.answer(text, q0t0="x" * 70_000).status_code == 413
    parts = iter([b"page=x", *(b"y" * 10_000 for _ in range(7))])  # without a length that says so beforehand
    assert served.client.post("/answer", content=parts, headers={"origin": BASE}).status_code == 413
    assert served.looks() == before


@pytest.mark.parametrize(
    "path", ["/../barn.yaml", "/..%2fbarn.yaml", "/barn.yaml", "/style.css/../barn.yaml", "//etc/passwd"]
)
def test_no_path_reaches_a_file(served: LocalPage, path: str) -> None:
    shown = served.client.get(path)
    assert shown.status_code in (400, 404)
    assert "propane" not in shown.text


@pytest.mark.parametrize(
    "name",
    [
        "",
        "[]",
        "null",
        "[" * 5000,
        '["../../etc/passwd",false,"",[["rig","name",0]]]',
        '["regulator_body",false,"",[["../barn.yaml","leak_test",0]]]',
        '["regulator_body",false,"",[[1,2,3]]]',
        '["regulator_body",false,"",{}]',
    ],
)
def test_a_name_that_names_no_page_writes_nothing(served: LocalPage, name: str) -> None:
    served.post("/walk", {"only": ""})
    before = served.looks()
    assert served.post("/answer", {"page": name, "q0t0": "yes"}).status_code == 410
    assert served.client.get("/ask", params={"page": name}).status_code == 410
    assert served.looks() == before


def test_hostile_names_are_shown_as_text(tmp_path: Path, pack: Pack) -> None:
    rig = tmp_path / "barn.yaml"
    hostile = '<img src=x onerror=alert(1)> {{ 7*7 }} \\"><script>alert(2)</script>'
    rig.write_text(_RIG.replace("barn set", f'"{hostile}"').replace("hose]", f'{{hose: {{tag: "{hostile}"}}}}]'))
    served = local_page(rig, pack)
    served.enter(other := served.browser(), "<b>fitter</b>")
    asked = served.post("/walk", {"only": ""}, other).text
    assert "&lt;b&gt;fitter&lt;/b&gt;" in asked
    for text in (served.client.get("/").text, served.client.get("/given").text, asked):
        assert "<img" not in text
        assert not re.findall(r"<script(?! src=\"/script\.js\" defer>)", text)
        assert "{{ 7*7 }}" in text
    for steering in ("fit\u202eter", "fit\u200bter", "fit\x07ter"):
        form = {"key": served.keys.new_key(), "by": steering}
        assert served.post("/enter", form, served.browser()).status_code == 422
    assert 'by: "<b>fitter</b>"' in served.looks()


def test_nothing_is_loaded_but_the_style_and_the_script_of_the_page(served: LocalPage) -> None:
    text = served.post("/walk", {"only": ""}).text
    assert not re.findall(r'\b(?:src|href)="(?!/[a-z./]*"|#)', text)
    assert not re.findall(r"\son\w+=|style=", text)
    assert page_name(text)
