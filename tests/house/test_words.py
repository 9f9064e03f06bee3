"""No text of rigcheck says that a rig is safe; every report defers to those who decide."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import rigcheck
from rigcheck.cli.arguments import build_parser
from rigcheck.report.text.inspection_text import CAUTION, inspection_lines
from rigcheck.report.text.layout import plain_text
from rigcheck.rules.pack import Pack

_ROOT = Path(__file__).parents[2]
_CONFIGS = sorted(path for name in ("templates", "sites") for path in (rigcheck.configs_folder() / name).glob("*.yaml"))
_DAY = 739_945  # 2026-11-25; the reports of any day must do

# "safety valve" and the titles of documents may say it; a verdict never.
_VERDICT = re.compile(
    r"\b(?:is|are|now|it's|be|been|deemed|found|considered)\s+(?:\w+\s+)?safe\b|\bsafe(?:ly)? to use\b", re.I
)
_UNSAFE_WORDS = re.compile(r"\b(?:safe|approved for use|fit for use|passed|compliant|certified)\b", re.I)


def _texts_of_rules(pack: Pack) -> Iterator[tuple[str, str]]:
    for rule in pack.rules.values():
        yield rule.name, f"{rule.claim} {rule.harm} {rule.put_right}"
    for kind in pack.vocabulary.kinds.values():
        yield kind.name, kind.means
        for fact in kind.facts.values():
            words = " ".join(f"{word} {means}" for word, means in fact.words.items())
            yield f"{kind.name}.{fact.name}", f"{fact.entry.means} {fact.entry.ask} {words}"


def test_no_rule_and_no_fact_calls_a_rig_safe(pack: Pack) -> None:
    assert [(name, found[0]) for name, text in _texts_of_rules(pack) if (found := _VERDICT.search(text))] == []


@pytest.mark.parametrize("path", _CONFIGS, ids=lambda path: path.stem)
def test_no_report_gives_a_clean_bill_and_each_says_who_decides(path: Path, pack: Pack) -> None:
    rig = rigcheck.load_rig(path.read_bytes(), path.name, pack.vocabulary)
    report = plain_text(inspection_lines(rigcheck.inspect_rig(rig, pack, day=_DAY), 100, hold_at="warning"))
    # What a rule itself asks for, or a document is called, is tested above.
    spoken = [line for line in report.split("\n") if line.startswith(("State:", "Rig ", "judged", "Not yet"))]
    assert [line for line in spoken if _UNSAFE_WORDS.search(line.split("“")[0])] == []
    assert not _VERDICT.search(" ".join(report.split()))
    assert CAUTION in " ".join(report.split())


def test_the_best_state_is_only_that_nothing_was_found() -> None:
    states = set(rigcheck.judge.inspection.State.__args__)
    assert states == {"on hold", "not yet shown", "lesser findings only", "nothing found against it"}


def test_the_caution_names_the_local_code_the_maker_and_a_competent_person() -> None:
    assert all(words in CAUTION for words in ("local code", "makers' instructions", "competent or licensed person"))


def test_the_help_says_who_decides() -> None:
    assert "competent person decide" in " ".join(build_parser().format_help().split())


@pytest.mark.parametrize("path", _CONFIGS, ids=lambda path: path.stem)
def test_no_template_and_no_site_calls_itself_safe(path: Path) -> None:
    assert not _VERDICT.search(" ".join(path.read_text(encoding="utf-8").replace("#", " ").split()))


def test_the_words_of_a_verdict_are_recognised() -> None:
    assert all(map(_VERDICT.search, ("The rig is safe.", "it is now safe", "the set is safe to use", "found safe")))
    assert not _VERDICT.search("The safety valve blows off to a safe place.")
