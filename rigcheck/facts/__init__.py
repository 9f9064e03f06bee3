"""Facts that are worked out: from the day of inspection, from the order of the parts, by figures."""

from __future__ import annotations

from rigcheck.facts.establishment import establish, uncomputed
from rigcheck.facts.figure import Wants

__all__ = ["Wants", "establish", "uncomputed"]
