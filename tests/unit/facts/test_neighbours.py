"""Facts that follow from the order of the parts: fuel or not, the kinds of part, the longest run of hose."""

from __future__ import annotations

import pytest
from support.small_rigs import is_unknown, one, point, span, wanted, worked

from rigcheck.rules.pack import Pack

ONE_LINE = "rig: A rig\nlines:\n  - {gas: %s, parts: [cylinder, regulator, %s]}\ntorch: {}\n"
HEADER = """\
rig: A rig
lines:
  - gas: oxygen
    parts:
      - hose: {length: 1 m}
      - header:
          branches:
            - {parts: [hose: {length: 5 m}, joiner, hose: {length: 10 ± 1 m}], to: First}
            - {parts: [hose: {length: 12 m}], to: Second}
torch: [{name: First}, {name: Second}]
"""


BURNS = ("acetylene", "propane", "butane", "hydrogen", "natural-gas", "fuel-mix")
BURNS_NOT = ("oxygen", "air", "nitrogen", "carbon-dioxide", "argon")


@pytest.mark.parametrize(("gas", "fuel"), [(gas, gas in BURNS) for gas in BURNS + BURNS_NOT])
def test_every_gas_burns_but_oxygen_air_and_the_inert_ones(pack: Pack, gas: str, fuel: bool) -> None:
    assert one(worked(ONE_LINE % (gas, "hose"), pack), "line").facts["fuel"] is fuel


def test_the_kinds_of_part_stand_in_the_order_of_flow_as_words(pack: Pack) -> None:
    line = one(worked(ONE_LINE % ("oxygen", "non_return_valve, hose"), pack), "line")
    assert line.facts["part_kinds"] == ("cylinder", "regulator", "non-return-valve", "hose")


def test_the_whole_length_is_that_of_the_longest_run_to_a_torch(pack: Pack) -> None:
    line = one(worked(HEADER, pack), "line")
    assert span(line, "whole_length") == (15, 17)  # 1 + 5 + (10 ± 1) m, against 1 + 12 m


def test_hoses_in_a_row_add_up(pack: Pack) -> None:
    rig = worked(ONE_LINE % ("oxygen", "hose: {length: 10 m}, joiner, hose: {length: 10 ft}"), pack)
    assert point(one(rig, "line"), "whole_length") == pytest.approx(13.048)


def test_a_length_that_is_not_known_is_what_the_whole_length_waits_for(pack: Pack) -> None:
    line = one(worked(ONE_LINE % ("oxygen", "hose: {length: 10 m}, joiner, hose"), pack), "line")
    assert is_unknown(line, "whole_length")
    assert wanted(line, "whole_length") == ["hose.length"]
