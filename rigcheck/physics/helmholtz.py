"""Coefficients of published equations of state in reduced Helmholtz energy.

alpha_r(delta, tau) = sum of n delta^d tau^t exp(-delta^l), without the exponential where l is 0;
delta = rho / rho_r, tau = T_r / T.

Argon, oxygen, hydrogen, methane, nitrogen, propane: GERG-2008, Kunz & Wagner, J. Chem. Eng. Data 57 (2012) 3032
(ISO 20765-2:2015), tables of pure-substance coefficients, as carried by open-source programs that cite them.
These are short technical equations, other than the reference equations that the tests compare them with.
Air, as one pseudo-pure fluid: Lemmon, Jacobsen, Penoncello & Friend, J. Phys. Chem. Ref. Data 29 (2000) 331,
as carried by CoolProp.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

__all__ = ["EQUATIONS", "Equation", "Term"]


class Term(NamedTuple):
    """One term: coefficient, power of delta, power of tau, power of delta in the exponential (0: no exponential)."""

    n: float
    d: int
    t: float
    exp: int


class Equation(NamedTuple):
    """An equation of state: reducing density (mol/m3) and temperature (K), gas constant (J/(mol K)), terms."""

    reducing_density: float
    reducing_temperature: float
    gas_constant: float
    terms: tuple[Term, ...]


_GERG_CONSTANT = 8.314472  # J/(mol K), as GERG-2008 was fitted

_D_12 = (1, 1, 1, 2, 3, 7, 2, 5, 1, 4, 3, 4)
_T_12 = (0.25, 1.125, 1.5, 1.375, 0.25, 0.875, 0.625, 1.75, 3.625, 3.625, 14.5, 12.0)
_L_12 = (0, 0, 0, 0, 0, 0, 1, 1, 2, 2, 3, 3)

_D_24 = (1, 1, 2, 2, 4, 4, 1, 1, 1, 2, 3, 6, 2, 3, 3, 4, 4, 2, 3, 4, 5, 6, 6, 7)
_T_24 = (
    *(0.125, 1.125, 0.375, 1.125, 0.625, 1.5, 0.625, 2.625, 2.75, 2.125, 2.0, 1.75),
    *(4.5, 4.75, 5.0, 4.0, 4.5, 7.5, 14.0, 11.5, 26.0, 28.0, 30.0, 16.0),
)
_L_24 = (0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2, 3, 3, 3, 6, 6, 6, 6)

_D_HYDROGEN = (1, 1, 2, 2, 4, 1, 5, 5, 5, 1, 1, 2, 5, 1)
_T_HYDROGEN = (0.5, 0.625, 0.375, 0.625, 1.125, 2.625, 0.0, 0.25, 1.375, 4.0, 4.25, 5.0, 8.0, 8.0)
_L_HYDROGEN = (0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 3, 3, 5)

_D_AIR = (1, 1, 1, 2, 3, 3, 4, 4, 4, 6, 1, 3, 5, 6, 1, 3, 11, 1, 3)
_T_AIR = (
    0.0,
    0.33,
    1.01,
    0.0,
    0.0,
    0.15,
    0.0,
    0.2,
    0.35,
    1.35,
    1.6,
    0.8,
    0.95,
    1.25,
    3.6,
    6.0,
    3.25,
    3.5,
    15.0,
)
_L_AIR = (0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 3, 3)

_N_OXYGEN = (
    *(0.88878286369701, -2.4879433312148, 0.59750190775886, 0.0096501817061881, 0.07197042871277),
    *(
        0.00022337443000195,
        0.18558686391474,
        -0.03812936803576,
        -0.15352245383006,
        -0.026726814910919,
    ),
    *(-0.025675298677127, 0.0095714302123668),
)
_N_ARGON = (
    *(0.85095714803969, -2.400322294348, 0.54127841476466, 0.016919770692538, 0.068825965019035),
    *(
        0.00021428032815338,
        0.17429895321992,
        -0.033654495604194,
        -0.13526799857691,
        -0.016387350791552,
    ),
    *(-0.024987666851475, 0.0088769204815709),
)
_N_PROPANE = (
    *(1.0403973107358, -2.8318404081403, 0.84393809606294, -0.076559591850023, 0.09469737305728),
    *(
        0.00024796475497006,
        0.2774376042287,
        -0.043846000648377,
        -0.2699106478435,
        -0.06931341308986,
    ),
    *(-0.029632145981653, 0.01404012675138),
)
_N_METHANE = (
    *(0.57335704239162, -1.676068752373, 0.23405291834916, -0.21947376343441, 0.016369201404128),
    *(0.01500440638928, 0.098990489492918, 0.58382770929055, -0.7478686756039, 0.30033302857974),
    *(
        0.20985543806568,
        -0.018590151133061,
        -0.15782558339049,
        0.12716735220791,
        -0.032019743894346,
    ),
    *(
        -0.068049729364536,
        0.024291412853736,
        0.0051440451639444,
        -0.019084949733532,
        0.0055229677241291,
    ),
    *(-0.0044197392976085, 0.040061416708429, -0.033752085907575, -0.0025127658213357),
)
_N_NITROGEN = (
    *(0.59889711801201, -1.6941557480731, 0.24579736191718, -0.23722456755175, 0.017954918715141),
    *(0.014592875720215, 0.10008065936206, 0.73157115385532, -0.88372272336366, 0.31887660246708),
    *(
        0.20766491728799,
        -0.019379315454158,
        -0.16936641554983,
        0.13546846041701,
        -0.033066712095307,
    ),
    *(
        -0.060690817018557,
        0.012797548292871,
        0.0058743664107299,
        -0.018451951971969,
        0.0047226622042472,
    ),
    *(-0.0052024079680599, 0.043563505956635, -0.036251690750939, -0.0028974026866543),
)
_N_HYDROGEN = (
    *(5.3579928451252, -6.2050252530595, 0.13830241327086, -0.071397954896129, 0.015474053959733),
    *(
        -0.14976806405771,
        -0.026368723988451,
        0.056681303156066,
        -0.060063958030436,
        -0.45043942027132,
    ),
    *(0.424788402445, -0.021997640827139, -0.01049952137453, -0.0028955902866816),
)
_N_AIR = (
    *(0.118160747229, 0.713116392079, -1.61824192067, 0.0714140178971, -0.0865421396646),
    *(0.134211176704, 0.0112626704218, -0.0420533228842, 0.0349008431982, 0.000164957183186),
    *(-0.101365037912, -0.17381369097, -0.0472103183731, -0.0122523554253, -0.146629609713),
    *(-0.0316055879821, 0.000233594806142, 0.0148287891978, -0.00938782884667),
)


def _terms(n: tuple[float, ...], d: tuple[int, ...], t: tuple[float, ...], exp: tuple[int, ...]) -> tuple[Term, ...]:
    return tuple(Term(*row) for row in zip(n, d, t, exp, strict=True))


EQUATIONS: Mapping[str, Equation] = MappingProxyType(
    {
        "air": Equation(10447.7, 132.6312, 8.31451, _terms(_N_AIR, _D_AIR, _T_AIR, _L_AIR)),
        "argon": Equation(13407.429659, 150.687, _GERG_CONSTANT, _terms(_N_ARGON, _D_12, _T_12, _L_12)),
        "hydrogen": Equation(
            14940.0,
            33.19,
            _GERG_CONSTANT,
            _terms(_N_HYDROGEN, _D_HYDROGEN, _T_HYDROGEN, _L_HYDROGEN),
        ),
        "methane": Equation(10139.342719, 190.564, _GERG_CONSTANT, _terms(_N_METHANE, _D_24, _T_24, _L_24)),
        "nitrogen": Equation(11183.9, 126.192, _GERG_CONSTANT, _terms(_N_NITROGEN, _D_24, _T_24, _L_24)),
        "oxygen": Equation(13630.0, 154.595, _GERG_CONSTANT, _terms(_N_OXYGEN, _D_12, _T_12, _L_12)),
        "propane": Equation(5000.043088, 369.825, _GERG_CONSTANT, _terms(_N_PROPANE, _D_12, _T_12, _L_12)),
    }
)
"""The equation of each gas that has one, by the gas's name."""
