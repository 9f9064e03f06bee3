"""A long report begins with its state and what holds the rig; a finding says first what was found."""

from __future__ import annotations

import re
from datetime import date

import pytest
from support.in_full import sites_in_full

from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.report.junit import junit_suite
from rigcheck.report.text.inspection_text import inspection_lines
from rigcheck.report.text.layout import plain_text
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack

TILTED = b"""rig: small
trolley: {tilt: 30 deg}
lines:
  - {gas: propane, parts: [cylinder, regulator, hose]}
torch: {form: air-aspirated}
"""


def _inspected(data: bytes, pack: Pack) -> Inspection:
    return inspect_rig(load_rig(data, "rig.yaml", pack.vocabulary), pack, day=date(2026, 11, 25).toordinal())


def _told(inspection: Inspection, width: int) -> str:
    return plain_text(inspection_lines(inspection, width, hold_at="warning"))


def _first_screen(report: str) -> list[str]:
    """The lines up to the blank one below the state and what holds the rig."""
    heading, _, rest = report.partition("\n\n")
    return [*heading.split("\n"), "", *rest.partition("\n\n")[0].split("\n")]


def test_a_rig_with_many_questions_says_first_that_it_is_held_by_what_and_what_to_do(pack: Pack) -> None:
    screen = " ".join("\n".join(_first_screen(_told(_inspected(TILTED, pack), 80))).split())
    assert screen.index("State: on hold.") < screen.index(
        "DANGER trolley (line 2): tilt: 30 deg, must be at most 20 deg. Do: "
    )


@pytest.mark.parametrize("width", [40, 60, 80, 120])
@pytest.mark.parametrize("rig", ["van-pipe-repair", "wharf-crane-rail", "slipway-ballast-tank"])
def test_the_first_screen_is_no_longer_than_a_small_screen_and_counts_what_it_leaves_out(
    rig: str, width: int, pack: Pack
) -> None:
    inspection = _inspected((sites_in_full() / f"{rig}.yaml").read_bytes(), pack)
    screen = _first_screen(_told(inspection, width))
    assert len(screen) <= 20
    held = sum(finding.signal in ("danger", "warning") for finding in inspection.findings)
    assert screen[-1].strip().endswith("more below") or sum(line.startswith(("D", "W")) for line in screen) <= held


@pytest.mark.parametrize("rig", ["van-pipe-repair", "wharf-crane-rail", "slipway-ballast-tank"])
def test_what_holds_the_rig_is_told_with_what_to_do_first(rig: str, pack: Pack) -> None:
    inspection = _inspected((sites_in_full() / f"{rig}.yaml").read_bytes(), pack)
    screen = _first_screen(_told(inspection, 80))
    told = [" ".join(one.split()) for one in "\n".join(screen).replace("\nDANGER", "\fDANGER").split("\f")[1:]]
    told = told or [" ".join(one.split()) for one in "\n".join(screen).split("\nWARNING")[1:]]
    assert len(told) >= 3
    named = not screen[-1].strip().endswith("more below")  # every one of them: that goes before what to do
    assert named or all(" Do: " in one for one in told[:-1]), told


def test_where_not_every_cure_fits_every_finding_is_named_and_the_gravest_have_theirs(pack: Pack) -> None:
    parts = "{parts: [cylinder, joint: {sealing: ptfe-tape}, regulator, joint: {leak_test: leaks}, hose]"
    lines = f"lines: [{parts}, gas: oxygen}}, {parts}, gas: acetylene}}]"
    rig = f"rig: set\ntrolley: {{tilt: 30 deg}}\n{lines}\ntorch: {{}}\n"
    inspection = _inspected(rig.encode(), pack)
    screens = [_first_screen(_told(inspection, width)) for width in (80, 100, 120, 160)]
    told = [[line for line in screen if line.startswith(("DANGER", "WARNING"))] for screen in screens]
    whole = [screen for screen in screens if not screen[-1].strip().endswith("more below")]
    assert whole and len({len(one) for one, screen in zip(told, screens, strict=True) if screen in whole}) == 1
    assert any(" ".join(screen).count(" Do: ") < len(rows) for rows, screen in zip(told, screens, strict=True))
    gravest = [" ".join(screen).partition("DANGER      ")[2].partition("DANGER      ")[0] for screen in screens]
    assert all(" Do: " in one for one in gravest)


@pytest.mark.parametrize("width", [60, 80, 120])
@pytest.mark.parametrize("slips", [1, 2, 5, 40])
def test_what_could_not_be_read_is_told_first_and_leaves_the_first_screen_room(
    slips: int, width: int, pack: Pack
) -> None:
    text = (sites_in_full() / "van-pipe-repair.yaml").read_text()
    for number in range(slips):
        text += f"unknown_word_{number}: nobody knows what this is meant to say\n"
    rig = load_rig(text.encode(), "rig.yaml", pack.vocabulary, what_can_be_read=True)
    told = _told(inspect_rig(rig, pack, day=date(2026, 11, 25).toordinal()), width)
    assert told.count("'unknown_word_") == slips
    screen = told.split("\n")[:20]
    state = next(number for number, line in enumerate(screen) if line.startswith("State: "))
    danger = next(number for number, line in enumerate(screen) if line.startswith("DANGER"))
    unread = next(number for number, line in enumerate(screen) if line.startswith(("not read", f"{slips} statement")))
    assert state < danger and unread < danger
    assert told.index("'unknown_word_0'") < told.index("\n  found ")


def test_two_findings_that_fill_more_than_a_screen_have_the_state_before_them(pack: Pack) -> None:
    told = _told(_inspected((sites_in_full() / "pump-chamber-purge.yaml").read_bytes(), pack), 60)
    assert len(told.split("\n")) > 20
    screen = _first_screen(told)
    assert len(screen) <= 20 and any(line.startswith("State: ") for line in screen)


def test_a_report_that_one_screen_shows_says_its_state_once(pack: Pack) -> None:
    inspection = _inspected((sites_in_full() / "tool-room-welding.yaml").read_bytes(), pack)
    assert len(inspection.findings) + len(inspection.questions) < 3
    assert _told(inspection, 80).count("State: ") == 1


def test_a_finding_says_what_was_found_before_what_must_be(pack: Pack) -> None:
    inspection = _inspected((sites_in_full() / "van-pipe-repair.yaml").read_bytes(), pack)
    for finding in inspection.findings:
        found, _, must = finding.told.partition(". Must be: ")
        assert found == finding.found_words
        assert must == finding.claim


def test_the_message_of_a_failed_case_is_no_claim_that_reads_as_fulfilled(pack: Pack) -> None:
    inspection = _inspected((sites_in_full() / "van-pipe-repair.yaml").read_bytes(), pack)
    suite = junit_suite(inspection, hold_at="warning", on_unproven=None)
    messages = suite.split('<failure message="')[1:]
    assert len(messages) > 20
    assert all(" Must be: " in message.partition('"')[0] for message in messages)
    names = re.findall(r'name="([^"]+)"><failure', suite)
    assert len(names) == len(messages) and all(": must be: " in name for name in names)


def test_what_could_not_be_read_leaves_no_danger_unnamed_on_the_first_screen(pack: Pack) -> None:
    parts = "cylinder: {oil_free: no}, regulator: {outlet_gage: {}}, arrester: {direction: against-flow}, hose"
    line = f"{{gas: oxygen, parts: [{parts}]}}"
    fuel = "{gas: acetylene, parts: [cylinder: {upright: no}, regulator, arrester, hose: {cover: cut}]}"
    text = f"rig: set\nlocal_code: uk\ntrolly: {{tilt: 8 deg}}\nlines: [{line}, {fuel}]\ntorch: {{form: cutting}}\n"
    rig = load_rig(text.encode(), "set.yaml", pack.vocabulary, what_can_be_read=True)
    screen = _first_screen(_told(inspect_rig(rig, pack, day=date(2026, 11, 25).toordinal()), 80))
    assert len(screen) <= 20 and any("2 statements" in row for row in screen)
    assert not screen[-1].strip().endswith("more below")
    assert sum(row.startswith("DANGER") for row in screen) >= 4
