"""What is on record, what was seen, what a standard rig says: laid into a rig, each with its witness."""

from __future__ import annotations

from datetime import date

import pytest

from rigcheck.judge.inspection import explain
from rigcheck.judge.judged import Judged, judge
from rigcheck.rig.around import Around
from rigcheck.rig.loader import load_rig
from rigcheck.rig.look_file import LookFile, read_look
from rigcheck.rig.register import Register
from rigcheck.rig.register_reader import load_register
from rigcheck.rig.thing import MISSING, Rig, Thing
from rigcheck.rules.pack import Pack
from rigcheck.rules.standard_rigs import standard_of
from rigcheck.text.faults import Refused

DAY = date(2026, 11, 25).toordinal()
RIG = """
rig: gate repair
lines:
  - gas: oxygen
    parts:
      - cylinder: {pressure: 150 bar}
      - regulator: {tag: R-1}
      - hose: {tag: H-0231, length: 10 m}
torch: {form: cutting}
"""
SHOP = "rig: shop set\nstandard_rig: oxy-propane-cutting\n"
REGISTER = """
register: invented harbour stores
kinds:
  hose-20: {hose: {bore: 8 mm, length: 20 m, standard: ISO 3821}}
things:
  H-0231: {as: hose-20, made: 2024-03}
  R-1: {regulator: {inlet_rating: 230 bar}}
"""
LOOK = """
look: gate.yaml
day: 2026-11-25
by: fitter
seen:
  - {thing: H-0231, cover: cracked}
  - {thing: "lines[0].parts[0]", pressure: 140 bar}
  - every: {joint: {leak_test: tight}}
"""


def register(pack: Pack, text: str = REGISTER) -> Register:
    return load_register([(text.encode(), "stores.yaml")], pack.vocabulary, "stores.yaml")


def look(pack: Pack, text: str = LOOK, file: str = "look.yaml") -> LookFile:
    return read_look(text.encode(), file, pack.vocabulary)


def read(pack: Pack, text: str = RIG, around: Around | None = None) -> Rig:
    return load_rig(text.encode(), "gate.yaml", pack.vocabulary, around or Around())


def judged(pack: Pack, text: str = RIG, around: Around | None = None) -> Judged:
    return judge(read(pack, text, around), pack, day=DAY)


def one(found: Judged, kind: str) -> Thing:
    return next(found.known.filled.of_kind(kind))


def bases(thing: Thing, name: str) -> list[str]:
    return [witness.basis for witness in thing.witnesses[name]]


def test_a_tagged_part_has_what_is_on_record_of_it_and_of_its_kind(pack: Pack) -> None:
    found = judged(pack, around=Around(register_of=lambda _: register(pack)))
    hose = one(found, "hose")
    assert hose.facts["standard"] == "ISO 3821"
    assert bases(hose, "standard") == ["on record"]
    assert str(found.rig.place(hose, "made")).startswith("stores.yaml:6:")


def test_what_is_written_of_a_part_stands_beside_what_is_on_record(pack: Pack) -> None:
    hose = one(judged(pack, around=Around(register_of=lambda _: register(pack))), "hose")
    assert (hose.facts["length"].lo, hose.facts["length"].hi) == (10.0, 20.0)
    assert [witness.basis for witness in hose.disputes["length"]] == ["written", "on record"]


def test_a_kind_in_place_of_a_thing_is_answered_with_the_things_of_it(pack: Pack) -> None:
    text = LOOK.replace("{thing: H-0231, cover: cracked}", "{thing: hose, cover: cracked}")
    with pytest.raises(Refused) as told:
        read(pack, around=Around(looks=(look(pack, text),)))
    [fault] = told.value.faults
    assert (fault.place.file, fault.read) == ("look.yaml", "'hose' is a kind of thing, of which this rig has 1.")
    assert fault.write.startswith("Write which: H-0231;")


def test_a_register_with_a_fault_silences_no_rig(pack: Pack) -> None:
    broken = Around(register_of=lambda _: register(pack, REGISTER.replace("as: hose-20", "as: hose-21")))
    rig = RIG.replace("length: 10 m", "cover: cut").encode()
    found = load_rig(rig, "gate.yaml", pack.vocabulary, broken, what_can_be_read=True)
    assert [one.place.file for one in found.unread] == ["stores.yaml"]
    assert "hoses/hose_cover_is_sound" in {one.rule for one in explain(judge(found, pack, day=DAY)).findings}
    with pytest.raises(Refused):
        load_rig(rig, "gate.yaml", pack.vocabulary, broken)


def test_what_was_seen_counts_with_its_day_and_its_file(pack: Pack) -> None:
    found = judged(pack, around=Around(looks=(look(pack),)))
    hose = one(found, "hose")
    assert hose.facts["cover"] == "cracked"
    witness = hose.witnesses["cover"][0]
    assert (witness.basis, witness.day, witness.by, witness.place.file) == ("seen", DAY, "fitter", "look.yaml")
    assert {joint.facts["leak_test"] for joint in found.known.filled.of_kind("joint")} == {"tight"}


def test_a_later_look_replaces_an_earlier_one_in_whatever_order_they_come(pack: Pack) -> None:
    later = LOOK.replace("cover: cracked", "cover: sound").replace("2026-11-25", "2026-11-24")
    for files in ((look(pack), look(pack, later, "earlier.yaml")), (look(pack, later, "earlier.yaml"), look(pack))):
        assert one(judged(pack, around=Around(looks=files)), "hose").facts["cover"] == "cracked"


def test_two_looks_of_one_day_that_disagree_are_in_dispute(pack: Pack) -> None:
    other = LOOK.replace("cover: cracked", "cover: burnt")
    hose = one(judged(pack, around=Around(looks=(look(pack), look(pack, other, "other.yaml")))), "hose")
    assert len(hose.disputes["cover"]) == 2


def test_a_look_of_a_later_day_does_not_count_yet(pack: Pack) -> None:
    ahead = LOOK.replace("day: 2026-11-25", "day: 2026-12-25")
    hose = one(judged(pack, around=Around(looks=(look(pack, ahead),))), "hose")
    assert hose.facts.get("cover", MISSING) is MISSING


def test_a_statement_for_many_goes_behind_one_of_the_thing_itself(pack: Pack) -> None:
    text = RIG.replace("lines:", "every: {part: {oil_free: yes}, hose: {oil_free: no}}\nlines:")
    found = judged(pack, text.replace("regulator: {tag: R-1}", "regulator: {tag: R-1, oil_free: unknown}"))
    assert one(found, "cylinder").facts["oil_free"] is True
    assert one(found, "hose").facts["oil_free"] is False
    assert one(found, "regulator").facts.get("oil_free", MISSING) is MISSING


def test_a_rig_by_its_standard_rig_says_only_what_is_its_own(pack: Pack) -> None:
    text = SHOP + "lines:\n  - gas: propane\n    parts: [{hose: {length: 15 m}}]\n"
    rig = read(pack, text, Around(standard_of=standard_of(pack, "gate.yaml")))
    hose = next(rig.of_kind("hose"))
    assert hose.facts["length"].lo == 15.0
    assert rig.place(hose, "length").file == "gate.yaml"
    assert rig.place(hose, "bore").file == "oxy-propane-cutting.yaml"
    assert len(list(rig.of_kind("arrester"))) == 4


def test_a_part_of_the_standard_rig_is_denied_by_none(pack: Pack) -> None:
    text = SHOP + "lines:\n  - gas: propane\n    parts: [arrester: none]\n"
    rig = read(pack, text, Around(standard_of=standard_of(pack, "gate.yaml")))
    assert len(list(rig.of_kind("arrester"))) == 3


def test_what_was_seen_goes_before_what_the_standard_rig_presumes(pack: Pack) -> None:
    seen = LOOK.replace("thing: H-0231, cover", 'thing: "lines[0].parts[3]", cover').replace(
        "[0].parts[0]", "[1].parts[0]"
    )
    around = Around(standard_of=standard_of(pack, "gate.yaml"), looks=(look(pack, seen),))
    found = judge(read(pack, SHOP, around), pack, day=DAY)
    hose = next(found.known.filled.of_kind("hose"))
    assert hose.facts["cover"] == "cracked"
    assert not hose.disputes


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("H-0231, length", "H-0213, length", "has nothing with the tag 'H-0213'"),
        ("regulator: {tag: R-1}", "regulator: {tag: H-0231}", "is a hose in the register, and a regulator here"),
    ],
)
def test_a_tag_that_the_register_knows_otherwise_is_told(pack: Pack, old: str, new: str, words: str) -> None:
    with pytest.raises(Refused) as refused:
        read(pack, RIG.replace(old, new), Around(register_of=lambda _: register(pack)))
    assert words in refused.value.faults[0].read


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("as: hose-20, made", "as: hose-2, made", "'hose-2' is no kind of this register"),
        (
            "hose-20: {hose: {bore: 8 mm, length: 20 m, standard: ISO 3821}}",
            "hose-20: {as: hose-20}",
            "leads back to itself",
        ),
        ("R-1: {regulator:", "R-1: {regulater:", "It is not said what this is"),
        ("bore: 8 mm", "bor: 8 mm", "'bor' is nothing known of a hose"),
    ],
)
def test_a_slip_in_a_register_is_told_at_its_place(pack: Pack, old: str, new: str, words: str) -> None:
    with pytest.raises(Refused) as refused:
        register(pack, REGISTER.replace(old, new))
    fault = refused.value.faults[0]
    assert words in fault.read
    assert fault.place.file == "stores.yaml"


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("thing: H-0231", "thing: H-0999", "is nothing of this rig"),
        ("cover: cracked", "cover: crakced", "is not one of its words"),
        ("{joint:", "{jiont:", "'jiont' is no kind of thing"),
        ("{thing: H-0231,", '{thing: "lines[0].parts[2]", tag: H-0230,', "This was seen of 'H-0230', and"),
    ],
)
def test_a_slip_in_a_look_is_told_at_its_place(pack: Pack, old: str, new: str, words: str) -> None:
    with pytest.raises(Refused) as refused:
        read(pack, around=Around(looks=(look(pack, LOOK.replace(old, new)),)))
    fault = refused.value.faults[0]
    assert words in fault.read
    assert fault.place.file == "look.yaml"


def test_what_was_seen_of_one_part_is_not_said_of_the_one_that_was_fitted_in_its_row(pack: Pack) -> None:
    row = "{tag: H-0231, sights: [{seen: 2026-11-20, by: fitter, tag: H-0230, cover: sound}], length: 10 m}"
    text = RIG.replace("{tag: H-0231, length: 10 m}", row)
    with pytest.raises(Refused, match="This was seen of 'H-0230', and here is H-0231"):
        read(pack, text)
    hose = next(read(pack, text.replace("H-0230", "h-0231")).of_kind("hose"))
    assert [said.value for said in hose.said["cover"]] == ["sound"]


def test_a_look_without_a_day_is_refused(pack: Pack) -> None:
    with pytest.raises(Refused) as refused:
        look(pack, LOOK.replace("day: 2026-11-25\n", ""))
    assert "The look has no 'day'." in refused.value.faults[0].read
