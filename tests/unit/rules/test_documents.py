"""Sources: a citation names a listed document and a listed clause, with its standing."""

from __future__ import annotations

import pytest
from support.small_rules import TILT_RULE, RulesFolder

from rigcheck.rules.documents import UnknownSource, find_source, sources_under

DOCUMENTS = """\
ISO 3821:
  title: Hoses
  clauses: {"": from memory, "9.2": read through another text}
ISO 3821:2019:
  title: Hoses, 2019
  clauses: {"": published}
29 CFR 1926.350:
  title: Construction
  local_code: us
  clauses: {(f)(2): published}
Yard rule:
  title: An invented rule of an invented yard
  clauses: {s.1: published}
"""


@pytest.mark.parametrize(
    ("citation", "title", "standing"),
    [
        ("common practice", "What the trade does and teaches.", "common practice"),
        ("ISO 3821", "Hoses", "from memory"),
        ("ISO 3821 9.2", "Hoses", "read through another text"),
        ("ISO 3821:2019", "Hoses, 2019", "published"),
        ("29 CFR 1926.350(f)(2)", "Construction", "published"),
    ],
)
def test_a_citation_leads_to_its_title_and_standing(
    folder: RulesFolder, citation: str, title: str, standing: str
) -> None:
    folder.write("documents.yaml", DOCUMENTS)
    source = find_source(citation, folder.pack().documents)
    assert (source.text, source.title, source.standing) == (citation, title, standing)


@pytest.mark.parametrize(
    ("citation", "wrong", "near"),
    [
        ("ISO 3281", "names no document", "ISO 3821"),
        ("Ordinary law", "names no document", ""),
        ("29 CFR 1926.350(f)(3)", "lists no clause '(f)(3)'", "29 CFR 1926.350 (f)(2)"),
        ("29 CFR 1926.350", "lists no clause ''", "29 CFR 1926.350"),
        ("", "names no document", ""),
    ],
)
def test_a_citation_that_is_not_listed_is_refused_with_the_nearest_one(
    folder: RulesFolder, citation: str, wrong: str, near: str
) -> None:
    folder.write("documents.yaml", DOCUMENTS)
    documents = folder.pack().documents
    with pytest.raises(UnknownSource) as refused:
        find_source(citation, documents)
    assert wrong in refused.value.wrong
    assert refused.value.near == near


# --- whose text it is, and what it says ---

TEXTS = """\
Yard law:
  title: Law of a yard
  local_code: us
  edition: of 2015
  address: https://law.example/yard
  clauses:
    s.1: {standing: published, says: Hoses hang on hooks.}
    s.2: excerpt
Port law:
  title: Law of two ports
  local_code: [uk, eu]
  clauses: {s.3: published}
Island law:
  title: Law of an island
  country: New Zealand
  clauses: {s.4: from memory}
World standard:
  title: A standard
  clauses: {"": published}
Yard rule:
  title: An invented rule of an invented yard
  clauses: {s.1: published}
"""
CITED = ("World standard", "Yard law s.2", "in part Port law s.3", "Island law s.4", "common practice")


def _told(folder: RulesFolder, local_code: str) -> list[str]:
    folder.write("documents.yaml", TEXTS)
    documents = folder.pack().documents
    return [one.words for one in sources_under((find_source(text, documents) for text in CITED), local_code)]


def test_under_the_code_of_a_text_it_comes_first_and_others_are_marked_as_taken(folder: RulesFolder) -> None:
    assert _told(folder, "us") == [
        "Yard law s.2 [excerpt]",
        "World standard",
        "Port law s.3 [in part, taken from the UK]",
        "Island law s.4 [from memory, taken from New Zealand]",
        "common practice",
    ]
    assert _told(folder, "eu")[:2] == ["Port law s.3 [in part]", "World standard"]


def test_general_has_no_texts_of_its_own(folder: RulesFolder) -> None:
    assert "Yard law s.2 [excerpt, taken from the US]" in _told(folder, "general")


def test_a_source_says_what_stands_in_its_clause(folder: RulesFolder) -> None:
    folder.write("documents.yaml", TEXTS)
    assert find_source("in part Yard law s.1", folder.pack().documents).says == "Hoses hang on hooks."


# --- texts that say otherwise ---

DIFFERS = """\
differs:
  - {says: It may lean as far as it likes., drawn_from: Yard law s.1}
"""
LIMITS = """\
local_code: general
limits:
  trolley_tilt:
    means: Most lean of a trolley.
    cautious: low
    differs: [{says: It may lean 30 deg., drawn_from: Island law s.4}]
    values: [{since: 2000-01-01, value: 20 deg, drawn_from: common practice}]
"""


def test_what_differs_is_kept_with_its_source(folder: RulesFolder) -> None:
    folder.write("documents.yaml", TEXTS)
    folder.write("limits/general.yaml", LIMITS)
    folder.write("own/stands_up.yaml", TILT_RULE + DIFFERS)
    pack = folder.pack()
    (rule,) = pack.rules["own/stands_up"].differs
    (limit,) = pack.limits[0].differs
    assert (rule.says, rule.source.text) == ("It may lean as far as it likes.", "Yard law s.1")
    assert (limit.says, limit.source.country) == ("It may lean 30 deg.", "New Zealand")


def test_a_text_that_differs_must_be_listed(folder: RulesFolder) -> None:
    folder.write("documents.yaml", TEXTS)
    folder.write("limits/general.yaml", LIMITS)
    path = folder.write("own/stands_up.yaml", TILT_RULE + DIFFERS.replace("s.1", "s.9"))
    (fault,) = folder.faults()
    assert (fault.place.file, fault.place.line) == (str(path), len(TILT_RULE.splitlines()) + 2)
    assert "lists no clause 's.9'" in fault.read
