"""A procedure file is read whole or refused with every fault at its place."""

from __future__ import annotations

import re

import pytest
from msgspec.structs import replace
from support.procedure_tools import FOLDER, marked, pack_with

from rigcheck.rules.overlay import Laid
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of
from rigcheck.rules.steps import Procedure
from rigcheck.text.faults import Refused

_TEXT = (FOLDER / "start-up.yaml").read_text()
_OTHER = _TEXT.replace("procedure: start-up", "procedure: purge").replace("  - step: ", "  - step: purge_")
_OTHER = re.sub(r"after(_on_line)?: \[.*\]", r"after\1: []", _OTHER)

# What is changed in the file of the tests, « being where the fault must be told, and the words that it must have.
_FAULTS = {
    "a circle of steps": (
        (
            "    about: regulator\n    signal: danger",
            "    about: regulator\n    after: «[set_pressure]\n    signal: danger",
        ),
        r"The steps wait for each other in a circle: (\w+) after .* after \1\.",
    ),
    "a step that waits for itself": (
        ("after: [set_pressure]", "after: «[say_it_is_ready]"),
        r"The steps wait for each other in a circle: say_it_is_ready after say_it_is_ready\.",
    ),
    "an unknown step": (
        ("after: [set_pressure]", "after: [«set_pressures]"),
        r"'set_pressures' is no step here, so this step could never be reached\..*word: set_pressure\.",
    ),
    "a step of another procedure": (
        ("after_on_line: [open_fuel_cylinder_valve,", "after_on_line: [«purge_set_pressure,"),
        r"'purge_set_pressure' is a step of purge, so this step could never be reached\.",
    ),
    "a step named twice": (
        ("step: say_it_is_ready", "step: «set_pressure"),
        r"A second step is called 'set_pressure'\.",
    ),
    "an unknown kind": (("about: trolley", "about: «trolly"), r"'trolly' is no kind\..*word: trolley\."),
    "an unknown fact": (
        ("{line.fuel: {const: false}}", "{«line.fule: {const: false}}"),
        r"'fule' is nothing known of a line\..*word: fuel\.",
    ),
    "an unknown limit": (("limit: fuel_valve_turns", "limit: «fuel_turns"), r"'fuel_turns' is no limit\."),
    "a limit of another dimension": (
        ("limit: fuel_valve_turns", "limit: «acetylene_pressure"),
        r"The limit acetylene_pressure is a pressure, but turns is an angle\.",
    ),
    "an unknown fact of the thing": (
        ("{fact: set_pressure}", "{fact: «set_presure}"),
        r"'set_presure' is nothing known of a regulator\..*word: set_pressure\.",
    ),
    "an unknown document": (
        ("29 CFR 1926.350(d)(2)", "«29 CFR 1926.350(d)(77)"),
        r"'29 CFR 1926.350' lists no clause",
    ),
    "a brace that nothing stands for": (
        (
            "Open the valve of the {thing} slowly, no more than {turns}",
            "«Open the valve of the {thing}, no more than {turn}",
        ),
        r"Nothing stands for \{turn\}\. Write \{turns\}, \{thing\}\.",
    ),
    "a thing where the step is done once": (
        ("Tell those around", "«Tell those around the {thing}"),
        r"Nothing stands for \{thing\}\.",
    ),
    "a value named like a key of a record": (
        ("      heard:\n        words", "      at:\n        «words"),
        r" 'at' is a key of every step",
    ),
    "an unknown procedure before": (
        ("cautions:", "comes_after: [«purging]\ncautions:"),
        r"'purging' is no procedure\..*word: purge\.",
    ),
    "a file of another name": (
        ("procedure: start-up", "procedure: «begin"),
        r"The file is called start-up, but its procedure 'begin'\.",
    ),
    "a key that is not known": (("    stand:", "    «stands:"), r"'stands' is no key here\..*word: stand\."),
    "a value that is neither measure nor words": (
        ("        measure: angle\n", ""),
        r"write exactly one of measure, words and several_words",
    ),
    "an unknown signal word": (("signal: caution", "signal: careful"), r"'careful' is not one of its words\."),
    "a rule of the same deed that there is not": (
        (
            "    signal: danger\n    hazard: A wound-in",
            "    signal: danger\n    same_deed_as: [«regulators/no_such]\n    hazard: A wound-in",
        ),
        r"'regulators/no_such' is no rule\.",
    ),
    "a rule of the same deed with another word": (
        (
            "    signal: notice\n    hazard: Snow",
            "    signal: notice\n    same_deed_as: «[trolley/trolley_stands_upright]\n    hazard: Snow",
        ),
        r"This is NOTICE, but the gravest rule that judges the same deed is DANGER\..*one word",
    ),
    "more that a value must meet, without what it must meet": (
        (
            "        ask: Who read the gauge, by role?\n",
            "        ask: Who read the gauge, by role?\n        also: «[{must: {minLength: 1}}]\n",
        ),
        r"Nothing is said that the value must meet\.",
    ),
    "an unknown fact of the rig": (
        ("cautions:", "applies: {«lnes: {}}\ncautions:"),
        r"'lnes' is nothing known of a rig",
    ),
}


def _read(pack: Pack, text: str, **others: str) -> Procedure:
    own = pack_with(pack, {"start-up": text, "purge": _OTHER, **others})
    return procedures_of(replace(own, rules=pack.rules))["start-up"]


def test_a_procedure_is_read_in_the_order_of_its_file(pack: Pack) -> None:
    procedure = _read(pack, _TEXT)
    assert [*procedure.steps] == re.findall(r"- step: (\w+)", _TEXT)
    step = procedure.steps["open_fuel_cylinder_valve"]
    assert (step.after, step.stand, step.signal) == (("back_off_knobs",), "Beside the trolley.", "danger")
    assert [source.text for source in step.sources] == ["common practice", "29 CFR 1926.350(d)(2)"]
    assert str(step.place) == "procedures/start-up.yaml:14:5"


@pytest.mark.parametrize("case", _FAULTS)
def test_a_faulty_procedure_is_refused_at_the_place_of_its_fault(case: str, pack: Pack) -> None:
    (old, new), wanted = _FAULTS[case]
    assert old in _TEXT
    text, place = marked(_TEXT.replace(old, new, 1))
    with pytest.raises(Refused) as caught:
        _read(pack, text)
    told = [str(fault) for fault in caught.value.faults if re.search(wanted, str(fault))]
    assert len(told) == 1, str(caught.value)
    assert told[0].startswith(f"procedures/start-up.yaml:{place}")


def test_all_faults_of_all_files_are_told_at_once(pack: Pack) -> None:
    text = _TEXT
    for case in ("an unknown step", "an unknown kind", "an unknown limit", "an unknown document"):
        text = text.replace(*_FAULTS[case][0], 1).replace("«", "")
    with pytest.raises(Refused) as caught:
        procedures_of(pack_with(pack, {"start-up": text, "purge": _OTHER.replace("about: trolley", "about: cart")}))
    assert len(caught.value.faults) == 5


def test_procedures_that_wait_for_each_other_are_refused(pack: Pack) -> None:
    one = _TEXT.replace("cautions:", "comes_after: [purge]\ncautions:")
    other = _OTHER.replace("cautions:", "comes_after: [start-up]\ncautions:")
    with pytest.raises(Refused, match="The procedures wait for each other in a circle"):
        procedures_of(pack_with(pack, {"start-up": one, "purge": other}))


def test_procedures_are_read_once_and_only_when_asked_for(pack: Pack) -> None:
    own = pack_with(pack, {"start-up": "no: procedure"})  # loading the pack did not look at it
    with pytest.raises(Refused):
        procedures_of(own)
    good = pack_with(pack, {"start-up": _TEXT})
    assert procedures_of(good) is procedures_of(good)


def test_a_rule_that_a_folder_of_ones_own_replaced_may_have_a_word_of_its_own(pack: Pack) -> None:
    rule = "trolley/trolley_stands_upright"
    text = _TEXT.replace(
        "    signal: notice\n    hazard: Snow", f"    signal: notice\n    same_deed_as: [{rule}]\n    hazard: Snow"
    )
    own = replace(
        pack_with(pack, {"start-up": text}),
        rules=pack.rules,
        laid=(Laid("rule", rule, "changed", "own", "own/x.yaml:1"),),
    )
    assert procedures_of(own)["start-up"].steps["look_at_snow"].signal == "notice"
