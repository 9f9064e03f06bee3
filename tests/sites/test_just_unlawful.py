"""What lies just outside a lawful but unusual rig is found: one thing is changed, and the rule that says so breaks."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from datetime import date
from typing import Any

import pytest
import yaml
from support.lawful_rigs import rig_text

import rigcheck
from rigcheck.rules.pack import Pack

_DAY = date(2026, 11, 25).toordinal()
Rig = dict[str, Any]


def _parts(rig: Rig, line: int) -> list[Rig]:
    parts: list[Rig] = rig["lines"][line]["parts"]
    return parts


def _stated(line: int, kind: str, **facts: str) -> Callable[[Rig], None]:
    def state(rig: Rig) -> None:
        next(part[kind] for part in _parts(rig, line) if kind in part).update(facts)

    return state


def _said(*path: str, **facts: str) -> Callable[[Rig], None]:
    def say(rig: Rig) -> None:
        thing: Any = rig
        for step in path:
            thing = thing[int(step) if step.isdigit() else step]
        thing.update(facts)

    return say


def _lead_left_out(rig: Rig) -> None:
    branch = _parts(rig, 1)[0]["manifold"]["branches"][0]
    branch["parts"] = [part for part in branch["parts"] if "pigtail" not in part]


def _gauge_taken_off_behind_an_arrester(rig: Rig) -> None:
    parts = _parts(rig, 0)
    arrester = next(part["arrester"] for part in parts if "arrester" in part)
    where = next(number for number, part in enumerate(parts) if "regulator" in part)
    parts[where]["regulator"]["inlet_gauge"] = "none"
    parts.insert(where, {"arrester": deepcopy(arrester)})


_OUTSIDE = [
    # lawful rig, local code, what is changed, the rule that finds it
    ("banks of two", "uk", _lead_left_out, "cylinders/cylinder_of_a_bank_has_its_lead"),
    ("banks of two", "uk", _said(examined_by_scheme="no"), "rig/installed_gas_system_has_a_scheme_of_examination"),
    ("banks of two", "uk", _gauge_taken_off_behind_an_arrester, "regulators/cylinder_gauge_is_there"),
    ("banks of two", "za", _said(installed_by="trained-user"), "rig/installed_gas_system_is_certified"),
    (
        "pipes below the pressure of the law",
        "uk",
        _stated(0, "outlet_point", pipe_pressure="0.51 bar"),
        "rig/installed_gas_system_has_a_scheme_of_examination",
    ),
    (
        "air lines in a small room",
        "us",
        _said("people", "0", breathing_protection="none"),
        "site/air_flow_serves_every_welder",
    ),
    ("a mixer that is approved", "us", _said("lines", "0", premix="mixed"), "rig/gases_meet_only_in_the_torch"),
    (
        "each date and metal just within",
        "uk",
        _stated(0, "cylinder", retest_until="2026-11-24"),
        "cylinders/periodic_test_is_in_date",
    ),
    (
        "each date and metal just within",
        "us",
        _stated(0, "arrester", copper_share="65 %"),
        "materials/acetylene_part_is_low_in_copper",
    ),
    (
        "each date and metal just within",
        "uk",
        _stated(0, "cylinder", pressure="30 bar"),
        "pressure/acetylene_cylinder_shows_no_more_than_a_full_one",
    ),
    (
        "each date and metal just within",
        "uk",
        _stated(0, "cylinder", contents_mass="6.1 kg", full_contents_mass="6 kg"),
        "cylinders/fuel_cylinder_is_not_overfilled",
    ),
    ("regulators left on a carrier", "us", _said("carriage", regulators="left-on"), "carriage/regulators_are_off"),
    ("a wall between stored gases", "us", _said("store", barrier_height="1.5 m"), "store/fuel_and_oxygen_are_apart"),
    ("brazing behind a light filter", "eu", _said("people", "0", filter_shade="2"), "people/filter_suits_brazing"),
    (
        "small cylinders with a recess",
        "au",
        _stated(0, "cylinder", cap="takes-none"),
        "cylinders/large_cylinder_can_take_a_cap",
    ),
    (
        "liquid oxygen in the yard",
        "us",
        _stated(1, "bulk_tank", fuel_distance="6 m"),
        "bulk_supply/oxygen_tank_is_apart_from_fuel",
    ),
    (
        "liquid oxygen in the yard",
        "us",
        _stated(1, "bulk_tank", connected_volume="14000 ft3"),
        "bulk_supply/bulk_oxygen_is_far_from_what_burns",
    ),
    (
        "pipework that is described",
        "uk",
        _said("lines", "0", "parts", "0", "outlet_point", "pipework", test_pressure="0.8 bar"),
        "piping/pipework_was_proven",
    ),
    (
        "a portable generator in the open",
        "us",
        _stated(0, "acetylene_generator", combustibles_distance="3 m"),
        "piping/portable_generator_stands_clear",
    ),
    (
        "a large stock in a room of its own",
        "us",
        _said("store", room_rating="30 min"),
        "store/large_fuel_stock_has_a_rated_aired_room",
    ),
    (
        "lifted in a cradle and tested since",
        "ca",
        _said(tested_since_change="no"),
        "rig/change_is_leak_tested_before_lighting",
    ),
]


@pytest.mark.parametrize(("name", "code", "change", "rule"), _OUTSIDE, ids=[f"{o[1]}-{o[3]}" for o in _OUTSIDE])
def test_one_change_makes_a_lawful_rig_unlawful(
    name: str, code: str, change: Callable[[Rig], None], rule: str, pack: Pack
) -> None:
    rig = yaml.load(rig_text(name, code), yaml.BaseLoader)
    change(rig)
    text = yaml.safe_dump(rig, sort_keys=False, allow_unicode=True)
    loaded = rigcheck.load_rig(text.encode(), "rig.yaml", pack.vocabulary)
    found = rigcheck.inspect_rig(loaded, pack, day=_DAY, local_code=code).findings
    assert rule in {one.rule for one in found}
