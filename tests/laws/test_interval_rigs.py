"""A rig whose measurements are ranges: every figure of it holds what any rig inside those ranges comes to."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import isfinite
from random import Random

import pytest
from support.small_rigs import worked

from rigcheck.facts.registry import figures_of
from rigcheck.facts.topics import line_pressure
from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack

RIG = """
rig: any
site: {{ambient_temperature: {air}, room_volume: {room}, air_flow: {fresh}, welders: 2}}
job: {{process: cutting, thickness: 25 mm, hours_per_day: {hours}, duty_share: {duty}}}
trolley: {{own_mass: {own}, own_centre_height: {own_centre}, track_width: {track}, wheel_base: {base},
  foot_width: {foot}, axle_distance: {axle}, cylinder_spacing: {spacing}, platform_height: {platform},
  push_height: {push}, tilt: {tilt}}}
lines:
  - gas: {fuel}
    stands: left
    draw: intermittent
    purge_time: {purge}
    hold_start_pressure: {start}
    hold_end_pressure: {end}
    hold_start_temperature: {warm}
    hold_end_temperature: {cool}
    hold_time: {hold}
    hold_gauge_step: {step}
    parts:
      - cylinder: {{{held}full_contents_mass: {full}, pressure: {fuel_pressure}, upright: true,
          working_pressure: 18 bar, temperature: {fuel_warmth}, diameter: {diameter}, height: {height},
          tare_mass: {tare}}}
      - regulator: {{set_pressure: {fuel_set}}}
      - hose: {{bore: {bore}, length: {length}, joiners: 0}}
  - gas: {compressed}
    stands: right
    parts:
      - cylinder: {{water_capacity: {capacity}, pressure: {pressure}, working_pressure: {filling},
          temperature: {warmth}, height: {other_height}, tare_mass: {other_tare}}}
      - regulator: {{set_pressure: {oxygen_set}}}
      - hose: {{bore: {bore}, length: {length}, joiners: 0}}
torch:
  nozzle: {{fuel_flow: {flow}, cutting_bore: {jet}, oxygen_pressure: {jet_pressure}, fuel_pressure: 0.3 bar}}
"""
RANGES: dict[str, tuple[float, float, str]] = {
    "air": (-20, 50, "degC"),
    "axle": (0.1, 0.5, "m"),
    "base": (0.3, 0.9, "m"),
    "bore": (5, 10, "mm"),
    "capacity": (5, 50, "L"),
    "cool": (0, 40, "degC"),
    "diameter": (200, 380, "mm"),
    "duty": (10, 100, "%"),
    "end": (0.3, 6, "bar"),
    "filling": (150, 300, "bar"),
    "flow": (0.1, 2, "m3/h"),
    "foot": (0, 0.9, "m"),
    "fresh": (0, 500, "m3/h"),
    "fuel_pressure": (4, 20, "bar"),
    "fuel_set": (0.2, 1.4, "bar"),
    "fuel_warmth": (-15, 45, "degC"),
    "full": (8, 9, "kg"),
    "gas": (1, 8, "kg"),
    "height": (0.8, 1.6, "m"),
    "hold": (2, 30, "min"),
    "hours": (1, 8, "h"),
    "jet": (0.6, 2.4, "mm"),
    "jet_pressure": (0, 9, "bar"),
    "length": (5, 50, "m"),
    "other_height": (0.8, 1.7, "m"),
    "other_tare": (10, 75, "kg"),
    "own": (10, 60, "kg"),
    "own_centre": (0.2, 0.8, "m"),
    "oxygen_set": (1, 10, "bar"),
    "platform": (0.05, 0.3, "m"),
    "pressure": (5, 300, "bar"),
    "purge": (5, 120, "s"),
    "push": (0.9, 1.3, "m"),
    "room": (5, 300, "m3"),
    "spacing": (0.2, 0.35, "m"),
    "start": (0.5, 6, "bar"),
    "step": (0.02, 0.2, "bar"),
    "tare": (20, 70, "kg"),
    "tilt": (0, 8, "deg"),
    "track": (0.4, 0.9, "m"),
    "warm": (0, 40, "degC"),
    "warmth": (-20, 60, "degC"),
}
MAY_BE_UNKNOWN = {figure.name for figure in line_pressure.FIGURES} | {
    "cylinders_for_job",
    "spares_needed",
    "changes_in_job",
    "hot_pressure",  # a cylinder in the ranges is filled beyond what the gas law is good for
    "clearing_time",  # a room in the ranges is never clear
}
FUELS = ("acetylene", "propane", "propylene", "butane")
COMPRESSED = ("oxygen", "oxygen", "nitrogen", "argon", "hydrogen")

Span = tuple[float, float]


def drawn(random: Random) -> dict[str, Span]:
    """Return a range of each measurement: a point, or up to a third of what it may be."""
    spans = {}
    for name, (least, greatest, _) in RANGES.items():
        middle, width = random.uniform(least, greatest), random.choice((0.0, 0.02, 0.1, 0.3)) * (greatest - least)
        spans[name] = max(least, middle - width / 2), min(greatest, middle + width / 2)
    return spans


def written(spans: dict[str, Span], gases: dict[str, str], say: Callable[[Span], str]) -> str:
    said = {name: f"{say(span)} {RANGES[name][2]}" for name, span in spans.items()}
    # Of acetylene the pressure says how much there is: a mass beside it would be another witness, and a dispute.
    held = "" if gases["fuel"] == "acetylene" else f"contents_mass: {said['gas']}, "
    return RIG.format(**gases, **said, held=held)


def compared(ranged: Rig, inside: Rig, pack: Pack) -> Iterator[tuple[str, object, Interval]]:
    known = figures_of(pack.figures.values())
    for wide, narrow in zip(ranged.things, inside.things, strict=True):
        for name, value in narrow.facts.items():
            if (narrow.kind.name, name) in known and name in narrow.workings and isinstance(value, Interval):
                yield f"{name} of the {narrow.label}", wide.facts.get(name), value


@pytest.mark.parametrize("seed", [*range(16), 45])  # 45: a hose that is laminar when it is warm
def test_what_a_rig_inside_the_ranges_comes_to_lies_inside_the_figures(seed: int, pack: Pack) -> None:
    random = Random(seed)
    spans, gases = drawn(random), {"fuel": random.choice(FUELS), "compressed": random.choice(COMPRESSED)}
    ranged = worked(written(spans, gases, lambda span: f"{span[0]:.6f} to {span[1]:.6f}"), pack)
    count = 0
    for _ in range(4):
        text = written(spans, gases, lambda span: f"{random.choice((*span, random.uniform(*span))):.6f}")
        for name, wide, value in compared(ranged, worked(text, pack), pack):
            if not isinstance(wide, Interval) and name.split()[0] in MAY_BE_UNKNOWN:
                continue  # some rig in the ranges lies where no bore would do, or outside the validity
            assert isinstance(wide, Interval), name
            slack = 1e-6 * max((abs(end) for end in (wide.lo, wide.hi) if isfinite(end)), default=0.0) + 1e-12
            assert wide.lo - slack <= value.lo <= value.hi <= wide.hi + slack, name
            count += 1
    assert count > 100
