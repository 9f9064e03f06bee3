"""The cylinders of the shipped rigs are such as there are: the gas fits into the shape, and the steel round it.

Cylinder volume, pi/4 d^2 h (geometry): the water goes in, and wall, dome, foot and guard take less than half.
"""

from __future__ import annotations

from math import pi
from pathlib import Path

import pytest
from support.in_full import sites_in_full

from rigcheck.rig.loader import load_rig
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack

RIGS = sorted([*(configs_folder() / "templates").glob("*.yaml"), *sites_in_full().glob("*.yaml")])
SITES = [path for path in RIGS if path.parent.name == "sites"]


def _shapes(path: Path, pack: Pack) -> list[tuple[float, float]]:
    """Return water capacity and outside volume of each cylinder, m3."""
    rig = load_rig(path.read_bytes(), path.name, pack.vocabulary)
    found = []
    for thing in rig.things:
        sizes = [thing.facts.get(name) for name in ("water_capacity", "height", "diameter")]
        if thing.kind.name == "cylinder" and None not in sizes:
            capacity, height, width = (size.lo for size in sizes)
            found.append((capacity, pi / 4.0 * width**2 * height))
    return found


@pytest.mark.parametrize("path", RIGS, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_what_a_cylinder_holds_fits_into_its_shape(path: Path, pack: Pack) -> None:
    for capacity, outside in _shapes(path, pack):
        assert 0.5 * outside < capacity < 0.95 * outside


@pytest.mark.parametrize("path", SITES, ids=lambda path: str(path.stem))
def test_every_site_states_the_shape_of_its_cylinders(path: Path, pack: Pack) -> None:
    assert _shapes(path, pack)
