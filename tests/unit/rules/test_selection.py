"""Rules are chosen by what they are about, and what nobody knows is refused with the nearest word."""

from __future__ import annotations

import pytest

from rigcheck.rules.pack import Pack
from rigcheck.rules.selection import Selection, UnknownWord, choose_rules


def chosen(pack: Pack, **wanted: object) -> set[str]:
    return {rule.name for rule in choose_rules(pack.rules.values(), Selection(**wanted), pack)}  # type: ignore[arg-type]


def test_nothing_wanted_takes_every_rule(pack: Pack) -> None:
    assert chosen(pack) == set(pack.rules)


def test_a_kind_takes_the_rules_that_look_at_it_at_what_it_is_one_of_and_those_that_name_it(pack: Pack) -> None:
    found = chosen(pack, about="hose")
    assert "hoses/hose_is_not_pinched" in found  # looks at hoses
    assert "materials/oxygen_part_is_free_of_oil" in found  # looks at parts, and a hose is one
    assert "joints/hose_tail_has_the_bore_of_its_hose" in found  # looks at a hose end, reads the bore of its hose
    assert "trolley/trolley_stands_upright" not in found


def test_a_fact_takes_the_rules_that_read_it_of_the_kind_that_is_named(pack: Pack) -> None:
    assert chosen(pack, fact="bore", about="hose") == {
        "hoses/light_duty_hose_is_narrow",
        "joints/hose_tail_has_the_bore_of_its_hose",
    }
    assert chosen(pack, fact="bore", about="hose") <= chosen(pack, fact="bore")


def test_a_day_that_is_written_takes_the_rules_that_count_from_it(pack: Pack) -> None:
    assert "arresters/arrester_tested_in_time" in chosen(pack, fact="tested", about="arrester")
    assert "hoses/hose_within_service_life" in chosen(pack, fact="made", about="hose")


def test_a_local_code_leaves_out_what_counts_under_others_only(pack: Pack) -> None:
    found = chosen(pack, local_code="us")
    assert "hoses/american_oxygen_hose_is_green" in found
    assert "hoses/oxygen_hose_is_blue" not in found
    assert "hoses/hose_is_not_pinched" in found


def test_signal_words_are_taken_together(pack: Pack) -> None:
    words = {pack.rules[name].signal for name in chosen(pack, signals=("danger", "notice"))}
    assert words == {"danger", "notice"}


def test_what_nobody_knows_is_refused_with_the_nearest_word(pack: Pack) -> None:
    with pytest.raises(UnknownWord, match="no kind of thing is called 'hos'") as kind:
        chosen(pack, about="hos")
    assert kind.value.near == "hose"
    with pytest.raises(UnknownWord, match="no fact of hose is called 'boar'") as fact:
        chosen(pack, about="hose", fact="boar")
    assert fact.value.near == "bore"
