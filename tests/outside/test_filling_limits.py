"""How much liquefied gas may go into a cylinder: by the rule of the UN Model Regulations, with a library's densities.

P200 (3)(c) of the UN Model Regulations, 17th revised edition, as read: the filling ratio of a low-pressure liquefied
gas is 0.95 of the density of its liquid at 50 degC, and the liquid must not fill the cylinder at 60 degC.
"""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI
from support.small_rigs import one, point, worked

from rigcheck.rules.pack import Pack

FLUIDS = {"propane": "n-Propane", "propylene": "Propylene", "butane": "n-Butane"}


def ratio(gas: str, pack: Pack) -> float:
    """Return kg a litre."""
    text = f"rig: small\nlines:\n  - gas: {gas}\n    parts: [cylinder: {{water_capacity: 100 L}}, hose]\n"
    return point(one(worked(text, pack), "cylinder"), "filling_limit") / 100.0


@pytest.mark.parametrize("gas", FLUIDS)
def test_a_filling_limit_is_the_rule_rounded_and_never_far_above_it(gas: str, pack: Pack) -> None:
    by_rule = 0.95 * PropsSI("D", "T", 323.15, "Q", 0, FLUIDS[gas]) / 1000.0
    assert ratio(gas, pack) == pytest.approx(by_rule, rel=0.03)


@pytest.mark.parametrize("gas", FLUIDS)
def test_liquid_does_not_fill_the_cylinder_at_60_degc(gas: str, pack: Pack) -> None:
    assert ratio(gas, pack) < PropsSI("D", "T", 333.15, "Q", 0, FLUIDS[gas]) / 1000.0
