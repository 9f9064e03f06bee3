"""What a store holds, stated or counted."""

from __future__ import annotations

import pytest
from support.small_rigs import one, point, span, wanted, worked

from rigcheck.rig.thing import Thing
from rigcheck.rules.pack import Pack


def store_of(facts: str, pack: Pack) -> Thing:
    text = f"rig: small\nlines: [{{gas: oxygen, parts: [cylinder]}}]\nstore: {{{facts}}}\n"
    return one(worked(text, pack), "store")


def test_fuel_gas_is_counted_by_the_cylinder(pack: Pack) -> None:
    # By hand: 11 cylinders of 5.5 m3 hold 60.5 m3, more than the 2000 ft3 (56.6 m3) of 29 CFR 1910.253(b)(3).
    found = point(store_of("fuel_cylinders: 11, fuel_cylinder_content: 5.5 m3", pack), "fuel_held")
    assert found == pytest.approx(60.5)
    assert found > 2000 * 0.3048**3


def test_liquefied_gas_is_counted_by_the_cylinder(pack: Pack) -> None:
    # By hand: 8 x 19 kg = 152 kg, more than the 300 lb (136 kg) of the same clause.
    assert point(store_of("lpg_cylinders: 8, lpg_cylinder_mass: 19 kg", pack), "lpg_held") == pytest.approx(152.0)


def test_a_stated_sum_stands_beside_what_is_counted(pack: Pack) -> None:
    text = "fuel_volume: 40 m3, fuel_cylinders: 11, fuel_cylinder_content: 5.5 m3"
    assert span(store_of(text, pack), "fuel_held") == pytest.approx((40.0, 60.5))
    agreed = text.replace("40 m3", "60 m3")
    assert span(store_of(agreed, pack), "fuel_held") == pytest.approx((60.0, 60.0))


def test_the_sum_is_asked_for_where_nothing_is_stated(pack: Pack) -> None:
    assert wanted(store_of("dry: true", pack), "fuel_held") == ["store.fuel_volume"]
