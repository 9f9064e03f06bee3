"""rigcheck: judge a description of an oxy-fuel rig by rules that are data.

from datetime import date
import rigcheck

pack = rigcheck.load_pack(rigcheck.rules_folder())
rig = rigcheck.load_rig(open("rig.yaml", "rb").read(), "rig.yaml", pack.vocabulary)
inspection = rigcheck.inspect_rig(rig, pack, day=date(2026, 11, 25).toordinal())
inspection.state("warning")
"""

from __future__ import annotations

from rigcheck.judge.inspection import Finding, Inspection, Question, inspect_rig
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.folders import configs_folder, rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Fault, Refused
from rigcheck.version import __version__

__all__ = [
    "Fault",
    "Finding",
    "Inspection",
    "Pack",
    "Question",
    "Refused",
    "Rig",
    "Thing",
    "__version__",
    "configs_folder",
    "inspect_rig",
    "load_pack",
    "load_rig",
    "rules_folder",
]
