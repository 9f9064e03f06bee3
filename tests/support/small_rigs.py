"""Small rigs written in a test, with their facts worked out."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType
from typing import Any

from rigcheck.condition.compiler import Judge
from rigcheck.facts.known import FactPlan, Known
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.notation import read_quantity
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import MISSING, Rig, Thing
from rigcheck.rules.pack import Pack

LIMITS = {
    "stamping_temperature_low": ("15 degC", "temperature"),
    "stamping_temperature_high": ("15 degC", "temperature"),
    "residual_pressure": ("2 bar", "pressure"),
    "acetylene_draw_intermittent": ("1/7 per h", "share_per_hour"),
    "acetylene_draw_continuous": ("1/15 per h", "share_per_hour"),
    "joint_leak_rate": ("8 cm3/h", "flow"),
    "torch_pressure_share": ("90 %", "share"),
    "regulator_margin": ("0.3 bar", "pressure"),
    "purge_changes": ("3", "count"),
    "oxygen_content_high": ("23.5 %", "share"),
    "explosive_share": ("10 %", "share"),
    "cylinder_temperature": ("54 degC", "temperature"),
}
"""Limits of the tests' own, so that no rule's number is tested here."""


def worked(text: str, pack: Pack, more: Mapping[str, tuple[str, str]] = MappingProxyType({})) -> Rig:
    """Return the rig of a text, its facts worked out by the published tables of the pack, by LIMITS and by `more`."""
    rig = load_rig(text.encode(), "small.yaml", pack.vocabulary)
    limits = {name: read_quantity(*written) for name, written in (LIMITS | dict(more)).items()}
    return known(rig, date(2026, 11, 25).toordinal(), limits, pack)


def known(rig: Rig, day: int, limits: Mapping[str, Interval], pack: Pack) -> Rig:
    """Return a rig with every fact of it worked out on a day; the one that is given stays as it is."""
    made = Known(
        rig,
        FactPlan(Judge(limits), pack.tables, pack.follows.values(), frozenset(), figures=pack.figures.values()),
        day,
    )
    made.work_all_out()
    return made.filled


def one(rig: Rig, kind: str, gas: str = "") -> Thing:
    """Return the first thing of a kind, of the line of a gas where one is named."""
    found = (t for t in rig.things if t.kind.name == kind)
    return next(t for t in found if not gas or _gas(t) == gas)


def _gas(thing: Thing) -> Any:
    line = thing if thing.kind.name == "line" else thing.facts.get("line")
    return line.facts.get("gas") if isinstance(line, Thing) else None


def span(thing: Thing, fact: str) -> tuple[float, float]:
    """Return a worked-out number as (least, greatest) in base units."""
    value = thing.facts[fact]
    assert isinstance(value, Interval), f"{thing.label} has no {fact}"
    return value.lo, value.hi


def point(thing: Thing, fact: str) -> float:
    """Return a worked-out number whose ends agree to a rounding error."""
    low, high = span(thing, fact)
    assert high - low <= 1e-9 * abs(high)
    return low


def is_unknown(thing: Thing, fact: str) -> bool:
    """Return whether a fact was not worked out."""
    return thing.facts.get(fact, MISSING) is MISSING


def wanted(thing: Thing, fact: str) -> list[str]:
    """Return what a fact waits for, as 'kind.fact'."""
    return [f"{owner.kind.name}.{name}" for owner, name in thing.wanting[fact]]
