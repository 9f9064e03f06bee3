"""A small rig for reports of figures, worked out under the pack that ships."""

from __future__ import annotations

from datetime import date

from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack
from rigcheck.tasks.calculation_sheet import Calculation, calculate_rig

DAY = date(2026, 11, 25).toordinal()

RIG = """\
rig: {name}
job: {{process: cutting, hours_per_day: 8 h, duty_share: 50 %}}
site: {{ambient_temperature: 15 degC}}
lines:
  - gas: acetylene
    consumption: 400 L/h
    supply_content: {content}
    draw: intermittent
    parts:
      - cylinder: {{{cylinder}}}
      - regulator: {{set_pressure: 0.5 bar}}
torch: {{}}
"""


def rig_text(name: str = "small", content: str = "2 m3", cylinder: str = "") -> str:
    """Return the YAML of an acetylene line that draws 400 L/h from a stated content."""
    return RIG.format(name=name, content=content, cylinder=cylinder)


def calculated(text: str, pack: Pack, local_code: str = "") -> Calculation:
    """Return the calculation sheet of a rig."""
    return calculate_rig(load_rig(text.encode(), "small.yaml", pack.vocabulary), pack, day=DAY, local_code=local_code)


def inspected(text: str, pack: Pack, local_code: str = "") -> Inspection:
    """Return the inspection of a rig."""
    return inspect_rig(load_rig(text.encode(), "small.yaml", pack.vocabulary), pack, day=DAY, local_code=local_code)
