"""What broke a rule reads as a person would say it."""

from __future__ import annotations

import pytest

from rigcheck.judge.breach_wording import Found, found_words, without_owners
from rigcheck.text.place import Place

_AT = Place("rig.yaml", 1, 1)


def _word(thing: str, fact: str, value: str) -> Found:
    return Found(thing, fact, value, _AT)


@pytest.mark.parametrize(
    ("thing", "found", "told"),
    [
        ("torch", [_word("torch", "head", "bent")], "head: bent"),
        ("job", [_word("site", "floor", "burning")], "floor: burning (site)"),
        (
            "rig",
            [_word("overnight", "hoses vented", "no"), _word("overnight", "locked", "no")],
            "hoses vented: no, locked: no (overnight)",
        ),
        (
            "oxygen line",
            [_word(f"oxygen joint, {at}", "leak age", "3 days") for at in ("a to b", "b to c", "c to torch")],
            "leak age: 3 days (oxygen joint, a to b; b to c; c to torch)",
        ),
        ("torch", [_word("argon line", "gas", "argon"), _word("air line", "gas", "air")], "gas: argon, air (line)"),
        ("regulator", [_word("regulator, inlet gauge", "limit mark", "no")], "limit mark: no (inlet gauge)"),
        ("site", [_word("rig", "trolley", "none")], "trolley: none"),
        ("hose", [_word("hose", "run", "over-sharp-edge")], "run: over sharp edge"),
        (
            "job",
            [Found("job", "fire watch after", "20 min", _AT, None, "quantity", "at least 60 min")],
            "fire watch after: 20 min, must be at least 60 min",
        ),
        (
            "torch",
            [_word("torch", "not in the record", f"try valve, torch, valve {number}") for number in (1, 2)],
            "not in the record: try valve, torch, valve 1; try valve, torch, valve 2",
        ),
        (
            "hose",
            [_word("hose", f"fact {number}", "no") for number in range(7)],
            "fact 0: no; fact 1: no; fact 2: no; fact 3: no; and 3 more",
        ),
    ],
)
def test_each_value_is_said_once_with_whose_it_is_in_brackets(thing: str, found: list[Found], told: str) -> None:
    assert found_words(thing, found) == told


def test_what_twins_have_in_common_names_neither() -> None:
    twins = [[_word(f"{gas} joint, a to b", "leak age", "3 days")] for gas in ("acetylene", "oxygen")]
    assert {without_owners(found) for found in twins} == {"leak age: 3 days"}
