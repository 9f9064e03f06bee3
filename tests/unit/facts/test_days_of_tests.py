"""The day of a test: a later sight replaces what was written, and two days never agree by their digits."""

from __future__ import annotations

from support.small_rigs import known

from rigcheck.quantity.notation import half_last_digit, read_day
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig, Statement
from rigcheck.rules.pack import Pack

_RIG = """\
rig: tested
lines:
  - gas: oxygen
    parts: [regulator: {tested: 2024-01-10}, hose]
torch: {}
"""
_DAY = int(read_day("2026-11-25").lo)


def _age(pack: Pack, said: str) -> float:
    rig: Rig = load_rig(_RIG.encode(), "rig.yaml", pack.vocabulary)
    [regulator] = rig.of_kind("regulator")
    if said:
        place = rig.place(regulator)
        regulator.said["tested"] = [Statement(read_day(said), "seen", int(read_day(said).lo), "fitter", place)]
    filled = known(rig, _DAY, {}, pack)
    [copy] = filled.of_kind("regulator")
    return float(copy.facts["test_age"].lo)


def test_a_later_test_that_was_seen_replaces_the_written_one(pack: Pack) -> None:
    assert _age(pack, "") > 12.0
    assert 0.0 <= _age(pack, "2026-11-20") < 1.0


def test_a_day_has_no_digit_that_may_be_rounded() -> None:
    assert half_last_digit(read_day("2026-11-24")) == 0.0
