"""What a hose can do: the flow that it passes, how long it may be, how narrow it may be.

Each is the pressure figure of `hose_flow` solved for another of its arguments.
"""

from __future__ import annotations

from math import log

from rigcheck.figures.hose_flow import hose_heads, hose_outlet_pressure_abs
from rigcheck.figures.isothermal_flow import choking_pressure_abs
from rigcheck.figures.root_search import last_true

__all__ = ["FALLS_WITH", "RISES_WITH", "hose_mass_flow", "longest_hose", "smallest_bore"]

_LEAST_BORE = 0.5e-3
_MOST_BORE = 0.2

_DRIVES = ("inlet_pressure_abs", "molar_mass")
_HINDERS = (
    "outlet_pressure_abs",
    "roughness",
    "loss_coefficient",
    "temperature",
    "compressibility",
)

RISES_WITH = {
    "hose_mass_flow": ("bore", *_DRIVES),
    "longest_hose": ("bore", *_DRIVES),
    "smallest_bore": ("mass_flow", "length", *_HINDERS),
}
FALLS_WITH = {
    "hose_mass_flow": ("length", *_HINDERS),
    "longest_hose": ("mass_flow", *_HINDERS),
    "smallest_bore": _DRIVES,
}
"""`viscosity` is left out, as in `hose_flow`."""


def hose_mass_flow(
    *,
    bore: float,
    length: float,
    roughness: float,
    loss_coefficient: float,
    inlet_pressure_abs: float,
    outlet_pressure_abs: float,
    temperature: float,
    molar_mass: float,
    viscosity: float,
    compressibility: float,
) -> float | None:
    """Return the greatest mass flow that still comes out of a hose at a wanted pressure, kg/s.

    Arguments as `hose_inlet_pressure_abs` and `hose_outlet_pressure_abs`.
    Where turbulence sets in, one pressure drop fits a laminar flow only: that laminar flow is returned.
    None where the wanted outlet pressure is above the inlet's, or so low that the hose would choke first.
    """
    unit = choking_pressure_abs(
        mass_flow=1.0,
        bore=bore,
        temperature=temperature,
        molar_mass=molar_mass,
        compressibility=compressibility,
    )
    if unit is None or not inlet_pressure_abs >= outlet_pressure_abs > 0.0:
        return None

    def reaches(flow: float) -> bool:
        outlet = hose_outlet_pressure_abs(
            mass_flow=flow,
            bore=bore,
            length=length,
            roughness=roughness,
            loss_coefficient=loss_coefficient,
            inlet_pressure_abs=inlet_pressure_abs,
            temperature=temperature,
            molar_mass=molar_mass,
            viscosity=viscosity,
            compressibility=compressibility,
        )
        return outlet is not None and outlet >= outlet_pressure_abs

    most = outlet_pressure_abs / unit
    return None if reaches(most * (1.0 - 1e-9)) else last_true(reaches, 0.0, most)


def longest_hose(
    *,
    mass_flow: float,
    bore: float,
    roughness: float,
    loss_coefficient: float,
    inlet_pressure_abs: float,
    outlet_pressure_abs: float,
    temperature: float,
    molar_mass: float,
    viscosity: float,
    compressibility: float,
) -> float | None:
    """Return the longest hose that still brings a flow to its outlet at the wanted pressure, m.

    L = D/f ((p1^2 - p2^2)/choke^2 - K - 2 ln(p1/p2)).
    Arguments as `hose_inlet_pressure_abs`; `mass_flow` above 0 (with no flow any length will do).
    None where the couplings alone lose too much, or the flow is choked.

    Turned round from the worked example of `hose_inlet_pressure_abs`:
    >>> round(longest_hose(mass_flow=3.76212e-3, bore=6.3e-3, roughness=0.0, loss_coefficient=0.0,
    ...     inlet_pressure_abs=6.62381e5, outlet_pressure_abs=6e5, temperature=293.15, molar_mass=0.0319988,
    ...     viscosity=2.02727e-5, compressibility=1.0), 1)
    20.0
    """
    choking = choking_pressure_abs(
        mass_flow=mass_flow,
        bore=bore,
        temperature=temperature,
        molar_mass=molar_mass,
        compressibility=compressibility,
    )
    heads_a_metre = hose_heads(
        mass_flow=mass_flow,
        bore=bore,
        length=1.0,
        roughness=roughness,
        loss_coefficient=0.0,
        viscosity=viscosity,
    )
    if not choking or not heads_a_metre or not inlet_pressure_abs >= outlet_pressure_abs > choking:
        return None
    squares = inlet_pressure_abs**2 - outlet_pressure_abs**2
    heads = squares / choking**2 - 2.0 * log(inlet_pressure_abs / outlet_pressure_abs)
    return (heads - loss_coefficient) / heads_a_metre if 0.0 <= loss_coefficient <= heads else None


def smallest_bore(
    *,
    mass_flow: float,
    length: float,
    roughness: float,
    loss_coefficient: float,
    inlet_pressure_abs: float,
    outlet_pressure_abs: float,
    temperature: float,
    molar_mass: float,
    viscosity: float,
    compressibility: float,
) -> float | None:
    """Return the smallest bore that still brings a flow to the outlet at the wanted pressure, m.

    Arguments as `hose_inlet_pressure_abs`, `mass_flow` above 0.
    None outside 0.5 mm to 200 mm.
    """

    def reaches(bore: float) -> bool:
        outlet = hose_outlet_pressure_abs(
            mass_flow=mass_flow,
            bore=bore,
            length=length,
            roughness=roughness,
            loss_coefficient=loss_coefficient,
            inlet_pressure_abs=inlet_pressure_abs,
            temperature=temperature,
            molar_mass=molar_mass,
            viscosity=viscosity,
            compressibility=compressibility,
        )
        return outlet is not None and outlet >= outlet_pressure_abs

    return last_true(reaches, _MOST_BORE, _LEAST_BORE) if outlet_pressure_abs > 0.0 else None
