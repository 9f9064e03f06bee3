"""Friction in a round bore: Reynolds number, flow regime, Darcy friction factor."""

from __future__ import annotations

from math import log10, pi, sqrt

from rigcheck.physics.intervals import monotone

__all__ = [
    "LAMINAR_LIMIT",
    "TURBULENT_LIMIT",
    "darcy_friction",
    "reynolds_number",
]


LAMINAR_LIMIT = 2040.0
"""Reynolds number from which flow in a pipe can stay turbulent: Avila et al., Science 333 (2011) 192 (from memory)."""

TURBULENT_LIMIT = 4000.0
"""Reynolds number above which pipe flow is taken as turbulent: Moody, Trans. ASME 66 (1944) 671 (from memory)."""


@monotone(rises=("mass_flow",), falls=("bore", "viscosity"))
def reynolds_number(*, mass_flow: float, bore: float, viscosity: float) -> float | None:
    """Return the Reynolds number of flow in a round bore (no unit).

    Re = 4 m/(pi D mu).
    `mass_flow`: kg/s, from 0; `bore`: m, above 0; `viscosity`: Pa s, above 0.
    Source: any text on fluid mechanics.

    >>> round(reynolds_number(mass_flow=1.88106e-3, bore=6.3e-3, viscosity=2.02727e-5))
    18753
    """
    if not (mass_flow >= 0.0 and bore > 0.0 and viscosity > 0.0):
        return None
    return 4.0 * mass_flow / (pi * bore * viscosity)


@monotone(rises=("relative_roughness",), falls=("turbulent_from",))
def darcy_friction(
    *, reynolds: float, relative_roughness: float, turbulent_from: float = LAMINAR_LIMIT
) -> float | None:
    """Return the Darcy friction factor of a round bore (no unit).

    Laminar: f = 64/Re.
    Else Colebrook: 1/sqrt(f) = -2 log10(e/3.7 + 2.51/(Re sqrt(f))), solved to the last bits, and no less than 64/Re.
    `reynolds`: above 0, to 1e8; `relative_roughness`: wall roughness over bore, 0 to 0.05 (Moody's chart);
    `turbulent_from`: the Reynolds number from which flow is taken as turbulent, above 0.
    In transition either may be met: from `LAMINAR_LIMIT` on gives the most that is lost, from `TURBULENT_LIMIT` the
    least; neither is a measured value, and `flow_regime` says so.
    The factor jumps up where flow stops being laminar, so it neither rises nor falls in `reynolds` throughout.
    Source: Colebrook, Journal of the ICE 11 (1939) 133 (from memory); the fluids library reads it the same way.

    >>> round(darcy_friction(reynolds=1e5, relative_roughness=1e-4), 5)
    0.01851
    """
    if not (0.0 < reynolds <= 1e8 and 0.0 <= relative_roughness <= 0.05 and turbulent_from > 0.0):
        return None
    laminar = 64.0 / reynolds
    return laminar if reynolds < turbulent_from else max(laminar, _colebrook(reynolds, relative_roughness))


def _colebrook(reynolds: float, roughness: float) -> float:
    inverse_root = 1.0 / sqrt(0.04)
    for _ in range(60):
        stepped = -2.0 * log10(roughness / 3.7 + 2.51 * inverse_root / reynolds)
        if abs(stepped - inverse_root) < 1e-14 * stepped:
            break
        inverse_root = stepped
    return stepped**-2
