"""Kinds of things and their facts, put together from the files of a vocabulary."""

from __future__ import annotations

import pytest

from rigcheck.quantity.notation import NotRead
from rigcheck.rig.vocabulary import Vocabulary, build_vocabulary
from rigcheck.rig.vocabulary_reader import read_vocabulary_file
from rigcheck.text.faults import Refused

_HOSE = b"""\
kind: hose
means: One hose.
facts:
  gas: {words: gas, means: Gas., ask: Which?}
  marks: {several_words: marked gas, means: Marks., ask: Which?}
"""
_WORDS = b"""\
words:
  gas: {words: {acetylene: '', propane: Mostly propane}, also_written: {LPG: propane}}
  marked gas: {and_those_of: gas, words: {not-marked: ''}, also_written: {blank: not-marked}}
"""
_PART = b"""\
kind: part
means: A part.
traits: [rated, loses_pressure]
facts: {oil_free: {measure: yes_no, means: Free., ask: Free?}}
"""
_RATED = b"trait: rated\nis_a: part\nmeans: Rated.\nfacts: {rating: {measure: pressure, means: Mark., ask: Which?}}"
_LOSES = b"trait: loses pressure\nmeans: Loses.\nfacts: {drop: {measure: pressure, computed: true, means: Loss.}}"


def _built(*files: tuple[str, bytes]) -> Vocabulary:
    return build_vocabulary([(name, read_vocabulary_file(name, data, name)) for name, data in files])


def _vocabulary(*words: bytes) -> Vocabulary:
    return _built(("hose.yaml", _HOSE), *(("words.yaml", data) for data in words))


def _traits(*kinds: str) -> Vocabulary:
    files = [("part.yaml", _PART), ("traits/rated.yaml", _RATED), ("traits/loses_pressure.yaml", _LOSES)]
    return _built(*files, *((f"{number}.yaml", text.encode()) for number, text in enumerate(kinds)))


def test_a_kind_has_the_facts_of_its_traits_and_of_those_of_its_base() -> None:
    valve = _traits("{kind: valve, is_a: part, means: A valve.}").kinds["valve"]
    assert valve.lineage == ("valve", "part", "rated", "loses pressure")
    assert {"rating", "drop", "oil_free"} <= set(valve.facts)


def test_a_kind_goes_without_a_trait_of_its_base() -> None:
    vocabulary = _traits("{kind: tank, is_a: part, without: [loses pressure], means: A tank.}")
    tank = vocabulary.kinds["tank"]
    assert tank.lineage == ("tank", "part", "rated")
    assert "drop" not in tank.facts
    assert vocabulary.children_of("loses pressure") == [vocabulary.kinds["part"]]


def test_a_kind_sharpens_a_fact_of_its_trait() -> None:
    fact = "rating: {measure: pressure, means: Class., ask: Which class?}"
    valve = _traits(f"{{kind: valve, is_a: part, means: A valve., facts: {{{fact}}}}}").kinds["valve"]
    assert valve.facts["rating"].entry.ask == "Which class?"


def test_a_trait_is_looked_at_like_a_kind_and_is_no_thing_of_a_rig() -> None:
    vocabulary = _traits()
    assert set(vocabulary.looked_at) == {"part", "rated", "loses pressure"}
    assert set(vocabulary.kinds) == set(vocabulary.by_key) == {"part"}
    assert "oil_free" in vocabulary.looked_at["rated"].facts


def test_every_kind_of_part_is_a_word_of_the_kinds_of_part() -> None:
    line = "{kind: line, means: A line., facts: {has: {several_words: kinds of part, computed: true, means: Kinds.}}}"
    vocabulary = _traits(line, "{kind: check valve, is_a: part, means: A valve.}")
    assert dict(vocabulary.kinds["line"].facts["has"].words) == {"check-valve": "A valve."}


def test_facts_take_the_words_of_a_shared_list_with_their_meanings_and_other_spellings() -> None:
    gas = _vocabulary(_WORDS).kinds["hose"].facts["gas"]
    assert gas.words == {"acetylene": "", "propane": "Mostly propane"}
    assert gas.read("lpg") == "propane"


def test_a_list_goes_on_from_another_one() -> None:
    marks = _vocabulary(_WORDS).kinds["hose"].facts["marks"]
    assert list(marks.words) == ["acetylene", "propane", "not-marked"]
    assert (marks.read("LPG"), marks.read("blank")) == (("propane",), ("not-marked",))


def test_a_later_file_of_words_takes_the_place_of_a_list_for_all_who_share_it() -> None:
    kind = _vocabulary(_WORDS, b"words: {gas: {words: {biogas: ''}}}").kinds["hose"]
    assert kind.facts["gas"].read("biogas") == "biogas"
    assert list(kind.facts["marks"].words) == ["biogas", "not-marked"]
    with pytest.raises(NotRead, match="propane"):
        kind.facts["gas"].read("propane")


@pytest.mark.parametrize("base", ["gsa", "marked gas"])
def test_a_list_that_goes_on_from_no_plain_list_is_refused(base: str) -> None:
    with pytest.raises(Refused, match=base):
        _vocabulary(_WORDS, f"words: {{seat: {{and_those_of: {base}, words: {{a: ''}}}}}}".encode())
