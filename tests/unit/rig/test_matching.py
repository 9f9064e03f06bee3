"""Things of two rigs side by side; the alignment of parts is checked against difflib where kinds alone decide."""

from __future__ import annotations

from difflib import SequenceMatcher

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.quantity.notation import read_day, read_quantity
from rigcheck.rig.loader import load_rig
from rigcheck.rig.matching import Pair, match_rigs, same_as_stated
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack

RIG = "rig: Set\nlines:\n  - gas: oxygen\n    parts: [{}]\ntorch: {{}}\n"
KINDS = ("cylinder", "regulator", "arrester", "hose", "joiner")


def rig(pack: Pack, parts: str) -> Rig:
    return load_rig(RIG.format(parts).encode(), "set.yaml", pack.vocabulary)


def parts(pairs: list[Pair]) -> list[tuple[str, str, bool]]:
    """Return the parts of the line as (label before, label after, moved)."""
    told = []
    for pair in pairs:
        thing = pair.after or pair.before
        if thing is not None and thing.parent is not None and thing.parent.kind.name == "line" and thing.key != "joint":
            told.append((*((one.label if one else "") for one in (pair.before, pair.after)), pair.moved))
    return [(a.removeprefix("oxygen "), b.removeprefix("oxygen "), moved) for a, b, moved in told]


def matched(pack: Pack, before: str, after: str) -> list[tuple[str, str, bool]]:
    return parts(match_rigs(rig(pack, before), rig(pack, after)))


def test_parts_are_matched_in_the_order_of_flow(pack: Pack) -> None:
    assert matched(pack, "cylinder, regulator, hose", "cylinder, regulator, hose") == [
        ("cylinder", "cylinder", False),
        ("regulator", "regulator", False),
        ("hose", "hose", False),
    ]


def test_an_added_and_a_missing_part_stand_where_they_are(pack: Pack) -> None:
    assert matched(pack, "cylinder, hose", "cylinder, regulator, hose")[1] == ("", "regulator", False)
    assert matched(pack, "cylinder, arrester, hose", "cylinder, hose")[1] == ("arrester", "", False)


def test_a_part_that_stands_elsewhere_has_moved(pack: Pack) -> None:
    found = matched(pack, "cylinder, regulator, arrester, hose", "cylinder, arrester, regulator, hose")
    assert [pair for pair in found if pair[2]] in ([("arrester", "arrester", True)], [("regulator", "regulator", True)])
    assert len(found) == 4


def test_of_two_like_parts_the_likest_is_matched(pack: Pack) -> None:
    before = "cylinder, hose: {bore: 8 mm, length: 5 m}, hose: {bore: 6 mm, length: 10 m}"
    assert matched(pack, before, "cylinder, hose: {bore: 6 mm, length: 10 m}")[1:] == [
        ("hose 1", "", False),
        ("hose 2", "hose", False),
    ]


@given(st.lists(st.sampled_from(KINDS), max_size=9), st.lists(st.sampled_from(KINDS), max_size=9))
def test_as_many_parts_are_matched_in_order_as_can_be(pack: Pack, before: list[str], after: list[str]) -> None:
    """No fewer than difflib finds; its blocks are not always the longest run."""
    found = matched(pack, ", ".join(["cylinder", *before]), ", ".join(["cylinder", *after]))
    in_order = sum(bool(a and b and not moved) for a, b, moved in found)
    blocks = SequenceMatcher(None, ["cylinder", *before], ["cylinder", *after], autojunk=False).get_matching_blocks()
    assert in_order >= sum(block.size for block in blocks)
    assert sum(bool(a) for a, _, _ in found) == len(before) + 1
    assert sum(bool(b) for _, b, _ in found) == len(after) + 1


def test_lines_are_matched_by_their_gas_and_not_by_their_order(pack: Pack) -> None:
    text = "rig: Set\nlines:\n  - {{gas: {}, parts: [hose]}}\n  - {{gas: {}, parts: [hose]}}\ntorch: {{}}\n"
    before, after = (
        load_rig(text.format(*gases).encode(), "set.yaml", pack.vocabulary)
        for gases in (("propane", "oxygen"), ("oxygen", "propane"))
    )
    pairs = match_rigs(before, after)
    assert all(p.before is not None and p.after is not None and p.before.label == p.after.label for p in pairs)


def test_torches_are_matched_by_name_and_people_by_likeness(pack: Pack) -> None:
    text = (
        "rig: Set\npeople: [{}]\nlines:\n"
        "  - {{gas: oxygen, to: left, parts: [hose]}}\n  - {{gas: propane, to: right, parts: [hose]}}\ntorch: [{}]\n"
    )
    people = ["{role: user, trained: yes}", "{role: helper, trained: no}"]
    torches = ["{name: left, form: cutting}", "{name: right, form: cutting}"]
    before, after = (
        load_rig(text.format(", ".join(p), ", ".join(t)).encode(), "set.yaml", pack.vocabulary)
        for p, t in ((people, torches), (people[::-1], torches[::-1]))
    )
    for pair in match_rigs(before, after):
        assert pair.before is not None and pair.after is not None
        for fact in ("role", "name"):
            assert pair.before.facts.get(fact) == pair.after.facts.get(fact)


@pytest.mark.parametrize(
    ("one", "other", "dimension", "same"),
    [
        ("8 mm", "0.8 cm", "length", True),
        ("1 in", "25.4 mm", "length", True),
        ("1/2 in", "12.7 mm", "length", True),
        ("8 mm", "8.1 mm", "length", False),
        ("20 ± 1 deg", "19 to 21 deg", "angle", True),
        ("20 ± 1 deg", "20 deg", "angle", False),  # measured less closely
        ("5 year", "60 month", "age", True),
        ("0 bar", "1.01325 bar abs", "pressure", True),
    ],
)
def test_one_value_in_two_units_is_no_difference(one: str, other: str, dimension: str, same: bool) -> None:
    assert same_as_stated(read_quantity(one, dimension), read_quantity(other, dimension)) is same


def test_a_month_and_a_day_in_it_differ_and_the_order_of_words_does_not() -> None:
    assert not same_as_stated(read_day("2024-03"), read_day("2024-03-01"))
    assert same_as_stated(("propane", "oxygen"), ("oxygen", "propane"))
    assert not same_as_stated(("propane",), ("propane", "oxygen"))
    assert not same_as_stated(None, "none") and not same_as_stated(True, 1)
