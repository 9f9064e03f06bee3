"""How well sources are known: counted by hand on sources of the tests' own."""

from __future__ import annotations

import pytest
from support.small_rules import TILT_RULE, RulesFolder

from rigcheck.report.text.layout import plain_text
from rigcheck.report.text.shares_text import share_lines
from rigcheck.rules.documents import Source
from rigcheck.rules.rule import Rule
from rigcheck.tasks.source_shares import best_standing, by_local_code, by_signal, rests_on, unread_share

READ = Source("Yard law s.1", "A law", "published", local_codes=("us",))
PART = Source("Yard law s.2", "A law", "excerpt", in_part=True, local_codes=("us",))
KNOWN = Source("World standard", "A standard", "from memory")
SCOPE = Source("World scope", "A standard", "read through another text")
TRADE = Source("common practice", "The trade", "common practice")


def test_the_best_source_counts() -> None:
    assert best_standing((TRADE, KNOWN, PART)) == "excerpt"
    assert best_standing((TRADE, KNOWN)) == "from memory"


@pytest.mark.parametrize(
    ("sources", "code", "whose"),
    [
        ((READ, SCOPE), "us", "own texts"),
        ((READ, SCOPE), "uk", "international texts"),
        ((READ, TRADE), "uk", "texts of other countries"),
        ((KNOWN, TRADE), "us", "nothing that was read"),
    ],
)
def test_under_a_code_the_nearest_text_that_was_read_counts(sources: tuple[Source, ...], code: str, whose: str) -> None:
    assert rests_on(sources, code) == whose


LIMITS = """\
local_code: general
limits:
  trolley_tilt:
    means: Most lean of a trolley.
    cautious: low
    values: [{since: 2000-01-01, value: 20 deg, drawn_from: common practice}]
"""
DOCUMENTS = "Yard law: {title: A law, local_code: us, clauses: {s.1: published, s.2: excerpt}}\n"


@pytest.fixture
def rules(folder: RulesFolder) -> list[Rule]:
    folder.write("documents.yaml", DOCUMENTS)
    folder.write("limits/general.yaml", LIMITS)
    cited = {
        "first_one": "[common practice]",
        "second_one": "[in part Yard law s.2, common practice]",
        "third_one": "[Yard law s.1]\nunder: [us, uk]",
    }
    for name, sources in cited.items():
        folder.write(f"own/{name}.yaml", TILT_RULE.replace("[common practice]", sources, 1))
    return [rule for name, rule in folder.pack().rules.items() if name.startswith("own/")]


def test_rules_are_counted_by_signal_word_and_standing(rules: list[Rule]) -> None:
    shares = by_signal(rules)
    assert shares.counts["warning"] == {"common practice": 1, "excerpt": 1, "published": 1}
    assert shares.in_part["warning"] == 1
    assert unread_share(shares.of()) == pytest.approx(1 / 3)
    assert unread_share(shares.counts["danger"]) == 0


def test_a_code_counts_the_rules_under_it(rules: list[Rule]) -> None:
    counts = by_local_code(rules)
    assert counts["us"] == {"own texts": 2, "nothing that was read": 1}
    assert counts["uk"] == {"texts of other countries": 2, "nothing that was read": 1}
    assert counts["za"] == {"texts of other countries": 1, "nothing that was read": 1}


def test_the_table_has_the_shares(rules: list[Rule]) -> None:
    told = plain_text(share_lines(by_signal(rules), by_signal(()), by_local_code(rules), 80))
    assert ["WARNING", "3", "1", "1", "0", "0", "1", "33", "%", "1"] in [line.split() for line in told.splitlines()]
    assert ["us", "3", "2", "0", "0", "1"] in [line.split() for line in told.splitlines()]
