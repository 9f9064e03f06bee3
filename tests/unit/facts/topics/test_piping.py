"""Pipework against the pressure that it works at, and the room of a portable generator."""

from __future__ import annotations

import pytest
from support.small_rigs import one, point, worked

from rigcheck.rules.pack import Pack


def test_a_proof_is_told_as_a_share_of_the_pressure_in_the_pipe(pack: Pack) -> None:
    outlet = "outlet_point: {pipe_pressure: 10 bar, pipework: {test_pressure: 15 bar}}"
    rig = worked(f"rig: r\nlines:\n  - {{gas: oxygen, parts: [{outlet}, hose]}}\n", pack)
    assert point(one(rig, "pipework"), "test_share") == pytest.approx(1.5)


def test_a_room_is_told_in_volumes_of_the_gas_of_one_charge(pack: Pack) -> None:
    parts = "acetylene_generator: {charge_gas: 2 m3}, hose"
    rig = worked(f"rig: r\nsite: {{room_volume: 70 m3}}\nlines:\n  - {{gas: acetylene, parts: [{parts}]}}\n", pack)
    assert point(one(rig, "acetylene generator"), "room_per_charge") == pytest.approx(35.0)
