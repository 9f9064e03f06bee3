"""Hose flow: what hoses and arresters lose, what the regulator must give, what reaches the torch."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcheck.facts.flow_losses import (
    arrester_drop,
    greatest,
    hose_drop,
    longest_hose,
    smallest_bore,
    torch_pressure,
    torch_share,
)
from rigcheck.facts.flow_paths import LOSES, flow_of, joiners_of, nozzles_of, outlet_of
from rigcheck.facts.spans import added, as_stated, values_of
from rigcheck.facts.working import Figure, Way

__all__ = ["FIGURES"]

_ISOTHERMAL = "Massoud, Engineering Thermofluids (2005), p. 411; Colebrook (1939); Crane TP-410 (from memory)"
_HOSE = {
    "gas": "line.gas",
    "flow": "flow",
    "bore": "bore",
    "length": "length",
    "temperature": "rig.site.ambient_temperature",
    "after": "outlet_needed",
}
_SETTING = {
    "set_pressure": "line.regulator.set_pressure",
    "needed": "line.needed_pressure",
    "nozzle": "line.nozzle_pressure",
    "share": "limit:torch_pressure_share",
}
_DROP = (
    "p1^2 - p2^2 = G^2 Z R T/M (f L/D + K + 2 ln(p1/p2)), absolute, drop = p1 - p2; G = q rho(1 atm, 15 degC)/A, "
    "p2 = outlet needed + 1 atm, f = 64/Re or Colebrook, K = 0 to 2.15 for each tail"
)
_SPARE = (
    "S = (p_set + 1 atm)^2 - (p_needed + 1 atm)^2 + (p_nozzle + 1 atm)^2 - (x p_nozzle + 1 atm)^2, "
    "x = least share of its pressure that the nozzle gets"
)
_AT_FULL_FLOW = "at full flow; straight hose; a kink, and valves and couplings of the line, lose more"
_NEEDED = "p = the greatest that the parts behind want: a nozzle its own, a hose or an arrester outlet needed + drop"


def _outlet_figure(kind: str) -> Figure:
    way = Way(_NEEDED, "arithmetic", greatest, gather=outlet_of, validity=_AT_FULL_FLOW)
    return Figure(kind, "outlet_needed", (way,))


def _flow_figure(kind: str) -> Figure:
    way = Way(
        "q = demand of the line, or on a branch that of its own torches",
        "arithmetic",
        lambda gathered: added(values_of(gathered, "q")),
        gather=flow_of,
    )
    return Figure(kind, "flow", (way,))


def _hose_figure(
    name: str, formula: str, work_out: Callable[..., Any], inputs: Mapping[str, str], validity: str, *, asks: bool
) -> Figure:
    """Return a figure of a hose with the roughness that is stated, or else with that of a new one."""
    stated = {**inputs, "roughness": "roughness"}
    as_new = f"{formula}; roughness 0 to 0.03 mm", f"{_ISOTHERMAL}; roughness of rubber tubing from memory"
    ways = (
        Way(formula, _ISOTHERMAL, work_out, stated, gather=joiners_of, validity=validity, asks=False),
        Way(*as_new, work_out, inputs, gather=joiners_of, validity=validity, asks=asks),
    )
    return Figure("hose", name, ways)


FIGURES: tuple[Figure, ...] = (
    *(_flow_figure(kind) for kind in LOSES),
    *(_outlet_figure(kind) for kind in (*LOSES, "regulator")),
    _hose_figure("drop", _DROP, hose_drop, _HOSE, _AT_FULL_FLOW, asks=True),
    Figure(
        "arrester",
        "drop",
        (
            Way(
                "p1^2 - p2^2 = (q/q_rated)^2 (p_r^2 - (p_r - drop_rated)^2), absolute, drop = p1 - p2; "
                "p_r = set pressure + 1 atm, p2 = outlet needed + 1 atm",
                "similarity of compressible flow, as in IEC 60534-2-1 for valves (from memory)",
                arrester_drop,
                inputs={
                    "flow": "flow",
                    "rated_flow": "flow_rating",
                    "rated_drop": "rated_drop",
                    "set_pressure": "line.regulator.set_pressure",
                    "after": "outlet_needed",
                },
                validity="flow up to the rated one, rated in this gas at the set pressure",
            ),
        ),
    ),
    Figure(
        "line",
        "nozzle_pressure",
        (
            Way(
                "p = the greatest that a nozzle wants",
                "arithmetic",
                greatest,
                gather=nozzles_of,
                validity="the pressure at the torch; a table that counts a hose in gives more than is needed",
            ),
        ),
    ),
    Figure("line", "needed_pressure", (as_stated("regulator.outlet_needed", asks=True),)),
    Figure(
        "line",
        "torch_pressure",
        (
            Way(
                "p = sqrt((p_set + 1 atm)^2 - (p_needed + 1 atm)^2 + (p_nozzle + 1 atm)^2) - 1 atm",
                _ISOTHERMAL,
                torch_pressure,
                inputs={
                    "set_pressure": "regulator.set_pressure",
                    "needed": "needed_pressure",
                    "nozzle": "nozzle_pressure",
                },
                validity="at the full demand, for the torch that wants most; a starved torch draws less; "
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
                inputs={"torch": "torch_pressure", "nozzle": "nozzle_pressure"},
            ),
        ),
    ),
    _hose_figure(
        "longest",
        "L = L0 + S D/(f G^2 Z R T/M), not below 0; " + _SPARE,
        longest_hose,
        _HOSE | _SETTING,
        "the rest of the line as it is",
        asks=False,
    ),
    _hose_figure(
        "smallest_bore",
        "the bore at which p1^2 - p2^2 is that of the hose as it is plus S; " + _SPARE,
        smallest_bore,
        _HOSE | _SETTING,
        "the rest of the line as it is; K counted at the bore that is found",
        asks=False,
    ),
)
"""The figures of this topic."""
