"""What may be written for a fact: what it says can be written is read."""

from __future__ import annotations

import pytest

from rigcheck.quantity.notation import NotRead
from rigcheck.rig.fact import Fact
from rigcheck.rig.spelling import what_to_write
from rigcheck.rules.pack import Pack


def _offered(fact: Fact) -> list[str]:
    """Return the texts that are offered for a fact."""
    told = what_to_write(fact)
    none = ["none"] if told.endswith(", or none") else []
    told = told.removesuffix(", or none")
    if told.startswith("one or more of: "):
        return [*told.removeprefix("one or more of: ").split(", "), *none]
    return [*told.partition(" (in ")[0].split(" | "), *none]


def test_all_that_is_offered_for_a_fact_of_the_pack_is_read_and_is_usual(pack: Pack) -> None:
    facts = [fact for kind in pack.vocabulary.looked_at.values() for fact in kind.facts.values() if not fact.computed]
    assert len(facts) > 500
    for fact in facts:
        for text in _offered(fact):
            assert fact.is_usual(fact.read(text)), f"{fact.name}: {text}"


def test_each_unit_that_is_offered_is_read(pack: Pack) -> None:
    bore = pack.vocabulary.kinds["hose"].facts["bore"]
    assert what_to_write(bore) == "6.3 mm (in m, mm, cm, km, in, ft, yd)"
    assert {bore.read(f"{size} {unit}").dimension for size, unit in (("3", "mm"), ("1/4", "in"))} == {"length"}


def test_a_number_that_there_may_be_none_of_says_so_where_it_is_not_read(pack: Pack) -> None:
    job = pack.vocabulary.kinds["job"].facts
    with pytest.raises(NotRead) as nobody:
        job["scene_checked_after"].read("nobody")
    assert nobody.value.write.endswith("Write none if there is none.")
    with pytest.raises(NotRead) as no_time:
        job["fire_watch_after"].read("nobody")
    assert "none" not in no_time.value.write
