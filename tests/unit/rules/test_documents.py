"""Sources: a citation names a listed document and a listed clause, with its standing."""

from __future__ import annotations

import pytest
from support.small_rules import RulesFolder

from rigcheck.rules.documents import UnknownSource, find_source

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
