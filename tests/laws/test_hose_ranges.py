"""Hoses whose flow may be laminar or turbulent: the figures of a range hold those of every hose inside it.

A warmer gas is thicker, so there a loss may rise or fall with the temperature, and friction jumps.
"""

from __future__ import annotations

from random import Random

import pytest
from support.sampling import sampled
from support.small_rigs import one, span, worked

from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack

RIG = """
rig: near the jump
site: {{ambient_temperature: {air} degC}}
lines:
  - gas: {gas}
    consumption: {flow} L/h
    parts:
      - regulator: {{set_pressure: {setting} bar}}
      - hose: {{bore: {bore} mm, length: {length} m, joiners: 0}}
torch:
  nozzle: {{fuel_pressure: 0.3 bar, oxygen_pressure: 0.3 bar}}
"""
RANGES = {"air": (-20, 50), "bore": (4, 10), "flow": (60, 900), "length": (5, 60), "setting": (0.4, 1.4)}
FIGURES = [("hose", name) for name in ("drop", "longest", "smallest_bore")]
FIGURES += [("line", name) for name in ("needed_pressure", "torch_pressure", "torch_share")]

Spans = dict[str, tuple[float, float]]


def drawn(random: Random) -> Spans:
    spans = {}
    for name, (least, greatest) in RANGES.items():
        start = random.uniform(least, greatest)
        width = random.choice((0.0, 0.02, 0.3) if name != "air" else (0.3, 0.9)) * (greatest - least)
        spans[name] = start, min(start + width, greatest)
    return spans


def inside(random: Random, spans: Spans) -> dict[str, str]:
    """Return a number of each range, as often as not one of its ends."""
    return {name: f"{random.choice((*ends, random.uniform(*ends))):.9f}" for name, ends in spans.items()}


def outside_of(ranged: Rig, narrow: Rig) -> list[str]:
    """Return the figures of a hose that those of the range do not hold."""
    found = []
    for kind, name in FIGURES:
        (low, high), (least, most) = span(one(ranged, kind), name), span(one(narrow, kind), name)
        slack = 1e-6 * high
        if not low - slack <= least <= most <= high + slack:
            found.append(name)
    return found


@pytest.mark.parametrize("seed", sampled(range(12), 12))
@pytest.mark.parametrize("gas", ["acetylene", "oxygen", "methane", "nitrogen"])
def test_the_figures_of_a_range_hold_those_of_every_hose_inside_it(gas: str, seed: int, pack: Pack) -> None:
    random = Random(f"{gas} {seed}")
    for _ in range(8):
        spans = drawn(random)
        ranges = {name: f"{low:.9f} to {high:.9f}" for name, (low, high) in spans.items()}
        ranged = worked(RIG.format(gas=gas, **ranges), pack)
        for _ in range(5):
            values = inside(random, spans)
            narrow = worked(RIG.format(gas=gas, **values), pack)
            assert outside_of(ranged, narrow) == [], (ranges, values)


@pytest.mark.parametrize(("flow", "either"), [(330, False), (500, True), (1100, False)])
def test_in_transition_a_hose_may_lose_what_laminar_or_turbulent_flow_does(flow: int, either: bool, pack: Pack) -> None:
    """By hand, acetylene in 8 mm: Re = 4 q rho/(pi D mu) = 1600, 2430 and 5350, at 1.107 kg/m3 and 1.005e-5 Pa s."""
    values = {"air": "20", "bore": "8", "length": "60", "setting": "1"}
    text = RIG.format(gas="acetylene", flow=flow, **values).replace("joiners: 0", "joiners: 0, roughness: 0 mm")
    low, high = span(one(worked(text, pack), "hose"), "drop")
    assert (high > 1.4 * low) is either
