"""A procedure by the hand on the local page: its order, its values, its clocks, its record."""

from __future__ import annotations

import re
from pathlib import Path

import html5lib
import pytest
from support.in_full import sites_in_full
from support.local_page import LocalPage, local_page

from rigcheck.rules.pack import Pack

_SITE = sites_in_full() / "tool-room-welding.yaml"
_RECORD = "set-start-up-2026-11-25.yaml"


@pytest.fixture
def served(tmp_path: Path, pack: Pack) -> LocalPage:
    rig = tmp_path / "set.yaml"
    rig.write_bytes(_SITE.read_bytes())
    return local_page(rig, pack)


def _heading(text: str) -> str:
    found = re.search(r"<h1[^>]*>([^<]+)</h1>", text)
    assert found
    return found[1]


def _hidden(text: str) -> dict[str, str]:
    return {name: re.search(rf'name="{name}" value="(\d+)"', text)[1] for name in ("step", "count")}  # type: ignore[index]


def _since(text: str) -> dict[str, str]:
    return dict(re.findall(r'name="(\w+-since)" value="(\d*)"', text))


def _done(served: LocalPage, text: str, procedure: str = "start-up", **values: str) -> str:
    """Record the step that is shown; of a choice the first word."""
    told = _hidden(text)
    for name in re.findall(r'<input type="radio" name="(\w+)" value="[^?]', text):
        first = re.search(rf'name="{name}" value="([^"]+)"', text)
        assert first
        told[name] = first[1]
    return served.post(f"/work/{procedure}/done", {**told, **values}).text


def _until(served: LocalPage, heading: str) -> str:
    text = served.client.get("/work/start-up").text
    for _ in range(20):
        if _heading(text).startswith(heading):
            return text
        text = _done(served, text)
    raise AssertionError(f"{heading} did not come")


def test_a_step_is_shown_with_where_to_stand_and_stop_and_emergency_beside_it(served: LocalPage) -> None:
    text = _until(served, "Open acetylene cylinder valve")
    html5lib.HTMLParser(strict=True).parse(text)
    assert "<b>Stand:</b> To the side of the trolley" in text
    assert "no more than 1.5 turns" in text
    assert 'href="/emergency"' in text
    assert 'action="/work/start-up/stop"' in text
    assert not re.search(r"\bchecked\b", text)


def test_each_step_is_in_the_record_before_the_next_is_shown(served: LocalPage) -> None:
    text = served.client.get("/work/start-up").text
    path = served.rig.with_name(_RECORD)
    assert not path.exists(), "nothing is written before something was done"
    second = _done(served, text)
    assert "weigh_the_risks" in path.read_text()
    assert _heading(second) != _heading(text)


def test_a_value_is_judged_at_once_and_the_step_is_asked_again(served: LocalPage) -> None:
    text = _done(served, _until(served, "Open acetylene cylinder valve"), turns="3 turns")
    assert "Close the valve, see that the knob is backed off" in text
    assert "at most 1.5 turns" in text
    assert _heading(text) == "Open acetylene cylinder valve, acetylene cylinder"
    better = _done(served, text, turns="1 turn")
    assert 'class="finding"' in text
    assert 'class="finding"' not in better
    assert served.rig.with_name(_RECORD).read_text().count("open_acetylene_cylinder_valve") == 2


def test_what_is_no_value_is_not_recorded_and_kept_in_the_field(served: LocalPage) -> None:
    text = _until(served, "Open acetylene cylinder valve")
    for typed, told in (("3 parsec", "no unit that is known"), ("", "Answer this, or mark that you cannot tell.")):
        answered = _done(served, text, turns=typed)
        assert told in answered
        assert f'value="{typed}"' in answered
    assert "open_acetylene" not in served.rig.with_name(_RECORD).read_text()
    assert _heading(_done(served, text, turns="?")) != _heading(text), "one may be unable to tell"


def test_a_step_that_is_sent_twice_is_recorded_once_and_one_that_came_between_is_told(served: LocalPage) -> None:
    text = served.client.get("/work/start-up").text
    _done(served, text)
    _done(served, text)
    record = served.rig.with_name(_RECORD)
    assert record.read_text().count("weigh_the_risks") == 1
    second = served.client.get("/work/start-up").text
    _done(served, second)
    third = served.client.get("/work/start-up").text
    _done(served, third)
    before = record.read_text()
    assert "Meanwhile another step was recorded" in _done(served, second)
    assert record.read_text() == before


def test_of_two_tabs_that_record_one_step_the_second_is_told_unless_it_says_the_same(served: LocalPage) -> None:
    text = _until(served, "Open acetylene cylinder valve")
    _done(served, text, turns="1 turn")
    record = served.rig.with_name(_RECORD)
    before = record.read_text()
    assert "Meanwhile" not in _done(served, text, turns="360 deg"), "it was sent twice"
    late = _done(served, text, turns="3 turns")
    assert "Meanwhile another step was recorded" in late and 'value="3 turns"' in late
    assert record.read_text() == before


def test_two_browsers_of_one_person_do_one_procedure_in_one_record(served: LocalPage) -> None:
    other = served.browser()
    served.enter(other)
    first, second = (client.get("/work/start-up").text for client in (served.client, other))
    _done(served, _done(served, first))
    late = served.post("/work/start-up/done", _hidden(second), other)
    assert late.status_code == 409 and "Meanwhile another step was recorded" in late.text
    (record,) = served.rig.parent.glob("*start-up*")
    assert record.read_text().count("weigh_the_risks") == 1
    assert _heading(other.get("/work/start-up").text) != _heading(second)


def test_a_step_out_of_its_order_is_warned_of_and_then_told_with_what_to_do(served: LocalPage) -> None:
    text = _until(served, "Back off knobs, oxygen")
    number, label = re.search(r'\?step=(\d+)"><span><b>(Open acetylene cylinder valve[^<]*)<', text).groups()  # type: ignore[union-attr]
    early = served.client.get(f"/work/start-up?step={number}").text
    assert _heading(early) == label
    assert "Not yet: first " in early
    after = _done(served, early, turns="1 turn")
    assert "not done before" in after
    assert 'class="word danger"' in after


def test_what_is_recorded_is_corrected_beside_the_old_line_and_comes_again_where_it_failed(served: LocalPage) -> None:
    text = _until(served, "Open acetylene cylinder valve")
    number = _hidden(text)["step"]
    after = _done(served, text, turns="1 turn")
    assert f'?step={number}"' in after.partition("What is recorded")[2]
    assert f'?step={number}"' not in after.partition("What is recorded")[0]
    again = served.client.get(f"/work/start-up?step={number}").text
    assert "Recorded already: turns: 1 turn, at " in again
    failed = _done(served, again, turns="5 turn")
    assert "turns: 5 turn" in failed
    assert _heading(failed) == _heading(text)
    assert 'href="/work/shut-down"' not in failed, "a WARNING leaves the rig as it is"
    record = served.rig.with_name(_RECORD).read_text()
    assert record.index("turns: 1 turn") < record.index("turns: 5 turn")


def test_acetylene_too_high_at_the_leak_test_is_told_at_once_with_how_to_leave_the_rig(served: LocalPage) -> None:
    text = served.client.get("/work/leak-test").text
    for _ in range(3):
        if "See acetylene pressure on" in _heading(text):
            break
        text = _done(served, text, "leak-test")
    told = _done(served, text, "leak-test", pressure="9 bar")
    assert 'class="word danger"' in told
    assert 'href="/work/shut-down"' in told
    assert _heading(told) == _heading(text)


def test_stopped_it_says_so_and_can_be_gone_on_with(served: LocalPage) -> None:
    _until(served, "Show the permit")
    stopped = served.post("/work/start-up/stop", {}).text
    record = served.rig.with_name(_RECORD)
    assert _heading(stopped) == "Stopped"
    assert 'href="/work/shut-down"' in stopped
    assert re.search('^stopped: "', record.read_text(), re.MULTILINE)
    text = served.client.get("/work/start-up").text
    assert _heading(text) == "Show the permit"
    _done(served, text)
    assert "stopped:" not in record.read_text()
    assert len(list(served.rig.parent.glob("*start-up*"))) == 1


def test_the_end_names_the_record_without_its_folder_and_asks_once_of_like_things(tmp_path: Path, pack: Pack) -> None:
    rig = tmp_path / "set.yaml"
    rig.write_text("rig: any\nlocal_code: uk\nstandard_rig: oxy-propane-cutting\n")
    served = local_page(rig, pack)
    text = served.client.get("/work/purge").text
    for _ in range(6):
        if 'name="step"' not in text:
            break
        text = _done(served, text, "purge", time="30 s")
    assert _heading(text) == "Every step is recorded"
    assert str(tmp_path) not in text
    assert "set-purge-" in text
    said = re.findall(r"Open: (.*?)</li>", text)
    assert len(said) == len(set(said)) >= 2
    joints = "Did the last leak test find the joint tight? It was not said (propane joint, cylinder to regulator; "
    assert any(one.startswith(joints) and re.search(r" and \d more\)\.$", one) for one in said), said


def test_what_need_not_be_done_can_be_left_out_and_nothing_else(served: LocalPage) -> None:
    text = served.client.get("/work/start-up").text
    assert "/pass" not in text
    served.post("/work/start-up/pass", {"step": _hidden(text)["step"]})
    assert _heading(served.client.get("/work/start-up").text) == _heading(text)


def test_a_clock_is_started_and_read_off(served: LocalPage) -> None:
    text = served.client.get("/work/leak-test").text
    shown = re.search(r'\?step=(\d+)"><span><b>Hold', text) or re.search(r'\?step=(\d+)"><span><b>Watch', text)
    assert shown
    text = served.client.get(f"/work/leak-test?step={shown[1]}").text
    name = re.search(r'name="clock" value="(\w+)"', text)
    assert name
    running = served.post("/work/leak-test/clock", {**_hidden(text), "clock": name[1]}).text
    late = served.post("/work/leak-test/clock", {**_hidden(text), "clock": name[1], f"{name[1]}-since": ""})
    assert late.status_code == 409 and "Meanwhile the clock was started or read off" in late.text  # of another tab
    assert re.search(r"Running since \d\d:\d\d:\d\d, until \d\d:\d\d:\d\d at least", running)
    assert 'role="timer"' in running
    read = served.post("/work/leak-test/clock", {**_hidden(text), "clock": name[1], **_since(running)}).text
    assert re.search(rf'name="{name[1]}" value="\d+ s"', read)


def test_a_rig_on_hold_is_not_started_but_shut_down(tmp_path: Path, pack: Pack) -> None:
    rig = tmp_path / "set.yaml"
    rig.write_text(_SITE.read_text().replace("upright: true", "upright: false"))
    served = local_page(rig, pack)
    held = served.client.get("/work/start-up")
    assert held.status_code == 409
    assert "Put right first what holds it" in held.text
    assert 'action="/work/shut-down/done"' in served.client.get("/work/shut-down").text
    assert "on hold" in served.client.get("/work").text


@pytest.mark.parametrize("name", ["nothing", "emergency-leak", "..", "%2e%2e%2fset"])
def test_what_is_no_procedure_writes_nothing(served: LocalPage, name: str) -> None:
    served.client.get(f"/work/{name}")
    served.post(f"/work/{name}/done", {"step": "1", "count": "0"})
    assert [one.name for one in served.rig.parent.iterdir()] == ["set.yaml"]


def test_a_procedure_that_was_named_is_what_comes_first(tmp_path: Path, pack: Pack) -> None:
    rig = tmp_path / "set.yaml"
    rig.write_bytes(_SITE.read_bytes())
    served = local_page(rig, pack, first="/work/start-up")
    entered = served.enter(served.browser())
    assert _heading(entered.text) == "Weigh the risks"


def test_a_clock_that_was_started_without_a_connection_counts_from_when_it_was_pressed(served: LocalPage) -> None:
    text = served.client.get("/work/leak-test").text
    steps = re.findall(r'href="(/work/leak-test\?step=\d+)"', text)
    shown = next(page for one in steps if "/clock" in (page := served.client.get(one.replace("&amp;", "&")).text))
    name = re.search(r'name="clock" value="(\w+)"', shown)
    assert name
    pressed = {**_hidden(shown), "clock": name[1]}
    running = served.post("/work/leak-test/clock", {**pressed, "late": "90"}).text
    read = served.post("/work/leak-test/clock", {**pressed, **_since(running), "late": "0"}).text
    assert re.search(rf'name="{name[1]}" value="9[0-9] s"', read)


def test_procedures_are_listed_as_the_day_goes_and_what_shuts_the_gas_off_comes_first(served: LocalPage) -> None:
    listed = re.findall(r'href="/work/([\w-]+)"', served.client.get("/work").text)
    assert [
        one for one in listed if one in ("start-up", "leak-test", "lighting", "shut-down", "break", "overnight")
    ] == [*("start-up", "leak-test", "lighting", "shut-down", "break", "overnight")]
    _done(served, served.client.get("/work/break").text, "break")
    ended = served.post("/work/break/stop", {}).text
    ways = re.findall(r'class="button" href="/work/([\w-]+)"', ended)
    assert ways[:2] == ["shut-down", "break"]
