"""Faults: their text, their order, the nearest known word, and text made fit to show."""

from __future__ import annotations

import difflib
from typing import Any

import pytest

from rigcheck.text.faults import Fault, Refused, keep_fault, nearest_name, nearest_word, shown_text, with_article
from rigcheck.text.place import Place


def test_a_fault_says_place_what_was_read_and_what_to_write() -> None:
    fault = Fault(Place("rig.yaml", 3, 7), "'bor' is nothing known.", "Write a fact.")
    assert str(fault) == "rig.yaml:3:7: 'bor' is nothing known. Write a fact."


def test_a_fault_ends_with_the_nearest_known_word_if_there_is_one() -> None:
    fault = Fault(Place("rig.yaml", 3, 7), "Read.", "Write.", "bore")
    assert str(fault).endswith("Write. Nearest known word: bore.")


def test_a_slip_is_looked_for_among_few_of_very_many_words(monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[int] = []
    alike = difflib.get_close_matches

    def counted(word: str, names: dict[str, str], **how: Any) -> list[str]:
        tried.append(len(names))
        return alike(word, names, **how)

    monkeypatch.setattr(difflib, "get_close_matches", counted)
    tags = [f"{letter}-{number:05}" for letter in "ABH" for number in range(20_000)]
    assert nearest_word("H-0023", tags).startswith("H-0")
    assert tried == [2_000]


def test_faults_are_told_in_the_order_of_their_places() -> None:
    places = [Place("b", 1, 1), Place("a", 10, 1), Place("a", 2, 9), Place("a", 2, 1)]
    refused = Refused(Fault(place, "x", "y") for place in places)
    assert [fault.place for fault in refused.faults] == sorted(places)
    assert str(refused).splitlines()[0].startswith("a:2:1: ")


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("bor", "bore"),
        ("Rated-Pressure", "rated_pressure"),
        ("lenght", "length"),
        ("ratedpressure", "rated_pressure"),
        ("zzzz", ""),
        ("", ""),
        ("x" * 100_000, ""),
    ],
)
def test_the_nearest_word_forgives_slips_but_does_not_guess(written: str, meant: str) -> None:
    assert nearest_word(written, ["bore", "length", "rated_pressure"]) == meant


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("pressure", "rated_pressure"),  # all of its words, and one more
        ("hose-length", "length"),
        ("bored", "bore"),
        ("rated_flow", ""),  # one word of two
        ("acetylene_demand", ""),  # looks like "factory made", and is nothing like it
        ("lines", ""),
        ("", ""),
    ],
)
def test_a_name_is_offered_for_a_slip_or_for_its_words_and_never_for_its_looks(written: str, meant: str) -> None:
    known = ["bore", "length", "rated_pressure", "factory_made", "part_register", "cylinders"]
    assert nearest_name(written, known) == meant


def test_shown_text_is_quoted_short_and_on_one_line() -> None:
    assert shown_text("plain") == "'plain'"
    assert shown_text("a\nb\x1b") == "'a[U+000A]b[U+001B]'"
    assert len(shown_text("x" * 1000)) == 62
    assert shown_text("x" * 1000).endswith("…'")


def test_one_slip_read_for_several_things_is_told_once() -> None:
    kept: list[Fault] = []
    for kind in ("joint", "hose end", "joint"):
        keep_fault(kept, Fault(Place("rig.yaml", 3, 7), f"{kind}, sealing: 'tar'.", "Write one."))
    keep_fault(kept, Fault(Place("rig.yaml", 4, 7), "Read.", "Write one."))
    assert [fault.place.line for fault in kept] == [3, 4]


@pytest.mark.parametrize(
    ("noun", "said"), [("hose", "a hose"), ("arrester", "an arrester"), ("angle", "an angle"), ("mass", "a mass")]
)
def test_a_noun_takes_the_article_of_its_sound(noun: str, said: str) -> None:
    assert with_article(noun) == said
