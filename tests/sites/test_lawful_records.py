"""A lawful but unusual record comes out clean: values at their limits, optional steps, a second try done right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import pytest
from support.in_full import sites_in_full
from support.procedure_tools import entry, expanded, judged, read_rig, record_text

from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack


class Lawful(NamedTuple):
    """A record of the tool room's set by what it states.

    `values` are those of each step, and only steps in it are done of those that may be left out; `twice` are steps done
    before with another value, each with what lies between its tries.
    """

    procedure: str
    values: Mapping[str, Mapping[str, str]]
    twice: Mapping[str, tuple[Mapping[str, str], Sequence[str]]] = {}
    code: str = "general"


_TIGHT = {"result": "tight"}
_ON = {"see_acetylene_pressure_on": {"pressure": "0.25 bar"}, "see_pressure_on": {"pressure": "0.25 bar"}}
_TRIED = dict.fromkeys(
    [
        *("try_cylinder_valve", "try_supply_joint", "try_gauge", "try_safety_valve", "try_regulator_outlet"),
        *("try_joint", "try_torch_inlet", "try_control_valve", "try_torch_tubes", "try_nozzle_nut"),
    ],
    _TIGHT,
)

_RECORDS = {
    "start-up with a valve barely open": Lawful(
        "start-up",
        {
            "show_the_permit": {"permit": "issued"},
            "look_the_rig_over": {"result": "no-fault-found"},
            "open_acetylene_cylinder_valve": {"turns": "0.1 turn"},
            "open_oxygen_cylinder_valve": {"turns": "0.2 turn"},
            "read_contents_gauge": {"contents": "9 bar"},
            "set_acetylene_pressure": {"pressure": "0.2 bar", "highest": "1.03 bar"},
            "set_oxygen_pressure": {"pressure": "0.2 bar"},
            "watch_for_creep": {"gauge": "stands-still"},
        },
    ),
    "a purge into an aired room": Lawful(
        "purge",
        {
            "find_open_air": {"into": "aired-room"},
            "purge_fuel": {"time": "2 min"},
            "purge_oxygen": {"time": "2 min"},
        },
    ),
    "lit at a pilot flame, at the second try": Lawful(
        "lighting",
        {
            "clear_the_place": {"distance": "35 ft"},
            "light_the_fuel": {"lighter": "pilot-flame"},
        },
        {"light_the_fuel": ({"lighter": "friction-lighter"}, ["shut_and_air"])},
    ),
    "shut down in the maker's order": Lawful(
        "shut-down",
        {
            "put_out_as_the_maker_says": {"closed_first": "oxygen"},
            "see_fuel_gauges_at_zero": {"reading": "0 bar"},
            "see_oxygen_gauges_at_zero": {"reading": "0 bar"},
        },
    ),
    "a cylinder changed, its cap freed with warm water": Lawful(
        "cylinder-change",
        {
            "see_gauges_at_zero": {"reading": "0 bar"},
            "free_the_cap": {"with": "warm-water"},
            "let_acetylene_stand": {"stood": "24 h"},
            "open_and_try_the_joint": _TIGHT,
        },
    ),
    "a joint that leaked, was made again and is tight": Lawful(
        "leak-test",
        {"take_leak_fluid": {"fluid": "detector"}, **_ON, **_TRIED},
        {"try_torch_inlet": ({"result": "leaks"}, [])},
    ),
    "a leak test with soap, and held": Lawful(
        "leak-test",
        {
            "take_leak_fluid": {"fluid": "soap-solution"},
            **_ON,
            **_TRIED,
            "wipe_dry": {},
            "hold_the_pressure": {"hold_time": "10 min", "pressure_drop": "0 bar"},
            "open_the_supply_again": {},
        },
    ),
    "left after an hour to the minute": Lawful(
        "leaving",
        {"keep_the_fire_watch": {"time": "60 min"}, "look_again": {"time": "3 h"}, "take_hot_pieces_away": {}},
    ),
    "carried with the regulators on their carrier": Lawful(
        "carrying",
        {
            "see_gauges_at_zero": {"reading": "0 bar"},
            "take_regulators_off": {"left": "left-on-carrier"},
            "try_the_valve": _TIGHT,
        },
    ),
    "a hose end cut back and proven at the limit": Lawful(
        "hose-end",
        {
            "cut_back": {"cut_back": "50 mm"},
            "pull": {"pull_test": "held"},
            "prove_under_pressure": {"proof_pressure": "300 psi"},
            "try_under_pressure": _TIGHT,
        },
    ),
    "begun again after a break": Lawful(
        "restart",
        {
            "test_the_air": {"explosive_share": "0 %", "oxygen": "20 %"},
            "set_fuel_pressure": {"pressure": "0.2 bar"},
            "set_oxygen_pressure": {"pressure": "0.2 bar"},
            "try_what_was_touched": _TIGHT,
            "purge_fuel": {"time": "2 min"},
            "purge_oxygen": {"time": "2 min"},
        },
    ),
    "a leak, and the cylinder taken out of doors": Lawful(
        "emergency-leak",
        {"carry_it_outdoors": {"taken_to": "open-air"}},
    ),
    "a hot cylinder, all kept away": Lawful(
        "emergency-hot-acetylene",
        {"get_everybody_away": {"distance": "200 m"}, "cool_from_cover": {}},
    ),
}


@pytest.fixture(scope="module")
def tool_room(pack: Pack) -> Rig:
    return read_rig(pack, (sites_in_full() / "tool-room-welding.yaml").read_text(encoding="utf-8"))


def _text(record: Lawful, rig: Rig, pack: Pack) -> str:
    lines = []
    instances = expanded(pack, rig, record.procedure, record.code).instances
    for one in instances:
        name = one.step.name
        if one.step.optional and name not in record.values:
            continue
        if name in record.twice:
            before, between = record.twice[name]
            lines += [entry(one, before), *(entry(step) for step in instances if step.step.name in between)]
        lines.append(entry(one, record.values.get(name)))
    return record_text(record.procedure, lines)


@pytest.mark.parametrize("name", _RECORDS)
def test_a_lawful_record_comes_out_clean(name: str, tool_room: Rig, pack: Pack) -> None:
    record = _RECORDS[name]
    inspection = judged(pack, tool_room, _text(record, tool_room, pack), record.code)
    found = [(one.signal, one.rule, one.thing, str(one.found)) for one in inspection.findings]
    asked = [(one.thing, one.fact, one.ask) for one in inspection.questions]
    assert [*(one for one in found if one[0] != "notice"), *asked] == []
