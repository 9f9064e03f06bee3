"""Things of a register of which the same is known are judged once, and told as if each had been."""

from __future__ import annotations

from datetime import date

import pytest
from msgspec import structs

from rigcheck.judge import judged as judged_module
from rigcheck.judge.inspection import Inspection, explain
from rigcheck.judge.judged import Judged, judge
from rigcheck.rig.register_reader import load_register
from rigcheck.rules.pack import Pack
from rigcheck.tasks.due_dates import due_list_of

DAY = date(2026, 11, 25).toordinal()
KINDS = """kinds:
  short: {hose: {bore: 6.3 mm, length: 1 ± 0.2 m, cover: cracked, made: 2019-05}}
  gauged: {regulator: {made: 2020-03, inlet_gauge: {full_scale: 10 bar, pointer: stuck}, outlet_gauge: {}}}
"""


def _register(pack: Pack, things: str) -> Judged:
    text = f"register: invented stores\n{KINDS}things:\n{things}"
    return judge(load_register([(text.encode(), "stores.yaml")], pack.vocabulary, "stores").rig, pack, day=DAY)


THINGS = """\
  H-1: {as: short}
  R-1: {as: gauged}
  H-2: {as: short, length: 90 m}
  H-3: {as: short, name: the long one}
  H-4: {as: short, seen: 2026-11-20, by: fitter}
  H-5: {hose: {bore: 6.3 mm, length: 1 ± 0.2 m, cover: cracked, made: 2019-05}}
  R-2: {as: gauged, tested: 2031-02-01}
  H-6: {as: short, length: 90 m}
  H-7: {as: short, length: 9000 cm}
  R-3: {as: gauged}
  C-1: {cylinder: {gas: oxygen, retest_until: 2001}}
  R-4: {as: gauged, inlet_gauge: {pointer: stuck}}
  H-8: {as: short, seen: 2026-11-20, by: fitter}
  C-2: {cylinder: {gas: oxygen, retest_until: 2001}}
  H-9: {as: short, withdrawn: lost, withdrawn_since: 2026-01-01}
  T-1: {torch: {nozzle: [{}, {}]}}
  T-2: {torch: {nozzle: [{}, {}]}}
  H-10: {as: short}
"""


def _all_said(inspection: Inspection) -> str:
    return "\n".join(f"{name}: {value!r}" for name, value in structs.asdict(inspection).items())


def test_what_is_told_is_the_same_as_if_each_were_judged_by_itself(pack: Pack, monkeypatch: pytest.MonkeyPatch) -> None:
    shared = _register(pack, THINGS)
    assert len(shared.twins) >= 10  # things, with what is built into them
    told = _all_said(explain(shared, tell_holds=True))
    monkeypatch.setattr(judged_module, "twins_of", lambda rig, read: {})
    alone = _register(pack, THINGS)
    assert not alone.twins
    assert told == _all_said(explain(alone, tell_holds=True))


def test_what_falls_due_is_the_same_as_if_each_were_followed_by_itself(
    pack: Pack, monkeypatch: pytest.MonkeyPatch
) -> None:
    shared = due_list_of(_register(pack, THINGS))
    assert {"H-1", "H-3", "H-10", "C-2", "R-4"} <= {due.tag for due in shared.dues}
    assert any(due.tag == "R-3" and due.later_by for due in shared.dues) and "R-3" in {u.tag for u in shared.undated}
    monkeypatch.setattr(judged_module, "twins_of", lambda rig, read: {})
    alone = _register(pack, THINGS)
    alone.known.work_all_out()  # what no rule reads tells no day
    assert shared == due_list_of(alone)


def test_twins_are_things_that_read_the_same(pack: Pack) -> None:
    found = _register(pack, THINGS)
    twins = {one.tag: first.tag for one, first in found.twins.items() if one.tag}
    assert twins == {
        "H-3": "H-1",  # what it is called turns nothing
        "H-5": "H-1",
        "H-6": "H-2",
        "H-8": "H-4",
        "H-10": "H-1",
        "R-3": "R-1",
        "C-2": "C-1",
        "T-2": "T-1",
    }  # H-7 is as long as H-2, and is told in other words


def test_as_many_twins_as_one_likes_are_one_judgement(pack: Pack, monkeypatch: pytest.MonkeyPatch) -> None:
    judgements = []
    one_by_one = Judged._one_by_one

    def counted(self: Judged, things: object) -> object:
        for row in one_by_one(self, things):  # type: ignore[arg-type]
            judgements.append(row)
            yield row

    monkeypatch.setattr(Judged, "_one_by_one", counted)
    few, many = ([f"  H-{n}: {{as: short}}\n" for n in range(count)] for count in (2, 200))
    explain(_register(pack, "".join(few)))
    for_few = len(judgements)
    found = explain(_register(pack, "".join(many)))
    assert len(judgements) == 2 * for_few
    assert sum(found.verdicts.values()) > 200 * 20 and len({one.thing for one in found.findings}) == 200


def test_a_rig_has_no_twins(pack: Pack) -> None:
    """What stands round a part of a rig tells it from another."""
    from rigcheck.rig.loader import load_rig

    rig = load_rig(b"rig: r\nlines: [{gas: oxygen, parts: [hose, hose]}]\n", "r.yaml", pack.vocabulary)
    assert not judge(rig, pack, day=DAY).twins
