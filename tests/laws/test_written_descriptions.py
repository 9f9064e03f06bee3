"""What was seen, written into the description: nothing is lost by it, and no verdict comes out otherwise.

The laws are ours. They are tried on every standard rig, as one that is begun from it and as one written in full.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from support.simulated_people import DAY, Round, bare, seen_whole, sound

import rigcheck
from rigcheck.asking.standing_facts import standing_facts
from rigcheck.asking.written_description import Written, written_description
from rigcheck.rig.look_file import read_look
from rigcheck.rules.pack import Pack

_TEMPLATES = sorted((rigcheck.configs_folder() / "templates").glob("*.yaml"))
_FEW = ("oxy-propane-cutting", "acetylene-bank-of-three", "two-torches-headers")  # a trolley, a bank, headers
_WAYS = ("begun from it", "its bare parts", "in full")
_LISTED = {"control valve", "torch", "nozzle", "hose pair"}  # a list in a rig takes the place of the standard rig's
_CASES = [
    pytest.param(path, way, marks=() if path.stem in _FEW else pytest.mark.whole, id=f"{path.stem}, {way}")
    for path in _TEMPLATES
    for way in _WAYS
]


@cache
def _look(path: Path, way: str, pack: Pack) -> tuple[bytes, str]:
    """Return a description, and a look that says all that can be seen of it."""
    text = path.read_bytes()
    truth = Round(text, pack, text=sound(text, pack)).judged().known.filled
    begun = f"# begun\nrig: x\nlocal_code: general\nstandard_rig: {path}\n".encode()
    description = {"begun from it": begun, "its bare parts": bare(text.decode()), "in full": text}[way]
    kinds = {one.path: one.kind for one in Round(description, pack).rig().things}
    same = {one.path for one in truth.things if kinds.get(one.path) is one.kind}
    return description, seen_whole(truth, "2026-11-25", lambda path, _: path in same)


def _verdicts(went: Round) -> dict[tuple[str, str], str]:
    return {(thing.path, rule.name): verdict for thing, rule, verdict, _ in went.judged().judgements()}


def _written(description: bytes, look: str, pack: Pack) -> Written:
    rig = Round(description, pack, text=look).rig()
    looks = [read_look(look.encode(), "look.yaml", pack.vocabulary)]
    return written_description(description.decode(), rig, standing_facts(looks, rig))


@pytest.mark.parametrize(("path", "way"), _CASES)
def test_verdicts_are_the_same_before_and_after_writing_and_nothing_that_was_written_is_lost(
    path: Path, way: str, pack: Pack
) -> None:
    description, look = _look(path, way, pack)
    made = _written(description, look, pack)
    assert len(made.sights) > 10
    assert {one.thing.kind.name for one in made.left_out} <= _LISTED
    letters = iter(made.text)
    assert all(letter in letters for letter in description.decode())
    before, after = (Round(one, pack, text=look) for one in (description, made.text.encode()))
    assert _verdicts(after) == _verdicts(before)
    assert _written(made.text.encode(), look, pack).text == made.text, "written once"


def test_what_was_written_bears_day_and_role_and_the_rig_stands_by_it_without_the_look(pack: Pack) -> None:
    description, look = _look(rigcheck.configs_folder() / "templates" / "oxy-propane-cutting.yaml", _WAYS[0], pack)
    rig = Round(_written(description, look, pack).text.encode(), pack).rig()
    told = [one for thing in rig.things for said in thing.said.values() for one in said]
    assert len(told) > 200
    assert {(one.basis, one.day, one.by) for one in told} - {("seen", None, "")} >= {("seen", DAY, "fitter")}


_OWN = b"""rig: one hose
lines:
  - gas: propane
    parts: [cylinder, regulator, {hose: {length: 10 m}}]
torch: {form: air-aspirated}
"""
_SAID = """look: rig.yaml
day: 2026-11-25
by: fitter
cannot_tell:
seen:
  - {thing: "lines[0].parts[2]", length: 15 m, kinked: no, cover: cut}
"""


def test_another_value_is_written_beside_the_old_one_and_both_are_told_of(pack: Pack) -> None:
    made = _written(_OWN, _SAID, pack)
    assert "length: 10 m" in made.text
    assert "# length: 10 m is written here too" in made.text
    assert "{seen: 2026-11-25, by: fitter, length: 15 m, cover: cut}" in made.text
    hose = next(one for one in Round(made.text.encode(), pack).judged().known.things if one.kind.name == "hose")
    assert {one.basis for one in hose.disputes["length"]} == {"written", "seen"}


def test_what_lasts_a_day_stays_in_the_look_alone(pack: Pack) -> None:
    assert "kinked" not in _written(_OWN, _SAID, pack).text


def test_a_correction_in_the_look_goes_before_what_was_copied_from_it(pack: Pack) -> None:
    text = _written(_OWN, _SAID, pack).text.encode()
    corrected = _SAID + '  - {thing: "lines[0].parts[2]", cover: sound}\n'
    hose = next(one for one in Round(text, pack, text=corrected).judged().known.things if one.kind.name == "hose")
    assert hose.facts["cover"] == "sound"
    assert "cover" not in hose.disputes
    again = _written(text, corrected, pack).text
    assert again.count("cover: cut") == 1, "the old line stays"
    alone = next(one for one in Round(again.encode(), pack).judged().known.things if one.kind.name == "hose")
    assert alone.facts["cover"] == "sound"


def test_what_is_taken_back_in_the_look_is_not_known_any_more(pack: Pack) -> None:
    text = _written(_OWN, _SAID, pack).text.encode()
    taken_back = _SAID + '  - {thing: "lines[0].parts[2]", cover: unknown}\n'
    hose = next(one for one in Round(text, pack, text=taken_back).judged().known.things if one.kind.name == "hose")
    assert "cover" not in hose.facts


def test_parts_of_the_standard_rig_get_their_place_between_those_that_are_written(pack: Pack) -> None:
    path = rigcheck.configs_folder() / "templates" / "oxy-propane-cutting.yaml"
    _, look = _look(path, _WAYS[0], pack)
    lines = "lines:\n  - gas: propane\n    parts:\n      # ours\n      - hose: {length: 10 m}"
    own = f"rig: x\nstandard_rig: {path}\n{lines}"
    made = _written(own.encode(), look, pack)
    before, after = (Round(one.encode(), pack, text=look) for one in (own, made.text))
    kinds = [{thing.path: thing.kind.name for thing in one.rig().things} for one in (before, after)]
    assert kinds[0] == kinds[1]
    assert _verdicts(after) == _verdicts(before)
    rows = [row.strip() for row in made.text.splitlines()]
    assert rows[rows.index("# ours") + 1].startswith("- hose: {length: 10 m")
