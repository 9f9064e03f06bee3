"""Nothing that can be said is mute: every fact is read by something, and the words of every choice are told apart."""

from __future__ import annotations

import pytest
from support.facts_read import (
    compares,
    conditions_on,
    is_read,
    named_in_arithmetic,
    read_by_conditions,
    read_by_figures,
    stated_facts,
)

from rigcheck.condition.compiler import Judge
from rigcheck.condition.tree import Schema
from rigcheck.rig.fact import Fact
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.pack import Pack

_PUTS_TOGETHER = "By this name what a site file writes is put together; there is nothing to judge in it."
_MADE = "The program makes these things of judged rigs; nobody writes them."
_EXEMPT = {
    "rig.local_code": "It chooses the rules and limits by which all else is judged.",
    "premises.local_code": "As for a rig.",
    "register.local_code": "As for a rig.",
    "rig.invented": "It marks data of a demonstration, and is printed as such.",
    "premises.invented": "As for a rig.",
    "register.invented": "As for a rig.",
    "withdrawal.withdrawn_since": "When it was taken out of use is told; why is judged.",
    "rig.inspected_by": "A witness: the day of the look is judged, by whom it was made is printed.",
    "concession": "Judged by the rules of concessions through the facts that are worked out from it.",
    "standing rig": _MADE,
    "separation.first": _PUTS_TOGETHER,
    "separation.second": _PUTS_TOGETHER,
    "header.outlets": "How many outlets it has is neither right nor wrong; those that nothing is on are judged capped.",
    "regulator.stages": "One stage and two are both right; it tells regulators apart.",
}
"""What nothing reads, and why that hides no defect; a kind, or a fact of one."""


@pytest.fixture(scope="module")
def mute(pack: Pack) -> set[str]:
    read = read_by_conditions(pack) | read_by_figures(pack)
    gathered = named_in_arithmetic()
    return {
        f"{kind.name}.{fact.name}"
        for kind in pack.vocabulary.kinds.values()
        if kind.name != "part"  # a rig has none that is nothing but a part
        for fact in stated_facts(kind)
        if not is_read(kind, fact.name, read) and fact.name not in gathered
    }


def test_what_can_be_stated_is_read_by_something_or_listed_with_the_reason_why_not(mute: set[str]) -> None:
    assert sorted(one for one in mute if one not in _EXEMPT and one.partition(".")[0] not in _EXEMPT) == []


def test_nothing_is_listed_that_something_reads(mute: set[str]) -> None:
    needless = [one for one in _EXEMPT if not any(one in (named, named.partition(".")[0]) for named in mute)]
    assert needless == []


def _choices(pack: Pack) -> list[tuple[Kind, Fact]]:
    kinds = [kind for kind in pack.vocabulary.kinds.values() if kind.name != "part"]
    return [(kind, fact) for kind in kinds for fact in stated_facts(kind) if fact.measure == "words"]


def _truths(schemas: list[Schema], word: str) -> tuple[object, ...]:
    return tuple(Judge({}).check(schema)(word, word) for schema in schemas)  # type: ignore[arg-type]


def test_every_choice_has_words_that_turn_a_verdict(pack: Pack) -> None:
    gathered, alike = named_in_arithmetic(), []
    for kind, fact in _choices(pack):
        name = f"{kind.name}.{fact.name}"
        if name in _EXEMPT or kind.name in _EXEMPT or fact.name in gathered:
            continue
        schemas = list(conditions_on(pack, kind, fact.name))
        if not any(map(compares, schemas)) and len({_truths(schemas, word) for word in fact.words}) < 2:
            alike.append(name)
    assert alike == []
