"""rigcheck: judge a description of an oxy-fuel rig by rules that are data.

from datetime import date
import rigcheck

pack = rigcheck.load_pack(rigcheck.rules_folder())
rig = rigcheck.load_rig(open("rig.yaml", "rb").read(), "rig.yaml", pack.vocabulary)
inspection = rigcheck.inspect_rig(rig, pack, day=date(2026, 11, 25).toordinal())
inspection.state("warning")
"""

from __future__ import annotations

from rigcheck.version import __version__

TYPE_CHECKING = False  # as checkers of types read it; `typing` would be the slowest part of this door
if TYPE_CHECKING:
    from typing import Any

    from rigcheck.judge.inspection import Finding, Inspection, Question, inspect_rig
    from rigcheck.rig.loader import load_rig
    from rigcheck.rig.thing import Rig, Thing
    from rigcheck.rules.folders import configs_folder, rules_folder
    from rigcheck.rules.load import load_pack
    from rigcheck.rules.pack import Pack
    from rigcheck.text.faults import Fault, Refused

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

_HOMES = {
    "judge.inspection": ("Finding", "Inspection", "Question", "inspect_rig"),
    "rig.loader": ("load_rig",),
    "rig.thing": ("Rig", "Thing"),
    "rules.folders": ("configs_folder", "rules_folder"),
    "rules.load": ("load_pack",),
    "rules.pack": ("Pack",),
    "text.faults": ("Fault", "Refused"),
}


def __getattr__(name: str) -> Any:
    """Import what is asked for only now: the command line sets up its signals before anything slow is loaded."""
    from importlib import import_module  # until the signals are set up every import counts

    for home, names in _HOMES.items():
        if name in names:
            return getattr(import_module(f"rigcheck.{home}"), name)
    raise AttributeError(f"module 'rigcheck' has no attribute {name!r}")
