"""Denial proves nothing: a thing left out, or written `none`, never makes a rig look better."""

from __future__ import annotations

from collections.abc import Iterator
from copy import deepcopy
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from support.in_full import sites_in_full
from support.sampling import sampled

import rigcheck
from rigcheck.judge.inspection import Inspection
from rigcheck.rules.folders import configs_folder
from rigcheck.text.faults import Refused

DAY = date(2026, 11, 25).toordinal()
RIGS = sorted((*(configs_folder() / "templates").glob("*.yaml"), *sites_in_full().glob("*.yaml")))
RIGS = [path for path in RIGS if "lines:" in path.read_text(encoding="utf-8")]

_FAULTS: dict[str, tuple[tuple[str, str], ...]] = {
    "hose": (("cover", "burnt"), ("condition", "burnt")),
    "regulator": (("condition", "cracked"),),
    "arrester": (("direction", "against-flow"),),
    "cylinder": (("secured", "none"), ("valve_leak", "leaks")),
    "torch": (("condition", "leaking"),),
    "trolley": (("tilt", "20.5 deg"),),
    "tools": (("leak_fluid", "false"),),
    "workpiece": (("closed", "true"),),
    "site": (("place", "ship-tank"),),
    "store": (("same_room", "true"),),
}
"""What makes a thing dangerous, so that leaving it out would be the easiest way to a better report."""

_NOT_NEEDED = {
    "joiner": "hoses/line_has_few_joiners",
    "coupler": "manifolds/coupler_shuts_when_parted",
    "swivel": "hoses/swivel_passes_the_flow",
    "hose_pair": "hoses/twin_hoses_part_freely",
    "carriage": "a rig that is not carried has none",
    "store": "a rig without spare cylinders keeps none",
}
"""Kinds of which a rig may have none, so that leaving out a bad one is a cure."""

_CURES = {
    ("pipe-loft-brazing", "arrester"): "arresters/free_air_torch_line_is_protected",
    ("air-aspirated-propane-brazing", "arrester"): "arresters/free_air_torch_line_is_protected",
    ("air-aspirated-propane-roofing", "arrester"): "arresters/free_air_torch_line_is_protected",
    ("natural-gas-wall-point", "regulator"): "pressure/part_stands_its_pipe",
    ("oxygen-lance", "arrester"): "arresters/arrester_at_every_regulator",
    ("two-torches-headers", "arrester"): "arresters/header_branches_have_arresters",
    ("two-torches-headers", "hose"): "hoses/gas_reaches_the_torch_through_a_hose",
}
"""Where one more guard or length than the rules ask for is taken out with its fault: the rule that still is met."""

_IMPLIED = ("site", "job", "workpiece", "tools", "people", "breaks", "overnight", "nozzle", "control_valve")
"""What a rig has though nobody writes it: left out, it is asked after again, and then nothing of it is shown."""

Way = tuple[str | int, ...]


@cache
def _written(path: Path) -> Any:
    return yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader)


def _things(rig: Any, at: Way = ()) -> Iterator[tuple[str, Way]]:
    """Yield each thing that a rig's file writes: its kind's key and the way to it."""
    for key, value in rig.items():
        if key in ("trolley", "tools", "site", "workpiece", "store", "carriage", "job", "breaks", "overnight"):
            yield key, (*at, key)
        if key in ("people", "hose_pair", "torch", "control_valve", "nozzle", "trolley", "store"):
            listed = value if isinstance(value, list) else []
            yield key, (*at, key)
            for number, one in enumerate(listed):
                yield key, (*at, key, number)
                if isinstance(one, dict):
                    yield from _things(one, (*at, key, number))
            if isinstance(value, dict):
                yield from _things(value, (*at, key))
        if key == "lines":
            for number, line in enumerate(value):
                yield from _parts(line, (*at, key, number))


def _parts(run: Any, at: Way) -> Iterator[tuple[str, Way]]:
    for number, entry in enumerate(run.get("parts", ())):
        kind = entry if isinstance(entry, str) else next(iter(entry))
        yield kind, (*at, "parts", number)
        body = None if isinstance(entry, str) else entry[kind]
        if isinstance(body, dict):
            for gauge in ("inlet_gauge", "outlet_gauge"):
                if gauge in body:
                    yield gauge, (*at, "parts", number, kind, gauge)
            for branch, inner in enumerate(body.get("branches", ())):
                yield from _parts(inner, (*at, "parts", number, kind, "branches", branch))


def _without(rig: Any, where: Way, denied: bool) -> Any:
    changed = deepcopy(rig)
    holder = changed
    for step in where[:-1]:
        holder = holder[step]
    if not denied:
        del holder[where[-1]]
    elif isinstance(where[-1], str):
        holder[where[-1]] = "none"
    else:
        return None  # in a list nothing is denied but left out
    return changed


def _faulted(rig: Any, kind: str, where: Way, fault: tuple[str, str]) -> Any:
    changed = deepcopy(rig)
    holder = changed
    for step in where:
        holder = holder[step]
    body = holder[kind] if isinstance(holder, dict) and isinstance(holder.get(kind), dict) else holder
    if not isinstance(body, dict):
        return None
    body[fault[0]] = fault[1]
    return changed


def _inspected(rig: Any, pack: rigcheck.Pack) -> Inspection | None:
    """Return the inspection of a rig, or None where it is refused."""
    data = yaml.safe_dump(rig, sort_keys=False, allow_unicode=True).encode()
    try:
        return rigcheck.inspect_rig(rigcheck.load_rig(data, "denied.yaml", pack.vocabulary), pack, day=DAY)
    except Refused:
        return None


_STATES = ("nothing found against it", "lesser findings only", "not yet shown", "on hold")


def _rank(inspection: Inspection) -> int:
    return _STATES.index(inspection.state("warning"))


def _better(rig: Any, kind: str, where: Way, pack: rigcheck.Pack) -> Iterator[tuple[str, str]]:
    """Yield the states before and after, where leaving a thing out or denying it makes the state better."""
    before = _inspected(rig, pack)
    for denied in (False, True):
        changed = _without(rig, where, denied)
        after = _inspected(changed, pack) if before is not None and changed is not None else None
        if before is None or after is None:
            continue
        asked_again = kind in _IMPLIED and after.state("warning") == "not yet shown" and not denied
        if _rank(after) < _rank(before) and not asked_again:
            yield before.state("warning"), after.state("warning")


def _variants(path: Path) -> Iterator[tuple[Any, str, Way]]:
    """Yield a rig with each of its things, as it stands and with a fault of that thing."""
    rig = _written(path)
    for kind, where in _things(rig):
        yield rig, kind, where
        for fault in _FAULTS.get(kind, ()):
            changed = _faulted(rig, kind, where, fault)
            if changed is not None:
                yield changed, kind, where


def _helped(path: Path, pack: rigcheck.Pack, every: int) -> list[tuple[str, Way, str, str]]:
    tried = list(_variants(path))[len(path.stem) % every :: every]
    assert tried
    needed = [one for one in tried if one[1] not in _NOT_NEEDED and (path.stem, one[1]) not in _CURES]
    return [(kind, where, *states) for rig, kind, where in needed for states in _better(rig, kind, where, pack)]


@pytest.mark.parametrize("path", sampled(RIGS, 5), ids=lambda path: path.stem)
def test_a_thing_left_out_or_denied_makes_no_rig_look_better(path: Path, pack: rigcheck.Pack) -> None:
    assert _helped(path, pack, every=17) == []


@pytest.mark.whole
@pytest.mark.parametrize("path", RIGS, ids=lambda path: path.stem)
def test_whatever_is_left_out_or_denied_makes_no_rig_look_better(path: Path, pack: rigcheck.Pack) -> None:
    assert _helped(path, pack, every=1) == []


@pytest.mark.parametrize("key", ["site", "job", "workpiece", "tools", "people", "breaks", "overnight", "trolley"])
def test_denying_what_every_rig_has_puts_one_that_nothing_was_found_against_on_hold(
    key: str, pack: rigcheck.Pack
) -> None:
    rig = _written(sites_in_full() / "tool-room-welding.yaml")
    before, after = _inspected(rig, pack), _inspected(rig | {key: "none"}, pack)
    assert before is not None and before.state("warning") == "nothing found against it"
    assert after is not None and after.state("warning") == "on hold"


def test_a_kind_of_which_there_may_be_none_is_judged_by_a_rule_or_left_out_for_a_reason(pack: rigcheck.Pack) -> None:
    named = [reason for reason in (*_NOT_NEEDED.values(), *_CURES.values()) if "/" in reason]
    assert [one for one in named if one not in pack.rules] == []
