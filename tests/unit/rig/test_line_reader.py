"""A gas line: parts in the order of flow, a joint between neighbours, branches that gather or share."""

from __future__ import annotations

import pytest

from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Refused


def _load(pack: Pack, lines: str, torch: str = "torch: {}") -> Rig:
    return load_rig(f"rig: A rig\nlines:\n{lines}\n{torch}\n".encode(), "rig.yaml", pack.vocabulary)


def _said(pack: Pack, lines: str, torch: str = "torch: {}") -> str:
    with pytest.raises(Refused) as refused:
        _load(pack, lines, torch)
    return str(refused.value)


def _names(things: object) -> list[str]:
    assert isinstance(things, tuple)
    return [thing.kind.name for thing in things]


PLAIN = "  - {gas: oxygen, parts: [cylinder, regulator, arrester, hose]}"


def test_the_parts_stand_in_the_order_of_flow_with_their_neighbours(pack: Pack) -> None:
    (line,) = _load(pack, PLAIN).of_kind("line")
    assert _names(line.facts["parts"]) == ["cylinder", "regulator", "arrester", "hose"]
    cylinder, regulator, _, hose = line.facts["parts"]
    assert cylinder.facts["upstream"] is None
    assert cylinder.facts["downstream"] is regulator
    assert regulator.facts["upstream"] is cylinder
    assert hose.facts["downstream"].kind.name == "torch"
    assert (line.facts["regulator"], line.facts["source"]) == (regulator, cylinder)


def test_a_joint_lies_between_each_two_neighbours_and_is_a_hose_end_at_a_hose(pack: Pack) -> None:
    (line,) = _load(pack, PLAIN).of_kind("line")
    joints = line.facts["joints"]
    assert _names(joints) == ["joint", "joint", "hose end", "hose end"]
    assert [joint.label for joint in joints] == [
        "oxygen joint, cylinder to regulator",
        "oxygen joint, regulator to arrester",
        "oxygen joint, arrester to hose",
        "oxygen joint, hose to torch",
    ]


def test_what_is_written_between_two_parts_is_said_of_their_joint(pack: Pack) -> None:
    text = "  - {gas: oxygen, parts: [regulator, joint: {thread_hand: right}, hose]}"
    first, second = next(_load(pack, text).of_kind("line")).facts["joints"]
    assert first.facts["thread_hand"] == "right"
    assert "thread_hand" not in second.facts


def test_what_is_said_of_every_joint_is_overruled_by_what_is_said_of_one(pack: Pack) -> None:
    text = "  - gas: oxygen\n    every_joint: {thread_hand: right, clip: o-clip}\n"
    text += "    parts: [regulator, joint: {thread_hand: left}, hose]"
    first, second = next(_load(pack, text).of_kind("line")).facts["joints"]
    assert (first.facts["thread_hand"], second.facts["thread_hand"]) == ("left", "right")
    assert (first.facts["clip"], second.facts["clip"]) == ("o-clip", "o-clip")


@pytest.mark.parametrize("said", ["unknown", "plumbing"])
def test_what_is_said_of_every_joint_does_not_answer_for_one_where_nobody_knows_or_nobody_can_read_it(
    said: str, pack: Pack
) -> None:
    text = "rig: gate\nlines:\n  - gas: oxygen\n    every_joint: {sealing: o-ring}\n"
    text += f"    parts: [regulator, joint: {{sealing: {said}}}, arrester, coupler]\n"
    rig = load_rig(text.encode(), "rig.yaml", pack.vocabulary, what_can_be_read=True)
    first, second = next(rig.of_kind("line")).facts["joints"]
    assert "sealing" not in first.facts
    assert second.facts["sealing"] == "o-ring"


def test_a_fact_of_hose_ends_that_is_said_of_every_joint_is_not_said_of_other_joints(pack: Pack) -> None:
    text = "  - gas: oxygen\n    every_joint: {clip: o-clip}\n    parts: [cylinder, regulator, hose]"
    first, second, third = next(_load(pack, text).of_kind("line")).facts["joints"]
    assert "clip" not in first.facts
    assert second.facts["clip"] == third.facts["clip"] == "o-clip"


def test_every_joint_takes_the_other_names_of_facts_as_one_joint_does(pack: Pack) -> None:
    text = "  - gas: oxygen\n    every_joint: {Sealant: ptfe-tape, clamp: o-clip}\n"
    text += "    parts: [cylinder, joint: {sealed_with: o-ring}, regulator, joint: {sealing: unknown}, hose]"
    joints = next(_load(pack, text).of_kind("line")).facts["joints"]
    assert [joint.facts.get("sealing") for joint in joints] == ["o-ring", None, "ptfe-tape"]
    assert [joint.facts.get("clip") for joint in joints] == [None, "o-clip", "o-clip"]


def test_a_joint_after_the_last_part_is_the_one_at_the_torch(pack: Pack) -> None:
    text = "  - {gas: oxygen, parts: [regulator, hose, joint: {thread_hand: right}]}"
    last = next(_load(pack, text).of_kind("line")).facts["joints"][-1]
    assert (last.facts["downstream"].kind.name, last.facts["thread_hand"]) == ("torch", "right")


def test_parts_of_one_kind_in_a_line_are_numbered(pack: Pack) -> None:
    rig = _load(pack, "  - {gas: oxygen, parts: [regulator, hose, joiner, hose]}")
    assert [hose.label for hose in rig.of_kind("hose")] == ["oxygen hose 1", "oxygen hose 2"]


MANIFOLD = """\
  - gas: oxygen
    parts:
      - manifold:
          branches:
            - [cylinder, pigtail]
            - parts: [cylinder, pigtail]
      - regulator
      - hose"""


def test_a_manifold_gathers_its_branches_and_stands_after_them(pack: Pack) -> None:
    (line,) = _load(pack, MANIFOLD).of_kind("line")
    parts = line.facts["parts"]
    assert _names(parts) == ["cylinder", "pigtail", "cylinder", "pigtail", "manifold", "regulator", "hose"]
    assert [part.facts["downstream"].kind.name for part in parts[:4]] == ["pigtail", "manifold"] * 2
    assert parts[4].facts["downstream"].kind.name == "regulator"
    assert len(line.facts["joints"]) == 7


HEADER = """\
  - gas: oxygen
    parts:
      - regulator
      - header:
          branches:
            - {parts: [hose], to: First}
            - {parts: [hose], to: Second}"""
TORCHES = "torch: [{name: First}, {name: Second}]"


def test_a_header_shares_its_gas_out_to_the_torches_that_its_branches_name(pack: Pack) -> None:
    rig = _load(pack, HEADER, TORCHES)
    hoses = list(rig.of_kind("hose"))
    assert [hose.facts["downstream"].facts["name"] for hose in hoses] == ["First", "Second"]
    assert [hose.facts["upstream"].kind.name for hose in hoses] == ["header", "header"]
    assert [_names(torch.facts["inlets"]) for torch in rig.of_kind("torch")] == [["hose"], ["hose"]]


TWO_LINES = PLAIN + "\n" + PLAIN.replace("oxygen", "acetylene")


def test_two_lines_at_a_torch_make_a_pair_of_hoses_though_nobody_wrote_it(pack: Pack) -> None:
    rig = _load(pack, TWO_LINES)
    (pair,) = rig.of_kind("hose pair")
    ends = (pair.facts["oxygen_hose"], pair.facts["fuel_hose"])
    assert [hose.facts["line"].facts["gas"] for hose in ends if isinstance(hose, Thing)] == ["oxygen", "acetylene"]


def test_a_torch_has_all_of_its_lines_and_no_single_neighbour_before_it(pack: Pack) -> None:
    (torch,) = _load(pack, TWO_LINES).of_kind("torch")
    assert [line.facts["gas"] for line in torch.facts["lines"]] == ["oxygen", "acetylene"]
    assert _names(torch.facts["inlets"]) == ["hose", "hose"]
    assert (torch.facts["line"], torch.facts["upstream"], torch.facts["downstream"]) == (None, None, None)


def test_a_written_pair_of_hoses_is_the_pair_at_the_torch(pack: Pack) -> None:
    (pair,) = _load(pack, TWO_LINES, "torch: {}\nhose_pair: {held_by: cable-tie}").of_kind("hose pair")
    assert pair.facts["held_by"] == "cable-tie"
    assert pair.facts["torch"].kind.name == "torch"


def test_a_rig_with_one_line_has_no_pair_of_hoses(pack: Pack) -> None:
    assert not list(_load(pack, PLAIN).of_kind("hose pair"))


@pytest.mark.parametrize(
    ("lines", "torch", "said"),
    [
        ("  - {gas: oxygen, parts: []}", "torch: {}", "no list of parts"),
        ("  - {gas: oxygen}", "torch: {}", "no list of parts"),
        ("  - oxygen", "torch: {}", "A line is a mapping"),
        ("  - {gas: oxygen, parts: [joint: {}, hose]}", "torch: {}", "before any part"),
        ("  - {gas: oxygen, parts: [hose, joint: {}, joint: {}, hose]}", "torch: {}", "follow each other"),
        ("  - {gas: oxygen, parts: [hose], to: Thrid}", TORCHES, "No torch is called 'Thrid'"),
        ("  - {gas: oxygen, parts: [hose]}", TORCHES, "which one this leads to"),
        ("  - {gas: argon, parts: [hose, joint: {}], to: work}", TORCHES, "This joint leads to nothing"),
        ("  - {gas: oxygen, parts: [manifold: {branches: [{to: First}]}]}", "torch: {}", "no list of parts"),
    ],
)
def test_a_line_that_cannot_be_is_refused(pack: Pack, lines: str, torch: str, said: str) -> None:
    assert said in _said(pack, lines, torch)


def _led_to(pack: Pack, line: str, torches: str = TORCHES) -> list[object]:
    return [hose.facts["downstream"].facts["name"] for hose in _load(pack, line, torches).of_kind("hose")]


def test_branches_that_do_not_say_where_they_lead_lead_where_their_line_does(pack: Pack) -> None:
    """As the heating and the cutting oxygen of one machine torch."""
    line = HEADER.replace(", to: First", "").replace(", to: Second", "") + "\n    to: Second"
    assert _led_to(pack, line) == ["Second", "Second"]


def test_a_branch_that_says_where_it_leads_does_not_follow_its_line(pack: Pack) -> None:
    assert _led_to(pack, HEADER.replace(", to: First", "") + "\n    to: First") == ["First", "Second"]


def test_a_header_in_a_branch_leads_where_the_branch_does(pack: Pack) -> None:
    inner = HEADER.replace("[hose], to: First", "[{header: {branches: [{parts: [hose]}]}}], to: First")
    assert _led_to(pack, inner) == ["First", "Second"]


def test_a_line_of_purge_gas_ends_at_the_work_and_at_no_torch(pack: Pack) -> None:
    rig = _load(pack, PLAIN + "\n  - {gas: argon, parts: [cylinder, regulator, hose], to: work}")
    (torch,) = rig.of_kind("torch")
    oxygen, argon = rig.of_kind("line")
    assert torch.facts["lines"] == (oxygen,)
    assert argon.facts["torch_end"] == ()
    assert argon.facts["parts"][-1].facts["downstream"] is None


def test_a_destination_that_nothing_leads_to_is_refused_in_its_place(pack: Pack) -> None:
    with pytest.raises(Refused) as refused:
        _load(pack, HEADER + "\n    to: First", TORCHES)
    (fault,) = refused.value.faults
    assert fault.place.line == 3 + HEADER.count("\n") + 1
    assert "Nothing leads to 'First' from here" in str(refused.value)


REGULATED = """\
  - gas: oxygen
    parts:
      - cylinder
      - regulator: {name: first}
      - hose: {name: long}
      - header:
          branches:
            - {parts: [regulator: {name: second}, hose: {name: short}], to: First}
            - {parts: [hose: {name: plain}], to: Second}"""


def test_each_part_and_joint_knows_the_regulator_that_sets_its_pressure(pack: Pack) -> None:
    rig = _load(pack, REGULATED, TORCHES)
    (line,) = rig.of_kind("line")
    setters = {_called(part): _called(part.facts["regulator"]) for part in line.facts["parts"]}
    assert setters == {
        "cylinder": "none",
        "first": "none",
        "long": "first",
        "header": "first",
        "second": "first",
        "short": "second",
        "plain": "first",
    }
    fed = {_called(one): [_called(part) for part in one.facts["feeds"]] for one in rig.of_kind("regulator")}
    assert fed == {"first": ["long", "header", "second", "plain"], "second": ["short"]}
    joints = {_called(joint.facts["upstream"]): _called(joint.facts["regulator"]) for joint in line.facts["joints"]}
    assert joints["cylinder"] == "none"
    assert (joints["first"], joints["second"], joints["short"], joints["plain"]) == (
        "first",
        "second",
        "second",
        "first",
    )


def _called(thing: Thing | None) -> str:
    return "none" if thing is None else str(thing.facts.get("name", thing.kind.name))
