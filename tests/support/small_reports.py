"""Reports of a few rigs in the forms for continuous integration, made by the command itself."""

from __future__ import annotations

import json
from pathlib import Path
from typing import NamedTuple

from rigcheck.cli.main import main
from rigcheck.rules.folders import configs_folder

__all__ = ["HELD", "HOSTILE", "HOSTILE_FILE", "WRONG", "Told", "hostile_rig", "reported", "shipped"]

HELD = """\
rig: Leaning set
inspected: 2026-11-25
trolley: {tilt: 30 deg}
lines:
  - gas: acetylene
    parts: [cylinder, regulator, {hose: {bore: 8 mm, made: 2009-01}}]
  - gas: oxygen
    parts: [cylinder, regulator, hose]
torch: {form: cutting}
"""
WRONG = "rig: Wrong set\nlines:\n  - gas: acetilene\n    parts: [hose, gizmo]\n"
HOSTILE = (
    '<b>&amp; "set" [take this](https://example.com) ![x](y) @someone www.example.com `tick` | a|b *bold* _low_ '
    "{0} {{1}} ]]> <!-- -- 1. # $x$ ~~gone~~ #12"
)
"""A name that asks to be read as markup, as a placeholder, as a link or as a mention."""
HOSTILE_FILE = "1. \u202egnorw\x07 [a](b) <i> #1 100% é {0} 🔥.yaml"
"""A file's name may also hold what a rig may not: control characters, and marks that turn the text round."""


def hostile_rig() -> str:
    """Return a rig that is on hold, its name and the name of a part such text, and a value that nobody knows."""
    name = json.dumps(HOSTILE)
    held = HELD.replace("Leaning set", name).replace("{tilt: 30 deg}", f"{{name: {name}, tilt: 30 deg}}")
    return held.replace("bore: 8 mm", f"name: {name}")


class Told(NamedTuple):
    """What a run gave: its exit code and its report."""

    code: int
    text: str


def reported(output: Path, form: str, *arguments: object) -> Told:
    """Return a report that `inspect` writes for 25 November 2026."""
    given = ["inspect", *map(str, arguments), "--day", "2026-11-25", "--format", form, "--output", str(output)]
    code = main(given)
    return Told(code, output.read_text(encoding="utf-8"))


def shipped() -> list[Path]:
    """Return the demonstration sites and the records of work that ship."""
    return [path for name in ("sites", "records") for path in sorted((configs_folder() / name).glob("[!.]*.yaml"))]
