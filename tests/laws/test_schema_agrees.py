"""The JSON Schema of a rig takes what the reader takes, and refuses what it refuses: tried by mutation, both ways."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest
import yaml
from jsonschema_rs import Draft202012Validator
from support.editor_yaml import as_an_editor_reads

from rigcheck.quantity.notation import read_quantity
from rigcheck.quantity.units import UNITS
from rigcheck.rig import scalar_schema
from rigcheck.rig.fact import Fact
from rigcheck.rig.loader import load_rig
from rigcheck.rig.rig_schema import rig_schema
from rigcheck.rig.vocabulary import Kind, Vocabulary
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Refused

_MOST = 0.01
_COUNT, _SEED = 1_500, 20261128
_HELD = "every:\n  {kind}:\n    {fact}: {value}"
_RIG = "rig: tried\nlines:\n  - gas: propane\n    parts: [cylinder, hose]\n"

_ZEROES = "a number that begins with noughts: YAML has made 7 of 007 before the schema sees it"
_ARITHMETIC = "a number beyond what can be meant, or a range that runs backwards: it takes arithmetic across units"
_CALENDAR = "29 February of a common year, or an ambiguous day"


class Tried(NamedTuple):
    """One fact with one value, and what the reader and the schema make of it."""

    fact: str
    value: str
    read: bool
    fits: bool


def _values(fact: Fact, chance: random.Random) -> str:
    """Return a value for a fact: right, in another spelling, slightly wrong, or of another sort."""
    number, unit, more = _that_can_be_meant(fact, chance)
    other = chance.choice(sorted(UNITS))
    words = [*fact.words, *fact.also_written] or ["so"]
    word = str(chance.choice(words))
    sorts = {
        "words": (word, word.upper(), word.replace("-", " "), word.replace("-", "_"), word + "x", f"' {word} '"),
        "several_words": (f"[{word}]", word, f"[{word.upper()}]", f"[{word}, wrongly]", "[]"),
        "yes_no": ("yes", "no", "true", "False", "NO", "Yes", "y", "on", "1"),
        "day": (
            "2026-11-20",
            "2026-02-30",
            "2026-13-01",
            "2024-02-29",
            "20 Nov 2026",
            "20/11/2026",
            "2026",
            "26-01-02",
        ),
        "text": ("Nobody", "12", "' '", "a: b", "'x'"),
    }
    usual = (
        f"{number} {unit}",
        f"{number}{unit}",
        f"{number} {unit.upper()}",
        f"{number} {other}",
        f"{number}",
        f"-{number} {unit}",
        f"about {number} {unit}",
        f"{number} {unit} approx",
        f"{number} {unit}.",
        f"{number} {unit} ± 10 %",
        f"{number} {unit} +/- 1 %",
        chance.choice(("5 ft 6 in", "5'6”", "1 min 30 s", "2 h 15 min", "1 year 6 months", "3 m 5 in")),
        f"{number} to {more} {unit}",
        f"{number} ± 0 {unit}",
        f"{number}-{number} {unit}",
        f"1_000 {unit}",
        f"007 {unit}",
        "two",
        f"{number} {unit} {unit}",
    )
    any_of_all = ("none", "unknown", "not known", "?x", "''", "{}", "[1]", "NONE")
    return chance.choice((*sorts.get(fact.measure, usual), *sorts.get(fact.measure, usual), *any_of_all))


def _that_can_be_meant(fact: Fact, chance: random.Random) -> tuple[str, str, str]:
    """Return a number with its unit, and a greater one, that a fact can have, as somebody would write them."""
    ends = fact.range
    told = ends.greatest if ends is not None and ends.greatest is not None else None
    if told is None or fact.measure == "day":
        own = [unit.name for unit in UNITS.values() if unit.dimension == fact.measure] or [""]
        return chance.choice(("8", "0.3", "1.5", "12", "1/4", "1 1/4", "20", ".5", "0,5")), chance.choice(own), "300"
    number, _, unit = told.text.partition(" ")
    lesser = str(float(number) / chance.choice((1.25, 2, 2.5))) if not ends.whole else number
    return lesser.removesuffix(".0"), unit, number


def _facts(vocabulary: Vocabulary) -> list[tuple[Kind, Fact]]:
    """Return every fact that can be stated of a kind of thing that `every:` can speak of."""
    alone = ("rig", "line")
    kinds = [kind for kind in vocabulary.by_key.values() if kind.name not in alone]
    return [(kind, fact) for kind in kinds for fact in kind.facts.values() if not fact.computed and fact.name != "name"]


def _tried(vocabulary: Vocabulary, count: int, seed: int) -> Iterator[Tried]:
    chance = random.Random(seed)
    validator = Draft202012Validator(rig_schema(vocabulary))
    facts = _facts(vocabulary)
    while count:
        kind, fact = chance.choice(facts)
        value = _values(fact, chance)
        text = _RIG + _HELD.format(kind=kind.key, fact=fact.name, value=value) + "\n"
        try:
            content: Any = as_an_editor_reads(text)
        except yaml.YAMLError:
            continue  # neither reads what is no YAML
        count -= 1
        yield Tried(f"{kind.key}.{fact.name}", value, _is_read(text, vocabulary), validator.is_valid(content))


def _is_read(text: str, vocabulary: Vocabulary) -> bool:
    try:
        return not load_rig(text.encode(), "tried.yaml", vocabulary).unread
    except Refused:
        return False


def _reason(one: Tried, vocabulary: Vocabulary) -> str:
    """Return why the two may disagree, where that is known."""
    key, name = one.fact.split(".")
    fact = vocabulary.by_key[key].facts[name]
    if one.fits and one.value.startswith("007"):
        return _ZEROES
    if one.fits and fact.measure == "day":
        return _CALENDAR
    if one.fits and fact.measure not in ("words", "several_words", "yes_no", "text") and one.value[-1:] not in "'}]":
        try:
            fact.read(one.value)
        except ValueError as error:
            told = str(error)
            if any(word in told for word in ("cannot be meant", "backwards", "below", "colder", "less than", "whole")):
                return _ARITHMETIC
    return ""


def _disagreements(vocabulary: Vocabulary, count: int, seed: int) -> tuple[list[Tried], Counter[str]]:
    differ = [one for one in _tried(vocabulary, count, seed) if one.read != one.fits]
    reasons = Counter(_reason(one, vocabulary) for one in differ)
    return [one for one in differ if not _reason(one, vocabulary)], reasons


def test_reader_and_schema_disagree_on_fewer_than_one_in_a_hundred_values(pack: Pack) -> None:
    unexplained, reasons = _disagreements(pack.vocabulary, _COUNT, _SEED)
    assert unexplained == []
    assert set(reasons) <= {_ARITHMETIC, _CALENDAR, _ZEROES}
    assert reasons.total() < _COUNT * _MOST, reasons


def test_a_schema_that_takes_any_text_is_noticed(pack: Pack, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(scalar_schema, "quantity_pattern", lambda *_, **__: ".")
    unexplained, _ = _disagreements(pack.vocabulary, 200, _SEED)
    assert len(unexplained) > 200 * _MOST


@pytest.mark.parametrize("path", sorted((configs_folder() / "harbour").glob("*.yaml")), ids=lambda path: path.stem)
def test_a_rig_of_tags_a_register_a_standard_rig_and_what_is_said_of_every_part_fits(path: Path, pack: Pack) -> None:
    validator = Draft202012Validator(rig_schema(pack.vocabulary))
    content = as_an_editor_reads(path.read_text(encoding="utf-8"))
    assert [error.message for error in validator.iter_errors(content)] == []
    assert not validator.is_valid(
        {key: value for key, value in content.items() if key != "standard_rig"} | {"lines": []}
    )


def test_nothing_is_offered_that_the_reader_refuses(pack: Pack) -> None:
    measures = scalar_schema.scalar_definitions()
    for kind, fact in _facts(pack.vocabulary):
        told = scalar_schema.fact_schema(fact)
        offered = [one["const"] for one in told["anyOf"] if "const" in one]
        offered += [word for one in told["anyOf"] for word in one.get("enum", ()) if isinstance(word, str)]
        refs = [one["$ref"].rpartition("/")[2] for one in told["anyOf"] if "$ref" in one]
        examples = [one for ref in refs for one in measures[ref].get("examples", ())]
        assert all(fact.read(str(word)) is not NotImplemented for word in offered), kind.key
        assert len(set(map(str.casefold, offered))) == len(offered)
        assert all(fact.measure == "day" or read_quantity(one, fact.measure) for one in examples)
        assert "true" not in offered or fact.measure in ("words", "several_words")
