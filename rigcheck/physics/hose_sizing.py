"""What hose would do at a demand: how long it may be, how narrow it may be.

Each is the pressure figure of `hose_flow` solved for a size of the hose.
"""

from __future__ import annotations

from msgspec.structs import replace

from rigcheck.physics.hose_flow import Hose, hose_heads, hose_inlet_pressure_abs
from rigcheck.physics.intervals import monotone
from rigcheck.physics.isothermal_flow import Stream, choking_pressure_abs, heads_between
from rigcheck.physics.root_search import last_true

__all__ = ["longest_hose", "smallest_bore"]

_LEAST_BORE = 0.5e-3
_MOST_BORE = 0.2


@monotone(
    rises=("hose.bore", "stream.turbulent_from", "inlet_pressure_abs", "stream.molar_mass"),
    falls=(
        "stream.mass_flow",
        "outlet_pressure_abs",
        "stream.temperature",
        "stream.compressibility",
        "hose.roughness",
        "hose.loss_coefficient",
    ),
)
def longest_hose(*, stream: Stream, hose: Hose, inlet_pressure_abs: float, outlet_pressure_abs: float) -> float | None:
    """Return the longest hose that still brings a flow to its outlet at the wanted pressure, m.

    L = D/f ((p1^2 - p2^2)/c^2 - K - 2 ln(p1/p2)).
    `stream`: as `Stream` says, its mass flow above 0 (with no flow any length will do);
    `hose`: as `Hose` says, its own length plays no part;
    pressures: Pa, the inlet's at least the outlet's, the outlet's above the choking pressure.
    None where the couplings alone lose too much, or the flow is choked.
    Source: as `isothermal_flow`; turned round from the worked example of `hose_inlet_pressure_abs`.

    >>> oxygen = Stream(mass_flow=3.76212e-3, temperature=293.15, molar_mass=0.0319988, compressibility=1.0,
    ...     viscosity=2.02727e-5)
    >>> smooth = Hose(bore=6.3e-3, length=20.0, roughness=0.0, loss_coefficient=0.0)
    >>> round(longest_hose(stream=oxygen, hose=smooth, inlet_pressure_abs=6.62381e5, outlet_pressure_abs=6e5), 1)
    20.0
    """
    metre = hose_heads(stream=stream, hose=Hose(hose.bore, 1.0, hose.roughness, 0.0))
    choking = choking_pressure_abs(stream=stream, bore=hose.bore)
    if not metre or choking is None:
        return None
    heads = heads_between(
        inlet_pressure_abs=inlet_pressure_abs,
        outlet_pressure_abs=outlet_pressure_abs,
        choking_pressure_abs=choking,
    )
    if heads is None or not 0.0 <= hose.loss_coefficient <= heads:
        return None
    return (heads - hose.loss_coefficient) / metre


@monotone(
    rises=(
        "stream.mass_flow",
        "hose.length",
        "outlet_pressure_abs",
        "stream.temperature",
        "stream.compressibility",
        "hose.roughness",
        "hose.loss_coefficient",
    ),
    falls=("stream.turbulent_from", "inlet_pressure_abs", "stream.molar_mass"),
)
def smallest_bore(*, stream: Stream, hose: Hose, inlet_pressure_abs: float, outlet_pressure_abs: float) -> float | None:
    """Return the smallest bore that still brings a flow to the outlet at the wanted pressure, m.

    The bore at which `hose_inlet_pressure_abs` is the pressure that there is, by halving.
    `stream`: as `Stream` says, its mass flow above 0; `hose`: as `Hose` says, its own bore plays no part, and its
    `loss_coefficient` is counted at the bore that is found;
    pressures: Pa.
    None outside 0.5 mm to 200 mm.
    Source: as `isothermal_flow`; turned round from the worked example of `hose_inlet_pressure_abs`.

    >>> oxygen = Stream(mass_flow=3.76212e-3, temperature=293.15, molar_mass=0.0319988, compressibility=1.0,
    ...     viscosity=2.02727e-5)
    >>> smooth = Hose(bore=8e-3, length=20.0, roughness=0.0, loss_coefficient=0.0)
    >>> bore = smallest_bore(stream=oxygen, hose=smooth, inlet_pressure_abs=6.62381e5, outlet_pressure_abs=6e5)
    >>> round(bore * 1e3, 2)
    6.3
    """

    def reaches(bore: float) -> bool:
        tried = replace(hose, bore=bore)
        needed = hose_inlet_pressure_abs(stream=stream, hose=tried, outlet_pressure_abs=outlet_pressure_abs)
        return needed is not None and needed <= inlet_pressure_abs

    return last_true(reaches, _MOST_BORE, _LEAST_BORE)
