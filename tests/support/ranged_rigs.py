"""Rigs and a site whose measurements are ranges, so that figures can be tried with them and with what lies inside."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from random import Random
from typing import Any, NamedTuple

from rigcheck.quantity.notation import read_quantity
from rigcheck.rig.premises import load_premises
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack
from rigcheck.text.place import Place
from support.small_rigs import LIMITS, known, worked

__all__ = ["TEXTS", "Drawn", "drawn", "inside", "ranged", "worked_text"]

Span = tuple[float, float]

_TROLLEY = """
rig: any
site: {{ambient_temperature: {air}, altitude: {altitude}, room_volume: {room}, air_flow: {fresh}, welders: 2}}
job: {{process: cutting, hours_per_day: {hours}, duty_share: {duty}}}
trolley: {{own_mass: {own}, own_centre_height: {own_centre}, track_width: {track}, wheel_base: {base},
  foot_width: {foot}, axle_distance: {axle}, cylinder_spacing: {spacing}, platform_height: {platform},
  push_height: {push}, tilt: {tilt}, cover_area: {cover}, cover_centre: {cover_centre}}}
lines:
  - gas: {fuel}
    stands: left
    draw: intermittent
    torches_fed: 1
    purge_time: {purge}
    hold_start_pressure: {start}
    hold_end_pressure: {end}
    hold_start_temperature: {warm}
    hold_end_temperature: {cool}
    hold_time: {hold}
    hold_gauge_step: {step}
    parts:
      - cylinder: {{{held}full_contents_mass: {full}, pressure: {fuel_pressure}, upright: true, in_use: true,
          working_pressure: 18 bar, temperature: {fuel_warmth}, diameter: {diameter}, height: {height},
          tare_mass: {tare}}}
      - joint: {{leak_test: leaks, bubble_size: {bubble}, bubble_interval: {interval}}}
      - regulator: {{set_pressure: {fuel_set}}}
      - hose: {{bore: {bore}, length: {length}, joiners: 0}}
  - gas: {compressed}
    stands: right
    purity: {purity}
    purge_time: {purge}
    hold_start_pressure: {start}
    hold_end_pressure: {end}
    hold_time: {hold}
    hold_gauge_step: {step}
    parts:
      - cylinder: {{water_capacity: {capacity}, pressure: {pressure}, working_pressure: {filling},
          temperature: {warmth}, height: {other_height}, tare_mass: {other_tare}}}
      - regulator: {{set_pressure: {oxygen_set}}}
      - hose: {{bore: {bore}, length: {length}, joiners: 0}}
torch:
  nozzle: {{fuel_flow: {flow}, cutting_bore: {jet}, oxygen_pressure: {jet_pressure}, fuel_pressure: 0.3 bar}}
"""
_BANK = """
rig: bank
site: {{ambient_temperature: {air}, room_volume: {room}, acetylene_content: {content},
  hood_distance: {hood}, hood_air_flow: {hood_air}}}
job: {{process: cutting, hours_per_day: {hours}, duty_share: {duty}}}
lines:
  - gas: {fuel}
    draw: intermittent
    torches_fed: 1
    parts:
      - cylinder: {{water_capacity: {capacity}, {held}full_contents_mass: {full}, pressure: {fuel_pressure},
          upright: true, in_use: true, working_pressure: 18 bar, temperature: {fuel_warmth}, tare_mass: {tare},
          diameter: {diameter}, height: {height}}}
      - regulator: {{set_pressure: {fuel_set}}}
      - arrester: {{flow_rating: {rating}, rated_drop: {rated_drop}}}
      - joint: {{proof_pressure: {filling}}}
      - hose: {{bore: {bore}, length: {length}, joiners: 0, proof_pressure: {filling}}}
  - gas: oxygen
    torches_fed: 1
    parts:
      - manifold:
          branches:
            - [cylinder: {{water_capacity: {capacity}, pressure: {pressure}, working_pressure: 300 bar,
                temperature: {warmth}, tare_mass: {other_tare}}}]
            - [cylinder: {{water_capacity: {capacity}, pressure: {first_set}, working_pressure: 300 bar,
                temperature: {warmth}, tare_mass: {other_tare}}}]
      - regulator: {{set_pressure: {first_set}}}
      - hose: {{bore: {bore}, length: {length}, joiners: 0}}
      - joiner: {{flow_rating: {rating}, rated_drop: {rated_drop}}}
      - regulator: {{set_pressure: {oxygen_set}, least_difference: {difference}}}
      - hose: {{bore: {bore}, length: {length}, joiners: 0}}
torch:
  nozzle: {{fuel_flow: {flow}, cutting_bore: {jet}, oxygen_pressure: {jet_pressure},
    cutting_oxygen_flow: {jet_flow}, fuel_pressure: 0.3 bar}}
"""
_PIPED = """
rig: piped
site: {{room_volume: {room}, ambient_temperature: {air}, altitude: {altitude}}}
store: {{gases: [acetylene, propane, oxygen], fuel_cylinders: 3, fuel_cylinder_content: {each},
  lpg_cylinders: 2, lpg_cylinder_mass: {full}, oxygen_cylinders: 4, oxygen_cylinder_content: {each}}}
lines:
  - gas: oxygen
    consumption: {flow}
    torches_fed: 1
    parts:
      - outlet_point: {{pipe_pressure: {oxygen_set}, pipework: {{test_pressure: {fuel_pressure}, bore: {bore}}}}}
      - hose
  - gas: acetylene
    parts:
      - acetylene_generator: {{charge_gas: {each}}}
      - hose
"""
_COUPLED = """
rig: coupled
job: {{process: cutting, thickness: {thickness}}}
lines:
  - gas: acetylene
    parts:
      - manifold:
          branches:
            - [cylinder: {{full_contents_mass: {full}, pressure: {fuel_pressure}, working_pressure: 18 bar}}]
            - [cylinder: {{full_contents_mass: {full}, pressure: {fuel_pressure}, working_pressure: 18 bar}}]
      - hose
  - {{gas: oxygen, parts: [cylinder, hose]}}
torch: {{nozzle: {{cutting_bore: {jet}}}}}
"""
_SITE = """
site: any yard
buildings: [{{name: shed, volume: {room}}}]
stores:
  - {{name: box, stands_in: shed, gases: [acetylene, propane], fuel_cylinders: 4, fuel_cylinder_content: {each},
     lpg_cylinders: 2, lpg_cylinder_mass: {full}}}
  - {{name: rack, stands_in: shed, gases: [oxygen], oxygen_cylinders: 3, oxygen_cylinder_content: {each}}}
rigs: [{{file: one.yaml, stands_in: shed}}]
permits: [{{name: week, valid_from: 2026-11-23, valid_until: 2026-11-27}}]
"""
TEXTS: Mapping[str, str] = {"trolley": _TROLLEY, "bank": _BANK, "piped": _PIPED, "coupled": _COUPLED, "site": _SITE}

_RANGES: Mapping[str, tuple[float, float, str]] = {
    "air": (-20, 50, "degC"),
    "altitude": (0, 3000, "m"),
    "axle": (0.1, 0.5, "m"),
    "base": (0.3, 0.9, "m"),
    "bore": (5, 10, "mm"),
    "bubble": (0.5, 5, "mm"),
    "capacity": (5, 50, "L"),
    "content": (0, 2, "%"),
    "cool": (0, 40, "degC"),
    "cover": (0.1, 2, "m2"),
    "cover_centre": (0.4, 1.5, "m"),
    "diameter": (200, 380, "mm"),
    "difference": (0.3, 2, "bar"),
    "duty": (10, 100, "%"),
    "each": (2, 12, "m3"),
    "end": (0.3, 6, "bar"),
    "filling": (150, 300, "bar"),
    "first_set": (10, 20, "bar"),
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
    "hood": (50, 250, "mm"),
    "hood_air": (100, 900, "m3/h"),
    "hours": (1, 8, "h"),
    "interval": (0.5, 60, "s"),
    "jet": (0.6, 2.4, "mm"),
    "jet_flow": (1, 20, "m3/h"),
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
    "purity": (98.5, 99.5, "%"),
    "push": (0.9, 1.3, "m"),
    "rated_drop": (0.02, 0.2, "bar"),
    "rating": (10, 60, "m3/h"),
    "room": (5, 300, "m3"),
    "spacing": (0.2, 0.35, "m"),
    "start": (0.5, 6, "bar"),
    "step": (0.02, 0.2, "bar"),
    "tare": (20, 70, "kg"),
    "thickness": (5, 100, "mm"),
    "tilt": (0, 8, "deg"),
    "track": (0.4, 0.9, "m"),
    "warm": (0, 40, "degC"),
    "warmth": (-20, 60, "degC"),
}
_FUELS = ("acetylene", "acetylene", "propane", "propylene", "butane")
_COMPRESSED = ("oxygen", "oxygen", "nitrogen", "argon", "hydrogen")
_MORE_LIMITS = {
    "steel_oxygen_speed": ("30 m/s", "speed"),
    "acetylene_pressure": ("1.5 bar", "pressure"),
    "lpg_mass_each": ("70 kg", "mass"),
    "lpg_room_each": ("300 m3", "volume"),
}
_MEASURED = {"fuel_connected": "each", "lpg_connected": "full", "lpg_spare": "full", "oxygen_held": "each",
             "fuel_spare": "each", "cylinders": "", "welders": ""}  # fmt: skip


class Drawn(NamedTuple):
    """A range of each measurement, and which gases the lines carry."""

    text: str
    spans: Mapping[str, Span]
    gases: Mapping[str, str]


def drawn(text: str, seed: int) -> Drawn:
    """Return a range of each measurement: a point, or up to a third of what it may be."""
    random, spans = Random(seed), {}
    for name, (least, greatest, _) in _RANGES.items():
        middle, width = random.uniform(least, greatest), random.choice((0.0, 0.02, 0.1, 0.3)) * (greatest - least)
        spans[name] = max(least, middle - width / 2), min(greatest, middle + width / 2)
    return Drawn(text, spans, {"fuel": random.choice(_FUELS), "compressed": random.choice(_COMPRESSED)})


def ranged(at: Drawn) -> dict[str, str]:
    """Return every measurement as the range that it is."""
    return _said(lambda span: f"{span[0]:.6f} to {span[1]:.6f}", at)


def inside(at: Drawn, random: Random) -> dict[str, str]:
    """Return measurements inside the ranges, at an end of each or between."""
    return _said(lambda span: f"{random.choice((*span, random.uniform(*span))):.6f}", at)


def _said(say: Callable[[Span], str], at: Drawn) -> dict[str, str]:
    return {name: f"{say(span)} {_RANGES[name][2]}" for name, span in at.spans.items()}


def worked_text(at: Drawn, said: Mapping[str, str], pack: Pack) -> Rig:
    """Return the rig or the site of a text with measurements in it, its facts worked out."""
    # Of acetylene the pressure says how much there is: a mass beside it would be another witness, and a dispute.
    held = "" if at.gases["fuel"] == "acetylene" else f"contents_mass: {said['gas']}, "
    text = TEXTS[at.text].format(**at.gases, **said, held=held)
    return _site(text, said, pack) if at.text == "site" else worked(text, pack, _MORE_LIMITS)


def _site(text: str, said: Mapping[str, str], pack: Pack) -> Rig:
    def stand(path: str) -> tuple[Mapping[str, Any], Place]:
        facts = pack.vocabulary.kinds["standing rig"].facts
        told = {name: read_quantity(said[of] if of else "2", facts[name].measure) for name, of in _MEASURED.items()}
        return told | {"name": path}, Place(path, 1, 1)

    limits = {name: read_quantity(*written) for name, written in (LIMITS | _MORE_LIMITS).items()}
    rig = load_premises(text.encode(), "yard.yaml", pack.vocabulary, stand)
    return known(rig, date(2026, 11, 25).toordinal(), limits, pack)
