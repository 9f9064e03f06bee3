"""Facts that are worked out: from the day of inspection, from the order of the parts, by figures."""

from __future__ import annotations

from rigcheck.facts.establishing import establish, uncomputed
from rigcheck.facts.working import Wants

__all__ = ["Wants", "establish", "uncomputed"]
