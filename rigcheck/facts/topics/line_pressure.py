"""Hose flow: what hoses and arresters lose, what the regulator must give, what reaches the torch."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcheck.facts.figure import Figure, Gather, Look, Used, Way
from rigcheck.facts.topics.flow_network import (
    LOSES,
    RATED_FLOW,
    SETS,
    ends_of,
    flow_of,
    inlet_course_of,
    inlet_needs_of,
    joiners_of,
    lone_end_of,
    needs_of,
    nozzles_of,
    outlet_of,
    rating_of,
    settings_of,
    sizing_of,
)
from rigcheck.facts.topics.pressure_budget import arriving, least_share, torch_share
from rigcheck.facts.topics.pressure_loss import (
    flow_through,
    greatest,
    hose_data,
    hose_drop,
    inlet_wanted,
    least,
    longest_hose,
    rated_drop,
    smallest_bore,
)
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["FIGURES"]

_ISOTHERMAL = (
    "Engineering Thermofluids (2005), p. 411; friction by the Colebrook equation; "
    "sudden contraction and Borda-Carnot expansion (from memory)"
)
_HOSE = {
    "gas": "line.gas",
    "flow": "flow",
    "bore": "bore",
    "length": "length",
    "temperature": "rig.site.ambient_temperature",
    "after": "outlet_needed",
    "air": "rig.site.air_pressure",
}
_AIR = {"air": "rig.site.air_pressure"}
_SHARE = {"share": "limit:torch_pressure_share"}
_DROP = (
    "p1^2 - p2^2 = G^2 Z R T/M (f L/D + K + 2 ln(p1/p2)), absolute, drop = p1 - p2; G = q rho(1 atm, 15 degC)/A, "
    "p2 = outlet needed + p_air, f = 64/Re below Re = 4000 or Colebrook from 2040 on, Re = 4 G A/(pi D mu), "
    "K = 0 to 2.15 for each tail"
)
_LOST = "sum of P_in^2 - P_out^2 of the parts on the way, p_in = out + drop, p_out = out, P = p + p_air"
_ARRIVES = "p = sqrt(P_set^2 - F) - p_air, F = " + _LOST
_SPARE = (
    "S = P_set^2 - F - (x p_nozzle + p_air)^2, or - P_inlet^2 of a regulator, the least of those behind; "
    "x = least share that a nozzle gets; "
    "F = " + _LOST
)
_SIMILAR = "similarity of compressible flow, as in IEC 60534-2-1 for valves (from memory)"
_RATED_DROP = (
    "p1^2 - p2^2 = (q/q_rated)^2 (p_r^2 - (p_r - drop_rated)^2), absolute, drop = p1 - p2; "
    "p_r = p_set + 1 atm, p2 = outlet needed + p_air"
)
_COUNTED = "0: its two tails are counted with the hoses"
_AT_FULL_FLOW = "at full flow; straight hose; a kink, or a hose in a coil, loses more"
_NEEDED = (
    "p = the greatest that the parts behind want: a nozzle its own, a regulator inlet needed, "
    "any other outlet needed + drop"
)


def _outlet_figure(kind: str) -> Figure:
    way = Way(_NEEDED, "arithmetic", greatest, gather=outlet_of, validity=_AT_FULL_FLOW)
    return Figure(kind, "outlet_needed", (way,))


def _flow_figure(kind: str) -> Figure:
    way = Way(
        "q = demand of the line, or on a branch that of its own torches and at most that of the line; "
        "of a torch that other branches feed too, or in a branch of the supply, from nothing to all of it",
        "arithmetic",
        flow_through,
        gather=flow_of,
    )
    return Figure(kind, "flow", (way,))


def _unrated(joiner: Thing, look: Look) -> tuple[Used, ...] | None:
    """Gather nothing; None where its maker gave a flow: beyond that one its loss is not known, rather than nothing."""
    return () if look.fact(joiner, "flow_rating") is MISSING else None


def _rated_figure(kind: str) -> Figure:
    inputs = {"flow": "flow", "rated_flow": "flow_rating", "drop": "rated_drop", "after": "outlet_needed"}
    inputs |= _AIR
    rated = Way(
        _RATED_DROP,
        _SIMILAR,
        rated_drop,
        inputs,
        gather=rating_of,
        validity="flow up to the rated one, rated in this gas at the set pressure and 1 atm",
        asks=kind != "joiner",
    )
    if kind != "joiner":
        return Figure(kind, "drop", (rated,))
    none = Way(_COUNTED, "common practice", lambda gathered: (0.0, 0.0), gather=_unrated)
    return Figure(kind, "drop", (rated, none))


def _hose_figure(
    name: str, formula: str, work_out: Callable[..., Any], gather: Gather, validity: str, extra: Mapping[str, str]
) -> Figure:
    """Return a figure of a hose with the roughness that is stated, or else with that of a new one."""
    inputs, asks = {**_HOSE, **extra}, not extra
    stated = inputs | {"roughness": "roughness"}
    as_new = f"{formula}; roughness 0 to 0.03 mm", f"{_ISOTHERMAL}; roughness of rubber tubing from memory"
    ways = (
        Way(formula, _ISOTHERMAL, work_out, stated, gather=gather, data=hose_data, validity=validity, asks=False),
        Way(*as_new, work_out, inputs, gather=gather, data=hose_data, validity=validity, asks=asks),
    )
    return Figure("hose", name, ways)


_HOSES: tuple[Figure, ...] = (
    _hose_figure("drop", _DROP, hose_drop, joiners_of, _AT_FULL_FLOW, {}),
    _hose_figure(
        "longest",
        "L = L0 + S D/(f G^2 Z R T/M), not below 0; " + _SPARE,
        longest_hose,
        sizing_of,
        "the rest of the line as it is",
        _SHARE,
    ),
    _hose_figure(
        "smallest_bore",
        "the bore at which p1^2 - p2^2 is that of the hose as it is plus S; " + _SPARE,
        smallest_bore,
        sizing_of,
        "the rest of the line as it is; K counted at the bore that is found",
        _SHARE,
    ),
)

_BEHIND_ANOTHER = "a regulator behind another, or behind a pipeline"
_REGULATORS: tuple[Figure, ...] = (
    Figure(
        "regulator",
        "inlet_needed",
        (
            Way(
                "p = p_set + margin; margin = least difference of its table, or else the limit",
                "arithmetic",
                inlet_wanted,
                gather=inlet_needs_of,
                validity=_BEHIND_ANOTHER,
            ),
        ),
    ),
    Figure(
        "regulator",
        "inlet_pressure",
        (
            Way(
                _ARRIVES,
                _ISOTHERMAL,
                arriving,
                _AIR,
                gather=inlet_course_of,
                validity=_BEHIND_ANOTHER + "; at full flow",
            ),
        ),
    ),
)

_LINES: tuple[Figure, ...] = (
    Figure(
        "line",
        "set_pressure",
        (Way("p = the least to which what feeds the torches is set", "arithmetic", least, gather=settings_of),),
    ),
    Figure(
        "line",
        "nozzle_pressure",
        (
            Way(
                "p = the greatest that a nozzle or a lance wants",
                "arithmetic",
                greatest,
                gather=nozzles_of,
                validity="the pressure at the torch; a table that counts a hose in gives more than is needed",
            ),
        ),
    ),
    Figure(
        "line",
        "needed_pressure",
        (Way("p = the greatest that is needed of what feeds the torches", "arithmetic", greatest, gather=needs_of),),
    ),
    Figure(
        "line",
        "torch_pressure",
        (
            Way(
                _ARRIVES + "; of several torches the one that gets the least share",
                _ISOTHERMAL,
                arriving,
                _AIR,
                gather=ends_of,
                validity="at the full demand; a starved torch draws less; "
                "0 where the hoses would take more than there is",
            ),
        ),
    ),
    Figure(
        "line",
        "torch_share",
        (
            Way(
                "share = p_torch / p_nozzle",
                "arithmetic",
                torch_share,
                {"torch": "torch_pressure", "nozzle": "nozzle_pressure"},
                gather=lone_end_of,
            ),
            Way(
                "share = p / p_nozzle, the least of the torches; " + _ARRIVES,
                _ISOTHERMAL,
                least_share,
                _AIR,
                gather=ends_of,
                validity="at the full demand; a starved torch draws less",
            ),
        ),
    ),
)

FIGURES: tuple[Figure, ...] = (
    *(_flow_figure(kind) for kind in (LOSES, "regulator")),
    *(_outlet_figure(kind) for kind in (LOSES, SETS)),
    *(_rated_figure(kind) for kind in (RATED_FLOW, "joiner")),
    *_HOSES,
    *_REGULATORS,
    *_LINES,
)
"""The figures of this topic."""
