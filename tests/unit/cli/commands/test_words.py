"""`rigcheck words`: what can be written of each kind of thing."""

from __future__ import annotations

from rigcheck.rules.pack import Pack

from ..conftest import Run


def test_every_kind_that_can_be_written_is_listed(run: Run, pack: Pack) -> None:
    told = run("words").out
    listed = {line.split()[0] for line in told.splitlines() if line[:1].strip()}
    assert {kind.key for kind in pack.vocabulary.kinds.values()} <= listed


def test_a_kind_lists_every_fact_that_can_be_stated_of_it_and_none_that_is_worked_out(run: Run, pack: Pack) -> None:
    hose = pack.vocabulary.by_key["hose"]
    listed = {line.split()[0] for line in run("words", "hose").out.splitlines() if line[:1].strip()}
    assert {fact.name for fact in hose.facts.values() if not fact.computed} <= listed
    assert not listed & {fact.name for fact in hose.facts.values() if fact.computed}


def test_a_fact_lists_its_words_how_long_it_counts_and_what_reads_it(run: Run, pack: Pack) -> None:
    told = " ".join(run("words", "hose", "cover").out.split())
    assert all(word in told for word in pack.vocabulary.by_key["hose"].facts["cover"].words)
    assert "hoses/hose_cover_is_sound (WARNING)" in told
    assert "until the thing is changed" in told
    assert "for the day, from the day on which it was seen" in " ".join(run("words", "joint", "leak_test").out.split())


def test_a_quantity_lists_its_units_and_an_example(run: Run) -> None:
    told = " ".join(run("words", "trolley", "tilt").out.split())
    assert "deg" in told


def test_a_misspelt_kind_or_fact_is_told_the_nearest(run: Run) -> None:
    assert (run("words", "hos").code, "Nearest: hose." in run("words", "hos").err) == (2, True)
    assert "Nearest: cover." in run("words", "hose", "covr").err
