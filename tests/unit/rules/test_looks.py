"""Looks as data: read with every fault at its place, and proven against vocabulary and rules."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec.structs import replace

from rigcheck.rules.folders import rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.look_proof import dangerous_facts, prove_looks
from rigcheck.rules.looks import looks_of
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Refused


def _changed(pack: Pack, name: str, old: str, new: str) -> Pack:
    """Return the pack with one look changed."""
    files = []
    for path, data in pack.look_files:
        if path.endswith(f"/{name}.yaml"):
            text = data.decode()
            assert old in text
            data = text.replace(old, new).encode()
        files.append((path, data))
    return replace(pack, look_files=tuple(files))


def _told(pack: Pack) -> str:
    return "\n".join(map(str, prove_looks(pack)))


def test_the_looks_that_ship_are_proven(pack: Pack) -> None:
    assert _told(pack) == ""


def test_a_fact_that_no_look_answers_is_named(pack: Pack) -> None:
    assert "No look answers trolley.tilt." in _told(
        _changed(pack, "trolley_lean", "each: [tilt]\nagain: [tilt]", "each: [floor_slope]")
    )


def test_a_fact_of_a_folder_of_ones_own_that_no_look_answers_is_told_once_at_its_file(tmp_path: Path) -> None:
    (tmp_path / "vocabulary").mkdir()
    paint = "kind: part\nfacts:\n  paint: {measure: yes_no, means: Whether it is painted., ask: Is it painted?}\n"
    (tmp_path / "vocabulary" / "part.yaml").write_text(paint)
    [fault] = prove_looks(load_pack(rules_folder(), tmp_path))
    assert fault.place.file.endswith("vocabulary/part.yaml")
    assert fault.read == "No look answers part.paint." and "to this folder" in fault.write


def test_a_fact_that_two_looks_answer_is_named(pack: Pack) -> None:
    assert "hose.cover is answered 2 times" in _told(
        _changed(pack, "hose_history", "  - [flashback_seen]", "  - [flashback_seen]\n  - [cover]")
    )


def test_eyes_cannot_tell_a_day(pack: Pack) -> None:
    told = _told(_changed(pack, "extinguisher", "act: read", "act: look"))
    assert "To look does not tell extinguisher_checked: that is a day." in told


def test_a_danger_does_not_hide_in_a_list(pack: Pack) -> None:
    told = _told(
        _changed(pack, "hose_through_the_hand", "fine: {kinked: no,", "fine: {kinked: no, repaired_with: nothing,")
    )
    assert "repaired_with can be a DANGER, and shares its question." not in told  # it still has one of its own
    told = _told(_changed(pack, "hose_through_the_hand", "  - [repaired_with]\n", ""))
    assert "No look answers hose.repaired_with." in told
    told = _told(
        _changed(
            _changed(pack, "hose_through_the_hand", "  - [repaired_with]\n", ""),
            "hose_through_the_hand",
            "fine: {kinked: no,",
            "fine: {repaired_with: nothing, kinked: no,",
        )
    )
    assert "repaired_with can be a DANGER, and shares its question." in told


def test_what_is_read_off_a_marking_may_stand_on_one_page_and_what_is_felt_may_not(pack: Pack) -> None:
    assert "gas" in looks_of(pack).looks["cylinder_label"].alike[0]
    told = _told(_changed(pack, "cylinder_label", "act: read", "act: try"))
    assert "label can be a DANGER, and shares its question." in told


@pytest.mark.parametrize(
    ("dated", "said"),
    [
        ("{leak_tested: [tight, lekas]}", "'lekas' is no word of leak_test."),
        ("{leak_fluid: [tight]}", "'leak_test' does not date 'leak_fluid'."),
    ],
)
def test_a_look_dates_with_words_that_there_are_and_days_alone(pack: Pack, dated: str, said: str) -> None:
    with pytest.raises(Refused) as refused:
        looks_of(_changed(pack, "leak_fluid_at_each_joint", "{leak_tested: [tight, leaks]}", dated))
    assert said in str(refused.value)


def test_a_tick_that_tells_what_is_fine_anyway_is_named(pack: Pack) -> None:
    assert "tells what is fine anyway" in _told(
        _changed(pack, "hose_through_the_hand", "{kinked: yes}", "{kinked: no}")
    )


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("station: line", "station: lien", "'lien' is no station."),
        ("looks_at: hose", "looks_at: hoze", "'hoze' is no kind of thing."),
        ("  - [cover]", "  - [covre]", "'covre' is no fact that can be stated of it."),
        ("{kinked: yes}", "{kinked: perhaps}", "neither yes nor no"),
        ("drawn_from: [common practice]", "drawn_from: [hearsay]", "hearsay"),
        ("act: touch", "act: sniff", "sniff"),
    ],
)
def test_a_faulty_look_is_refused_at_its_file(pack: Pack, old: str, new: str, said: str) -> None:
    with pytest.raises(Refused) as refused:
        looks_of(_changed(pack, "hose_through_the_hand", old, new))
    assert said in str(refused.value)
    assert "hose_through_the_hand.yaml:" in str(refused.value)


def test_what_kills_by_the_rules_is_known(pack: Pack) -> None:
    deadly = dangerous_facts(pack)
    assert ("trolley", "tilt") in deadly
    assert ("hose", "kinked") not in deadly


def test_a_look_at_the_kind_itself_goes_before_one_at_what_it_is_one_of(pack: Pack) -> None:
    hose = pack.vocabulary.kinds["hose"].lineage
    assert [one.name for one in looks_of(pack).answering(hose, "rated_pressure")] == ["hose_marking"]
    assert [one.name for one in looks_of(pack).answering(hose, "condition")] == ["any_part"]
