"""Kinds of things and their facts, put together from the files of a vocabulary."""

from __future__ import annotations

import pytest

from rigcheck.quantity.notation import NotRead
from rigcheck.rig.vocabulary import Vocabulary, build_vocabulary, read_kind_file, read_words_file
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


def _vocabulary(*words: bytes) -> Vocabulary:
    files = [(f"words {number}", read_words_file(data, "words")) for number, data in enumerate(words)]
    return build_vocabulary([("hose", read_kind_file(_HOSE, "hose"))], files)


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
