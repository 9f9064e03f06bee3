"""Tags that things of several rigs bear, as a value that is judged like a rig."""

from __future__ import annotations

from datetime import date

from rigcheck.judge.inspection import explain
from rigcheck.judge.judged import judge
from rigcheck.rig.loader import load_rig
from rigcheck.rig.register_reader import load_register
from rigcheck.rig.shared_tags import MetTag, fleet_of, tags_of
from rigcheck.rules.pack import Pack
from rigcheck.text.place import Place

DAY = date(2026, 11, 25).toordinal()
RIG = "rig: NAME\nlines: [{gas: oxygen, parts: [cylinder, regulator, hose: {tag: H-1}]}]\ntorch: {form: cutting}\n"


def met(pack: Pack, *names: str) -> list[MetTag]:
    rigs = (load_rig(RIG.replace("NAME", one).encode(), f"{one}.yaml", pack.vocabulary) for one in names)
    return [tag for rig in rigs for tag in tags_of(rig)]


def test_a_tag_in_two_rigs_is_found_with_both_of_them(pack: Pack) -> None:
    fleet = fleet_of(met(pack, "a", "b"), pack.vocabulary)
    assert fleet is not None
    (found,) = explain(judge(fleet, pack, day=DAY)).findings
    assert found.rule == "rig/tag_is_in_one_rig"
    assert found.thing == "tag H-1: oxygen hose of “a” (a.yaml:2:64) and oxygen hose of “b” (b.yaml:2:64)"
    assert str(found.place) == "b.yaml:2:64"


def test_a_tag_in_three_rigs_is_one_finding_whatever_the_letters(pack: Pack) -> None:
    tags = met(pack, "a", "b", "c")
    fleet = fleet_of([tags[0], tags[1]._replace(tag=" h-1"), tags[2]], pack.vocabulary)
    assert fleet is not None
    (found,) = explain(judge(fleet, pack, day=DAY)).findings
    assert "3" in found.found[0].value


def test_a_tag_in_very_many_rigs_names_a_few_of_them_and_how_many_more(pack: Pack) -> None:
    (tag,) = met(pack, "a")
    many = [tag._replace(rig=f"rig {number}", place=Place(f"{number}.yaml", 2, 1)) for number in range(20_000)]
    fleet = fleet_of(many, pack.vocabulary)
    assert fleet is not None
    (found,) = explain(judge(fleet, pack, day=DAY)).findings
    assert found.thing.count("hose of") == 4
    assert found.thing.endswith(" and 19996 more")
    assert "20000" in found.found[0].value.replace(",", "")


def test_what_is_no_second_thing_is_not_told(pack: Pack) -> None:
    one, same = met(pack, "a"), met(pack, "a")
    assert fleet_of(one, pack.vocabulary) is None
    moved = same[0]._replace(place=Place("old/a.yaml", 2, 60))
    assert fleet_of([*one, moved], pack.vocabulary) is None  # two descriptions of one rig
    shared = Place("yard.yaml", 4, 2)
    people = [MetTag("P-1", "person", rig, shared) for rig in ("a", "b")]
    assert fleet_of(people, pack.vocabulary) is None  # one site file says it for both


def test_a_register_has_no_tags_of_rigs(pack: Pack) -> None:
    text = b"register: s\nthings: {H-1: {hose: {}}}\n"
    assert tags_of(load_register([(text, "s.yaml")], pack.vocabulary, "s.yaml").rig) == ()
