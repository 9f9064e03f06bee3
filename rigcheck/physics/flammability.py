"""Between which shares in air a gas burns, by named data set, and mixtures of gases.

Two standards disagree by up to a fifth; a report that gives a limit names the data set.
Limits are for still air at about 20 degC and 101325 Pa; warmth, pressure and oxygen all widen them.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

__all__ = [
    "DATA_SETS",
    "Limits",
    "widest_limits",
]


class Limits(NamedTuple):
    """Lower and upper flammable limit in air as volume shares; None where the data set gives none."""

    lower: float
    upper: float | None


def _limits(rows: Mapping[str, tuple[float, float | None]]) -> Mapping[str, Limits]:
    return MappingProxyType({name: Limits(*pair) for name, pair in rows.items()})


DATA_SETS: Mapping[str, Mapping[str, Limits]] = MappingProxyType(
    {
        "NFPA 497 (2008)": _limits(
            {
                "acetylene": (0.025, 1.0),
                "butane": (0.019, 0.085),
                "ethane": (0.03, 0.125),
                "ethylene": (0.027, 0.36),
                "hydrogen": (0.04, 0.75),
                "methane": (0.05, 0.15),
                "methylacetylene": (0.017, None),
                "propane": (0.021, 0.095),
                "propylene": (0.024, 0.103),
            }
        ),
        "IEC 60079-20-1 (2010)": _limits(
            {
                "acetylene": (0.023, 1.0),
                "butane": (0.014, 0.093),
                "ethane": (0.024, 0.155),
                "ethylene": (0.023, 0.36),
                "hydrogen": (0.04, 0.77),
                "methane": (0.044, 0.17),
                "methylacetylene": (0.017, 0.168),
                "propane": (0.017, 0.109),
                "propylene": (0.02, 0.111),
            }
        ),
        "US Army TC 9-237": _limits({"methylacetylene-mix": (0.034, 0.108)}),
        "Le Chatelier on IEC 60079-20-1 (2010)": _limits({"natural-gas": (0.0378, 0.17)}),
    }
)
"""The first two as carried by the chemicals library 1.5.2.

TC 9-237 gives the lower limit of stabilised methylacetylene-propadiene (MPS); its upper limit here is from memory.
Natural gas has no line of its own: here as a rich one, 85 % methane, 10 % ethane and 5 % propane, by
Le Chatelier's rule (US Bureau of Mines Bulletin 627, 1965), with methane's upper limit.
"""


def widest_limits(*, gas: str) -> Limits | None:
    """Return the most cautious limits of a gas over all data sets: the least lower, the greatest upper.

    >>> widest_limits(gas="propane")
    Limits(lower=0.017, upper=0.109)
    """
    known = [rows[gas] for rows in DATA_SETS.values() if gas in rows]
    if not known:
        return None
    uppers = [row.upper for row in known if row.upper is not None]
    return Limits(min(row.lower for row in known), max(uppers, default=None))
