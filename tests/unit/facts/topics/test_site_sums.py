"""What a site holds, summed over its stores and rigs."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

import pytest
from support.small_rigs import known, point, wanted

from rigcheck.quantity.interval import Interval
from rigcheck.quantity.notation import read_quantity
from rigcheck.rig.premises import load_premises
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.limits import in_force
from rigcheck.rules.pack import Pack
from rigcheck.text.place import Place

_DAY = date(2026, 11, 25).toordinal()
_SITE = """\
site: Little yard
buildings: [{name: shed, volume: 1200 m3}]
stores:
  - {name: box, stands_in: shed, gases: [acetylene, propane], fuel_cylinders: 4, fuel_cylinder_content: 6 m3,
     lpg_cylinders: 2, lpg_cylinder_mass: 19 kg}
  - {name: rack, stands_in: shed, gases: [oxygen], oxygen_cylinders: 3, oxygen_cylinder_content: 10 m3}
rigs:
  - {file: one.yaml, stands_in: shed}
  - {file: two.yaml, stands_in: shed}
"""
_RIG = {
    "fuel_connected": ("6 m3", "volume"), "fuel_spare": ("12 m3", "volume"), "lpg_connected": ("19 kg", "mass"),
    "lpg_spare": ("0 kg", "mass"), "oxygen_held": ("20 m3", "volume"), "cylinders": ("5", "count"),
    "welders": ("2", "count"),
}  # fmt: skip


def _limits(pack: Pack, code: str) -> Mapping[str, Interval]:
    return {name: one.value for name, one in in_force(pack.limits, code, _DAY).items() if one.value is not None}


def _site(pack: Pack, text: str = _SITE, rig: Mapping[str, tuple[str, str]] = _RIG) -> Rig:
    def stand(path: str) -> tuple[Mapping[str, Any], Place]:
        said = {name: read_quantity(*value) for name, value in rig.items()}
        return said | {"name": path}, Place(path, 1, 1)

    return known(
        load_premises(text.encode(), "yard.yaml", pack.vocabulary, stand), _DAY, _limits(pack, "general"), pack
    )


def _one(rig: Rig, kind: str) -> Thing:
    (thing,) = rig.of_kind(kind)
    return thing


def test_a_building_holds_what_its_stores_and_the_spare_cylinders_of_its_rigs_hold(pack: Pack) -> None:
    shed = _one(_site(pack), "building")
    # By hand: 4 x 6 m3 stored and 2 x 12 m3 spare; 2 x 19 kg stored, and twice 19 kg connected.
    assert point(shed, "fuel_stored") == pytest.approx(48.0)
    assert point(shed, "lpg_stored") == pytest.approx(38.0)
    assert point(shed, "lpg_kept") == pytest.approx(76.0)


def test_a_site_holds_what_all_of_it_holds(pack: Pack) -> None:
    site = _one(_site(pack), "premises")
    # By hand: 3 x 10 m3 stored and 2 x 20 m3 at the rigs; 4 + 2 + 3 stored and 2 x 5 at the rigs.
    assert point(site, "oxygen_kept") == pytest.approx(70.0)
    assert point(site, "cylinders_kept") == pytest.approx(19.0)


def test_the_volume_of_a_building_allows_a_mass_of_liquefied_gas(pack: Pack) -> None:
    # Johannesburg Emergency Services By-laws 46(1): 19 kg for each 600 m3, so 38 kg in 1200 m3.
    assert point(_one(_site(pack), "building"), "lpg_allowed") == pytest.approx(38.0)


def test_all_welders_of_a_building_share_its_volume(pack: Pack) -> None:
    shed = _one(_site(pack), "building")
    assert point(shed, "welders") == pytest.approx(4.0)
    assert point(shed, "welder_volume") == pytest.approx(300.0)


def test_a_store_is_counted_for_what_is_stated_of_it_whatever_it_says_of_its_gases(pack: Pack) -> None:
    text = _SITE.replace("gases: [oxygen]", "gases: [oxygen], fuel_volume: 10 m3")
    assert point(_one(_site(pack, text), "building"), "fuel_stored") == pytest.approx(58.0)


def test_a_sum_waits_for_each_of_its_parts(pack: Pack) -> None:
    rig = {name: value for name, value in _RIG.items() if name != "fuel_spare"}
    assert wanted(_one(_site(pack, rig=rig), "building"), "fuel_stored") == ["standing rig.fuel_spare"] * 2
