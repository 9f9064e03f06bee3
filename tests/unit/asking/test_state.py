"""Where a walk stands: what of a daily look waits for the work alone."""

from __future__ import annotations

from collections import Counter

import pytest
from support.simulated_people import Round

import rigcheck
from rigcheck.asking.open_facts import NOT_SHOWN, open_rig
from rigcheck.asking.state import _later
from rigcheck.judge.judged import Judged
from rigcheck.rules.pack import Pack


@pytest.fixture(scope="module")
def judged(pack: Pack) -> Judged:
    """A standard rig of which nobody has said anything, on a working day."""
    path = rigcheck.configs_folder() / "templates" / "oxy-acetylene-welding.yaml"
    return Round(path.read_bytes(), pack, purpose="use").judged()


def test_what_waits_for_anything_that_can_be_shown_now_does_not_wait_for_the_work(judged: Judged) -> None:
    found = open_rig(judged)
    waits: dict[str, set[tuple[str, str]]] = {}
    for key, fact in found.facts.items():
        for one in fact.waiting:
            waits.setdefault(one.rule, set()).add(key)
    for several in [keys for keys in waits.values() if len(keys) > 1][:5]:
        for worked in (several, set(sorted(several)[:1])):
            alone = {rule for rule, keys in waits.items() if keys <= worked}
            open_ = [rule for _, rule, verdict, _ in judged.judgements() if verdict in NOT_SHOWN]
            expected = Counter(rule.signal for rule in open_ if rule.name in alone)
            assert _later(judged, found, frozenset(worked)) == expected
