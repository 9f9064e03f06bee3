"""The tags of very many rigs lie in a file, and come back as those of a few do."""

from __future__ import annotations

import random
from collections.abc import Iterator

import pytest

from rigcheck.cli import met_tags
from rigcheck.cli.console import ProblemFound
from rigcheck.cli.met_tags import MetTags
from rigcheck.judge.inspection import explain
from rigcheck.judge.judged import judge
from rigcheck.rig.shared_tags import MetTag, fleet_of
from rigcheck.rules.pack import Pack
from rigcheck.text.place import Place


def _tags(number: int) -> Iterator[list[MetTag]]:
    """Yield the tags of rigs, of which one in ten is in several, in another spelling now and then."""
    dice = random.Random(number)
    for rig in range(number):
        tags = [f"H-{rig}", dice.choice((f"C-{dice.randrange(number // 4)}", f"c-{dice.randrange(number // 4)}"))]
        yield [MetTag(tag, "hose", f"rig {rig} é", Place(f"{rig}.yaml", 2, at)) for at, tag in enumerate(tags)]


def test_very_many_tags_lead_to_what_a_few_do_and_are_not_held_in_memory(
    pack: Pack, monkeypatch: pytest.MonkeyPatch
) -> None:
    plain = [tag for tags in _tags(400) for tag in tags]
    monkeypatch.setattr(met_tags, "_FEW", 60)
    met = MetTags()
    for tags in _tags(400):
        met.add(tags)
        assert len(met.few) < 60
    several = list(met)
    assert 0 < len(several) < len(plain) / 2
    told = [fleet_of(one, pack.vocabulary) for one in (plain, met)]
    assert told[0] is not None and told[1] is not None
    day = 739_945
    assert explain(judge(told[0], pack, day=day)).findings == explain(judge(told[1], pack, day=day)).findings


def test_as_many_tags_as_a_fleet_has_do_not_stay_in_memory() -> None:
    met, tag = MetTags(), MetTag("H", "hose", "a", Place("a.yaml", 2, 4))
    most = 0
    for number in range(0, 30_000, 100):
        met.add([tag._replace(tag=f"H-{number + more}") for more in range(100)])
        most = max(most, len(met.few))
    assert met.many is not None and most < 25_000  # 0.4 kB each: 10 MB


def test_tags_that_find_no_room_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(met_tags, "_FEW", 60)
    met = MetTags()
    met.add(tag for tags in _tags(60) for tag in tags)
    assert met.many is not None
    met.many.execute("pragma max_page_count = 1")
    with pytest.raises(ProblemFound, match=r"find no room in a temporary file: database or disk is full\.$"):
        for _ in range(200):
            met.add(tag for tags in _tags(60) for tag in tags)
