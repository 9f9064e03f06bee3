"""Which standard rig a rig begins from."""

from __future__ import annotations

from rigcheck.asking.beginnings import Beginning, beginning_of, begun_description, next_choice
from rigcheck.rig.around import Around
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack
from rigcheck.rules.standard_rigs import standard_of, standard_rig, standard_rig_files

_MOST = 5


def _all(pack: Pack) -> tuple[Beginning, ...]:
    found = [(name, standard_rig(pack, name)) for name in standard_rig_files(pack)]
    return tuple(beginning_of(name, one.rig) for name, one in found if one is not None)


def test_every_standard_rig_is_reached_by_a_few_questions_whose_answers_are_its_own(pack: Pack) -> None:
    for wanted in _all(pack):
        left, asked = _all(pack), 0
        while (choice := next_choice(left)) is not None:
            left = next(rigs for rigs in choice.answers.values() if wanted in rigs)
            asked += 1
        assert [one.name for one in left] == [wanted.name]
        assert asked <= _MOST, wanted.name


def test_what_is_not_told_apart_is_not_asked(pack: Pack) -> None:
    welding = [one for one in _all(pack) if one.name == "oxy-acetylene-welding"]
    assert next_choice(welding) is None


def test_a_description_that_was_begun_is_read_with_its_standard_rig(pack: Pack) -> None:
    text = begun_description('set "7": \\ # x', "uk", "oxy-acetylene-welding", "welding")
    rig = load_rig(text.encode(), "rig.yaml", pack.vocabulary, Around(standard_of=standard_of(pack, "rig.yaml")))
    assert rig.name == 'set "7": \\ # x'
    assert rig.begun_from is not None
    job = rig.root.facts["job"]
    assert (job.facts["process"], rig.place(job, "process").file) == ("welding", "rig.yaml"), "asked once, and written"
