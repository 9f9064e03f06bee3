"""Each folder of rules has an index page that says what belongs there, and holds nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest

import rigcheck
from rigcheck.rules.pack import Pack
from rigcheck.rules.topics import topics_of
from rigcheck.text.faults import Refused


def _topic_names(pack: Pack) -> set[str]:
    return {name.partition("/")[0] for name in pack.rules}


def test_every_topic_has_its_page_and_every_page_its_rules(pack: Pack) -> None:
    assert set(topics_of(pack)) == _topic_names(pack)


def test_the_rules_of_a_topic_look_at_the_kinds_that_its_page_names_and_at_each_of_them(pack: Pack) -> None:
    differ = {}
    for name, topic in topics_of(pack).items():
        looked_at = {rule.kind.name for rule in pack.rules.values() if rule.name.startswith(f"{name}/")}
        if looked_at != set(topic.looks_at):
            differ[name] = looked_at ^ set(topic.looks_at)
    assert differ == {}


def test_what_belongs_in_a_topic_is_told_in_sentences(pack: Pack) -> None:
    texts = [text for topic in topics_of(pack).values() for text in (topic.means, topic.elsewhere) if text]
    assert [text for text in texts if not (text[0].isupper() and text.endswith("."))] == []


def test_a_page_that_names_another_folder_is_refused_at_its_place(tmp_path: Path) -> None:
    folder = tmp_path / "kites"
    folder.mkdir()
    (folder / "index.yaml").write_text("topic: hoses\nmeans: What flies on a string.\nlooks_at: [hose]\n")
    pack = rigcheck.load_pack(rigcheck.rules_folder(), tmp_path)
    with pytest.raises(Refused, match=r"kites.index\.yaml:1:1: The page of this folder says that it is 'hoses'"):
        topics_of(pack)
