"""A small folder of rules on the vocabulary that ships, for tests that need their own rules."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from support.small_rules import TILT_RULE, RulesFolder

from rigcheck.rules.folders import rules_folder


@pytest.fixture
def folder(tmp_path: Path) -> RulesFolder:
    """A folder with the vocabulary that ships, two documents, one limit and one rule."""
    made = RulesFolder(tmp_path / "rules")
    shutil.copytree(rules_folder() / "vocabulary", made.path / "vocabulary")
    made.write(
        "documents.yaml",
        """\
        Yard rule:
          title: An invented rule of an invented yard
          clauses: {"": from memory, s.1: published, s.2: read through another text}
        Yard rule book:
          title: Another invented document, whose name begins with the first one's
          clauses: {s.1: from memory}
        """,
    )
    made.write(
        "limits/general.yaml",
        """\
        local_code: general
        limits:
          trolley_tilt:
            means: Most lean of a trolley.
            cautious: low
            values:
              - {since: 2000-01-01, value: 20 deg, drawn_from: Yard rule s.1}
        """,
    )
    made.write("trolley/leans.yaml", TILT_RULE)
    return made


@pytest.fixture
def overlay(tmp_path: Path) -> RulesFolder:
    """An empty folder to be laid on the other."""
    made = RulesFolder(tmp_path / "company")
    made.path.mkdir()
    return made
