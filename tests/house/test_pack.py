"""The rules that ship: each is proven by its own cases, and says where it comes from."""

from __future__ import annotations

from collections import Counter
from datetime import date
from pathlib import Path

import pytest

from rigcheck.condition.tree import Schema
from rigcheck.condition.wording import in_words
from rigcheck.facts.known import uncomputed
from rigcheck.judge.figure_proof import prove_figure
from rigcheck.judge.proof import Proof, prove_rule
from rigcheck.quantity.notation import example_of, read_quantity
from rigcheck.report.text.layout import plain_text
from rigcheck.report.text.rulebook import proof_lines
from rigcheck.rig.fact import Fact
from rigcheck.rules.cases import read_cases
from rigcheck.rules.folders import rules_folder
from rigcheck.rules.layer import INDEX
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of
from rigcheck.rules.rule import SIGNALS, Rule

_DAY = date(2026, 11, 25).toordinal()
_NOT_RULES = ("vocabulary", "limits", "procedures", "tables", "looks", "figures")
_TOPICS = sorted(
    path.name for path in rules_folder().iterdir() if path.name not in _NOT_RULES and [*path.glob("*.yaml")]
)


def _rules_of(pack: Pack, topic: str) -> list[Rule]:
    return [rule for rule in _proven(pack) if rule.name.startswith(f"{topic}/")]


def _proven(pack: Pack) -> list[Rule]:
    """Return rules and consequences: both have cases."""
    return [*pack.rules.values(), *(one.rule for one in pack.follows.values())]


@pytest.fixture(scope="session")
def proofs(pack: Pack) -> dict[str, Proof]:
    return {rule.name: prove_rule(rule, pack, _DAY) for rule in _proven(pack)}


@pytest.mark.parametrize("topic", _TOPICS)
def test_every_rule_gives_the_verdict_of_each_of_its_cases(topic: str, pack: Pack, proofs: dict[str, Proof]) -> None:
    rules = _rules_of(pack, topic)
    assert rules
    assert [failed for rule in rules for failed in proofs[rule.name].failed] == []


@pytest.mark.parametrize("topic", _TOPICS)
def test_every_change_of_a_rule_turns_one_of_its_cases(topic: str, pack: Pack, proofs: dict[str, Proof]) -> None:
    idle = [proofs[rule.name] for rule in _rules_of(pack, topic) if proofs[rule.name].idle]
    assert "".join(plain_text(proof_lines(proof, 110)) for proof in idle) == ""


def test_every_figure_gives_what_its_cases_say_and_no_letter_of_it_is_idle(pack: Pack) -> None:
    proofs = [prove_figure(name, pack) for name in pack.figures]
    assert [proof for proof in proofs if proof.failed or proof.idle] == []
    assert sum(proof.cases for proof in proofs) > len(proofs) > 20


def test_the_proof_tries_something_on_every_rule(proofs: dict[str, Proof]) -> None:
    assert [proof.rule for proof in proofs.values() if proof.cases < 2 or not proof.changes] == []


@pytest.mark.parametrize("topic", _TOPICS)
def test_every_rule_has_a_case_that_holds_one_broken_and_one_unproven(topic: str, pack: Pack) -> None:
    lacking = {}
    for rule in _rules_of(pack, topic):
        seen = {case.verdict for case in read_cases(rule, pack.vocabulary)}
        lacking[rule.name] = {"holds", "broken", "unproven"} - seen
        lacking[rule.name] |= {"not concerned"} - seen if rule.concerns else set()
    assert {name: missing for name, missing in lacking.items() if missing} == {}


def test_there_are_more_than_a_hundred_rules_and_no_claim_is_made_twice(pack: Pack) -> None:
    claims = [rule.claim for rule in pack.rules.values()]
    assert len(claims) > 100
    assert sorted(claims) == sorted(set(claims))


def _asked(condition: Schema | None) -> str:
    return in_words(condition, str) if condition is not None else ""


def test_no_two_rules_ask_the_same_of_the_same_things(pack: Pack) -> None:
    asked = Counter(
        (rule.kind.name, rule.under, *map(_asked, (rule.concerns, rule.holds))) for rule in pack.rules.values()
    )
    assert [one for one, count in asked.items() if count > 1] == []


def test_every_text_of_a_rule_is_a_sentence(pack: Pack) -> None:
    texts = [(r.name, text) for r in pack.rules.values() for text in (r.claim, r.harm, r.put_right)]
    assert [one for one in texts if not (one[1][0].isupper() or one[1][0].isdigit()) or not one[1].endswith(".")] == []


def test_every_signal_word_is_used(pack: Pack) -> None:
    assert {rule.signal for rule in pack.rules.values()} == set(SIGNALS)


def test_every_computed_fact_is_computed(pack: Pack) -> None:
    assert list(uncomputed(pack.vocabulary, pack.follows.values(), pack.figures.values())) == []


def test_every_stated_fact_has_a_question_that_ends_as_one(pack: Pack) -> None:
    facts = [(k.name, f) for k in pack.vocabulary.kinds.values() for f in k.facts.values() if not f.computed]
    assert [(kind, fact.name) for kind, fact in facts if not fact.entry.ask.endswith("?")] == []


def _stated_numbers(pack: Pack) -> list[tuple[str, Fact]]:
    facts = [(kind.name, fact) for kind in pack.vocabulary.kinds.values() for fact in kind.facts.values()]
    steps = [(name, step) for name, one in procedures_of(pack).items() for step in one.steps.values()]
    facts += [(f"{name}, {step.name}", value.fact) for name, step in steps for value in step.values.values()]
    worded = ("words", "several_words", "yes_no", "text")
    return [(where, fact) for where, fact in facts if not fact.computed and fact.measure not in worded]


def test_every_number_that_can_be_stated_has_a_least_and_a_greatest_value(pack: Pack) -> None:
    numbers = _stated_numbers(pack)
    assert len(numbers) > 200
    assert [(where, fact.name) for where, fact in numbers if not (fact.entry.least and fact.entry.greatest)] == []


def test_what_is_usual_lies_within_what_can_be_meant(pack: Pack) -> None:
    ranges = [(where, fact.name, fact.range) for where, fact in _stated_numbers(pack)]
    odd = []
    for where, name, one in ranges:
        assert one is not None and one.least is not None and one.greatest is not None
        ends = [one.least.lo, *((end.lo for end in one.usual) if one.usual else ()), one.greatest.lo]
        odd += [(where, name)] if ends != sorted(ends) or one.least.lo == one.greatest.lo else []
    assert odd == []


def test_every_rule_file_is_named_by_a_claim_in_small_letters() -> None:
    files = [path for path in rules_folder().rglob("*.yaml") if path.parent.name in _TOPICS and path.name != INDEX]
    assert len(files) > 100
    assert [path for path in files if not _is_snake_case(path)] == []


def _is_snake_case(path: Path) -> bool:
    return path.stem.replace("_", "").isalnum() and path.stem == path.stem.lower() and "_" in path.stem


def test_no_example_of_a_pressure_that_is_set_is_more_than_acetylene_may_have(pack: Pack) -> None:
    # 15 psi, 29 CFR 1910.253(a)(2): who copies the example of a question opens no acetylene above it.
    told = {name: pack.vocabulary.kinds["regulator"].facts[name] for name in ("set_pressure", "static_pressure")}
    told |= {
        f"{one.name} {step.name} {value.name}": value.fact
        for one in procedures_of(pack).values()
        for step in one.steps.values()
        for value in step.values.values()
        if step.name.startswith("set_") and value.fact.measure == "pressure"
    }
    assert len(told) > 6, "two procedures set pressures"
    most = read_quantity("15 psi", "pressure").lo
    read = {name: read_quantity(one.entry.example or example_of("pressure"), "pressure") for name, one in told.items()}
    assert [name for name, value in read.items() if value.hi > most] == []
