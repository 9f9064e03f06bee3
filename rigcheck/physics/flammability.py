"""Between which shares in air a gas burns, by named data set, and mixtures of gases.

Two standards disagree by up to a fifth; a report that gives a limit names the data set.
Limits are for still air at about 20 degC and 101325 Pa; warmth, pressure and oxygen all widen them.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from rigcheck.physics.validity import from_zero, within

__all__ = [
    "DATA_SETS",
    "Limits",
    "limit_by_threshold",
    "limits_in_air",
    "mixture_lower_limit",
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
`mixture_lower_limit`, with methane's upper limit.
"""


def limits_in_air(*, gas: str, data_set: str) -> Limits | None:
    """Return the flammable limits of a gas in air from one data set, as volume shares; None where it has none.

    >>> limits_in_air(gas="acetylene", data_set="IEC 60079-20-1 (2010)")
    Limits(lower=0.023, upper=1.0)
    """
    return DATA_SETS.get(data_set, {}).get(gas)


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


def mixture_lower_limit(*, shares: Mapping[str, float], lower_limits: Mapping[str, float]) -> float | None:
    """Return the lower flammable limit of a gas mixture in air, as a volume share: 1/sum(x_i/L_i).

    `shares`: volume share of each burning gas in the mixture; what is missing to 1 is inert and at most 0.1.
    `lower_limits`: lower limit of each of them, above 0 to 1.
    None where a limit is missing.
    Assumes that the gases burn without minding each other; fair for lower limits of hydrocarbons and hydrogen.
    Source: Le Chatelier's rule, US Bureau of Mines Bulletin 627 (1965) (from memory).

    >>> round(mixture_lower_limit(shares={"methane": 0.5, "propane": 0.5},
    ...     lower_limits={"methane": 0.05, "propane": 0.021}), 4)
    0.0296
    """
    if not shares or not from_zero(*shares.values()) or not within(sum(shares.values()), 0.9, 1.0 + 1e-9):
        return None
    if not all(name in lower_limits and 0.0 < lower_limits[name] <= 1.0 for name in shares):
        return None
    return 1.0 / sum(share / lower_limits[name] for name, share in shares.items())


def limit_by_threshold(*, threshold_share: float, threshold_over_limit: float) -> float | None:
    """Return a lower limit from a share that is a known part of it: c/part.

    `threshold_share`: such as the share at which a gas is smelt, above 0 to 1; `threshold_over_limit`: above 0 to 1.

    TC 9-237: MPS is smelt at 100 ppm, 1/340 of its lower limit.
    >>> round(limit_by_threshold(threshold_share=100e-6, threshold_over_limit=1 / 340), 4)
    0.034
    """
    if not (0.0 < threshold_share <= 1.0 and 0.0 < threshold_over_limit <= 1.0):
        return None
    limit = threshold_share / threshold_over_limit
    return limit if limit <= 1.0 else None
