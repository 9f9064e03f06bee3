"""Acetylene dissolved in acetone: what pressure and temperature say, roughly, about a cylinder's content.

Weight is the measure of an acetylene cylinder; pressure is a rough guide only, and these figures are rough:
take every one of them as good to `ROUGHNESS` of itself.
Henry's law is followed far past where it strictly holds, the swelling of the acetone and the gas above it
are left out, and the cylinder must have settled at one temperature.
"""

from __future__ import annotations

from math import exp

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import above_zero, within

__all__ = [
    "COLDEST",
    "ROUGHNESS",
    "acetylene_pressure_at",
    "acetylene_share_left",
    "solubility_in_acetone",
]


ROUGHNESS = 0.2
"""Share of itself within which a figure of this module is meant; judged from the sources' disagreement."""

COLDEST = 253.15
"""K; the coldest at which the solubility of acetylene is known here."""

_HOTTEST = 323.15  # K
_HIGHEST = 30e5  # Pa; a full cylinder in the sun
_VOLUMES = 25.0  # volumes of gas at 15 degC and 1 atm in one of acetone, at 15 degC and 1 atm of acetylene
_HEAT = 2000.0  # K; heat of solution over the gas constant, 16.6 kJ/mol (from memory)


@monotone(falls=("temperature",))
def solubility_in_acetone(*, temperature: float) -> float | None:
    """Return how much acetylene acetone dissolves under one atmosphere of it, volumes at 15 degC a volume.

    S = 25 exp(2000 K (1/T - 1/288.15 K)).
    `temperature`: K, 253 to 323.
    Source: 25 volumes at 15 degC, handbook value since Claude & Hess (1897); slope from memory of solubility tables
    (33 volumes at 0 degC, 20 at 20 degC, 13 at 40 degC).

    >>> solubility_in_acetone(temperature=288.15)
    25.0
    """
    if not within(temperature, COLDEST, _HOTTEST):
        return None
    return _VOLUMES * exp(_HEAT * (1.0 / temperature - 1.0 / 288.15))


@monotone(rises=("pressure_abs", "new_temperature"), falls=("temperature",))
def acetylene_pressure_at(*, pressure_abs: float, temperature: float, new_temperature: float) -> float | None:
    """Return the absolute pressure of a closed acetylene cylinder settled at another temperature, Pa.

    p2 = p1 S(T1)/S(T2): the same gas stays in solution.
    `pressure_abs`: Pa, 0 to 30e5; `temperature`, `new_temperature`: K, 253 to 323.
    A cold cylinder shows, and delivers at, a much lower pressure with nothing drawn from it.

    >>> round(acetylene_pressure_at(pressure_abs=19e5, temperature=288.15, new_temperature=273.15) / 1e5, 1)
    13.0
    """
    before = solubility_in_acetone(temperature=temperature)
    after = solubility_in_acetone(temperature=new_temperature)
    if before is None or after is None or not within(pressure_abs, 0.0, _HIGHEST):
        return None
    found = pressure_abs * before / after
    return found if found <= _HIGHEST else None


@monotone(rises=("pressure_abs", "full_temperature"), falls=("temperature", "full_pressure_abs"))
def acetylene_share_left(
    *, pressure_abs: float, temperature: float, full_pressure_abs: float, full_temperature: float
) -> float | None:
    """Return the share of a full acetylene cylinder's gas that its pressure speaks for, no unit.

    share = p S(T) / (p_full S(T_full)).
    `pressure_abs`, `full_pressure_abs`: Pa, 0 and above 0 to 30e5; `temperature`, `full_temperature`: K, 253 to 323.
    More than 1 means overfilled, or a temperature that is not the gas's.
    Source of the worked example: an oxy-acetylene handbook: 125 psi gauge at 70 degF is about half of a cylinder
    that is full at 250 psi gauge.

    >>> psi, air = 6894.757, 101325.0
    >>> round(acetylene_share_left(pressure_abs=125 * psi + air, temperature=294.26,
    ...     full_pressure_abs=250 * psi + air, full_temperature=294.26), 2)
    0.53
    """
    now = solubility_in_acetone(temperature=temperature)
    full = solubility_in_acetone(temperature=full_temperature)
    if now is None or full is None or not above_zero(full_pressure_abs):
        return None
    if not (within(pressure_abs, 0.0, _HIGHEST) and full_pressure_abs <= _HIGHEST):
        return None
    return pressure_abs * now / (full_pressure_abs * full)
