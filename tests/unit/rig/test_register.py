"""A register judged as a value: each of its things alone, by what lasts and is asked of the thing itself."""

from __future__ import annotations

from datetime import date

import pytest

from rigcheck.judge.inspection import Inspection, explain
from rigcheck.judge.judged import judge
from rigcheck.rig.around import Around
from rigcheck.rig.loader import load_rig
from rigcheck.rig.register import REGISTER, Register
from rigcheck.rig.register_reader import load_register
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Refused

DAY = date(2026, 11, 25).toordinal()
HOSE = "register: invented stores\nthings:\n  H-1: {hose: {cover: cracked, made: 2019-05}}\n"


def load(pack: Pack, *texts: str) -> Register:
    files = [(text.encode(), f"{number}.yaml") for number, text in enumerate(texts, start=1)]
    return load_register(files, pack.vocabulary, "stores")


def inspected(pack: Pack, *texts: str) -> Inspection:
    return explain(judge(load(pack, *texts).rig, pack, day=DAY))


def test_a_thing_on_record_is_judged_and_found_by_its_tag(pack: Pack) -> None:
    found = inspected(pack, HOSE)
    assert {(one.rule, one.thing, str(one.place)) for one in found.findings} == {
        ("hoses/hose_cover_is_sound", "hose H-1", "1.yaml:3:23"),
        ("hoses/hose_within_service_life", "hose H-1", "1.yaml:3:3"),
    }


def every_kind(pack: Pack) -> str:
    """A register with one of everything that is kept in one, and all that is built into it; nothing is known of it."""
    held = [one.kind for one in pack.vocabulary.kinds[REGISTER].holds.values()]
    kinds = [one for one in pack.vocabulary.by_key.values() if any(kind in one.lineage for kind in held)]
    lines = []
    for kind in kinds:
        inner = ", ".join(f"{name}: {'[{}]' if one.many else '{}'}" for name, one in kind.holds.items())
        lines.append(f"  X-{kind.key}: {{{kind.key}: {{{inner}}}}}\n")
    return f"register: one of each\nthings:\n{''.join(lines)}"


def test_nothing_is_asked_of_a_thing_alone_that_only_its_place_or_its_day_answers(pack: Pack) -> None:
    """A question must be one that the register itself can answer, for good."""
    found = inspected(pack, every_kind(pack))
    assert not found.findings  # nothing is held against a thing for what does not stand round it
    assert len({question.kind for question in found.questions}) > 15
    for question in found.questions:
        entry = pack.vocabulary.kinds[question.kind].facts[question.fact].entry
        assert entry.ask
        assert not (entry.lasts in ("day", "job") or entry.as_fitted), (question.kind, question.fact)


@pytest.mark.parametrize(("kind", "fact"), [("arrester", "direction"), ("hose", "kinked"), ("cylinder", "label")])
def test_what_stands_in_a_rig_is_asked_there(pack: Pack, kind: str, fact: str) -> None:
    """The same thing in a rig is asked what it is not asked alone: the test above looks at something."""
    text = "rig: r\nlines: [{gas: acetylene, parts: [cylinder, regulator, hose, arrester]}]\ntorch: {form: cutting}\n"
    rig = load_rig(text.encode(), "r.yaml", pack.vocabulary)
    asked = {(one.kind, one.fact) for one in explain(judge(rig, pack, day=DAY)).questions}
    assert (kind, fact) in asked


def test_a_check_that_waits_for_the_place_alone_is_not_judged(pack: Pack) -> None:
    found = inspected(pack, "register: s\nthings:\n  N-1: {non_return_valve: {gases: [oxygen]}}\n")
    assert found.verdicts["not judged"]
    assert found.about == REGISTER


def test_a_day_on_record_is_counted_from_and_not_for_a_standard(pack: Pack) -> None:
    rules = {one.rule for one in explain(judge(load(pack, HOSE).rig, pack, day=DAY, purpose="standard")).findings}
    assert "hoses/hose_cover_is_sound" in rules
    assert "hoses/hose_within_service_life" not in rules


def test_what_is_built_in_is_judged_with_what_it_is_built_into(pack: Pack) -> None:
    text = "register: s\nthings:\n  R-1: {regulator: {inlet_gauge: {pointer: off-zero, case_sound: no}}}\n"
    found = inspected(pack, text)
    assert "regulator R-1, inlet gauge" in {one.thing for one in found.findings}


def test_a_thing_goes_before_its_kind_and_its_kind_before_what_that_is_of(pack: Pack) -> None:
    text = (
        "register: s\nkinds:\n  hose-8: {hose: {bore: 8 mm, length: 20 m, colour: red}}\n"
        "  hose-8-blue: {as: hose-8, colour: blue, length: 30 m}\nthings:\n  H-1: {as: hose-8-blue, length: 15 m}\n"
    )
    facts = load(pack, text).things["H-1"].facts
    assert (facts["bore"].text, facts["colour"], facts["length"].text) == ("8 mm", "blue", "15 m")


def test_several_files_are_one_register_whatever_their_order(pack: Pack) -> None:
    kinds = "register: s\nlocal_code: uk\nkinds:\n  hose-8: {hose: {cover: cut}}\n"
    things = "register: s\nthings:\n  H-1: {as: hose-8}\n"
    one, other = inspected(pack, kinds, things), inspected(pack, things, kinds)
    assert one.local_code == other.local_code == "uk"
    assert {f.rule for f in one.findings} == {f.rule for f in other.findings} >= {"hoses/hose_cover_is_sound"}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("register: s\nkinds:\n  k: {hose: {bor: 8 mm}}\n", "'bor' is nothing known of a hose"),
        ("register: s\nkinds:\n  k: {as: k}\n", "leads back to itself"),
        ("register: s\nthings:\n  J-1: {joint: {}}\n", "A register keeps no joint."),
        ("register: s\nthings:\n  A-1: {arrester: {direction: with-flow}}\n", "says how the arrester is fitted"),
        ("register: s\nlocal_code: atlantis\n", "is not one of its words"),
    ],
)
def test_what_no_register_takes_is_refused(pack: Pack, text: str, words: str) -> None:
    with pytest.raises(Refused) as refused:
        load(pack, text)
    assert words in str(refused.value)


def test_two_files_with_two_local_codes_are_refused(pack: Pack) -> None:
    with pytest.raises(Refused, match="its local code is uk"):
        load(pack, "register: s\nlocal_code: uk\n", "register: s\nlocal_code: us\n")


def test_what_is_on_record_of_what_is_built_in_reaches_the_rig(pack: Pack) -> None:
    """Nothing that stands in a register is dropped: it is laid in, or told where the rig has not what it is of."""
    text = "register: s\nthings:\n  R-1: {regulator: {inlet_gauge: {pointer: off-zero}}}\n"
    around = Around(register_of=lambda _: load(pack, text))
    rig = "rig: r\nlines: [{gas: oxygen, parts: [cylinder, regulator: {tag: R-1}, hose]}]\ntorch: {form: cutting}\n"
    judged = judge(load_rig(rig.encode(), "r.yaml", pack.vocabulary, around), pack, day=DAY)
    gauge = next(one for one in judged.known.filled.of_kind("gauge") if one.facts.get("pointer"))
    assert (gauge.facts["pointer"], gauge.label) == ("off-zero", "oxygen regulator, inlet gauge")
    without = rig.replace("tag: R-1", "tag: R-1, inlet_gauge: none")
    with pytest.raises(Refused, match="The register has 1 of inlet gauge in 'R-1', and 0 stand here"):
        load_rig(without.encode(), "r.yaml", pack.vocabulary, around)


@pytest.mark.parametrize(("bore", "told"), [("5 mm", 1), ("8 mm", 0)])
def test_a_kind_that_two_files_have_otherwise_is_told_whichever_comes_first(pack: Pack, bore: str, told: int) -> None:
    files = [f"register: stores\nkinds: {{hose-20: {{hose: {{bore: {one}}}}}}}\n" for one in ("8 mm", bore)]
    for number, file in enumerate(files):
        try:
            load(pack, file, files[1 - number] + "things: {H-1: {as: hose-20}}\n")
        except Refused as refused:
            assert told
            assert "The kind 'hose-20' stands in the register twice" in str(refused)
        else:
            assert not told


def test_a_kind_that_leads_through_too_many_others_is_refused(pack: Pack) -> None:
    chain = "".join(f"  k{number}: {{as: k{number + 1}}}\n" for number in range(3_000))
    with pytest.raises(Refused, match="leads through more than 8 kinds"):
        load(pack, f"register: stores\nkinds:\n{chain}  k3000: {{hose: {{}}}}\nthings: {{H-1: {{as: k0}}}}\n")
