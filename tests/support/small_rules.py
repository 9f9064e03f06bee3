"""A small folder of rules that a test fills, on the vocabulary that ships."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from textwrap import dedent

import pytest

from rigcheck import Pack, load_pack
from rigcheck.text.faults import Fault, Refused

__all__ = ["TILT_RULE", "RulesFolder"]


@dataclass(frozen=True)
class RulesFolder:
    """A folder of rules that a test fills."""

    path: Path

    def write(self, name: str, text: str) -> Path:
        """Write one file of the folder and return its path."""
        path = self.path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(dedent(text), encoding="utf-8")
        return path

    def pack(self, *overlays: RulesFolder) -> Pack:
        """Return the pack of this folder with others laid on it."""
        return load_pack(self.path, *(one.path for one in overlays))

    def faults(self, *overlays: RulesFolder) -> list[Fault]:
        """Return the faults for which the pack is refused."""
        with pytest.raises(Refused) as refused:
            self.pack(*overlays)
        return list(refused.value.faults)


TILT_RULE = """\
claim: The trolley leans no further than its limit.
signal: warning
looks_at: trolley
holds:
  tilt: {maximum: {limit: trolley_tilt}}
harm: A trolley that leans falls over and breaks a valve.
put_right: Set the trolley upright on level ground.
drawn_from: [common practice]
proven_by:
  - {case: at the limit, tilt: 20 deg, verdict: holds}
  - {case: just beyond, tilt: 20.3 deg, verdict: broken}
  - {case: just within, tilt: 19.7 deg, verdict: holds}
  - {case: too close, tilt: 20 ± 1 deg, verdict: unproven}
  - {case: not measured, verdict: unproven}
"""
