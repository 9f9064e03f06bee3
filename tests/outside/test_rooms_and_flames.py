"""The air of a room and the flame at the torch, against published tables, integration and chemistry."""

from __future__ import annotations

import chemicals
import pytest
from scipy.integrate import solve_ivp
from support.known import known

from rigcheck.physics import air, combustion
from rigcheck.physics.gas_properties import GASES


@pytest.mark.outside("air.share_at_time", "air.time_to_share", by="CDC, MMWR 43 (RR-13), table S3-1")
@pytest.mark.parametrize(
    ("changes", "ninety", "ninety_nine", "and_nine"),
    [(1, 138, 276, 414), (2, 69, 138, 207), (4, 35, 69, 104), (6, 23, 46, 69), (10, 14, 28, 41), (20, 7, 14, 21)],
)
def test_a_room_clears_as_the_published_table_of_air_changes_says(
    changes: int, ninety: int, ninety_nine: int, and_nine: int
) -> None:
    room = {"room_volume": 100.0, "leak": 0.0, "leak_share": 1.0, "fresh_air": changes * 100.0 / 3600.0}
    for minutes, left in ((ninety, 0.1), (ninety_nine, 0.01), (and_nine, 0.001)):
        time = air.time_to_share(**room, fresh_share=0.0, start_share=1.0, limit_share=left)
        assert known(time) / 60.0 == pytest.approx(minutes, abs=0.51)
        share = air.share_at_time(**room, fresh_share=0.0, start_share=1.0, time=known(time))
        assert share == pytest.approx(left)


@pytest.mark.outside("air.settled_share", by="integrated to its end, scipy")
@pytest.mark.parametrize(("leak", "fresh"), [(1e-3, 0.02), (0.05, 0.05), (0.2, 0.01)])
def test_a_room_settles_where_the_integrated_balance_ends(leak: float, fresh: float) -> None:
    run = solve_ivp(lambda _, c: (leak + fresh * 0.209 - (leak + fresh) * c) / 30.0, (0.0, 1e6), [0.209], rtol=1e-9)
    settled = air.settled_share(leak=leak, leak_share=1.0, fresh_air=fresh, fresh_share=0.209)
    assert settled == pytest.approx(run.y[0, -1], rel=1e-6)


# Flames. Air over fuel by mass at full combustion: tables of combustion texts (from memory).
AIR_BY_MASS = {"methane": 17.2, "propane": 15.7, "butane": 15.5, "hydrogen": 34.3, "acetylene": 13.3, "ethylene": 14.8}


@pytest.mark.outside("combustion.oxygen_to_burn", "combustion.combustion_oxygen", by="air by mass, combustion texts")
@pytest.mark.parametrize("fuel", AIR_BY_MASS)
def test_a_fuel_burns_with_the_air_by_mass_that_the_tables_have(fuel: str) -> None:
    molar = GASES[fuel].molar_mass
    needed = known(combustion.combustion_oxygen(fuel=fuel, fuel_flow=2.0)) / 2.0
    assert needed == combustion.oxygen_to_burn(fuel=fuel)
    assert needed / 0.2095 * 0.028965 / molar == pytest.approx(AIR_BY_MASS[fuel], rel=0.008)


@pytest.mark.outside("combustion.combustion_oxygen", "combustion.air_drawn", by="chemicals, balanced reaction")
@pytest.mark.parametrize(("fuel", "atoms"), [("propane", {"C": 3, "H": 8}), ("acetylene", {"C": 2, "H": 2})])
def test_what_the_torch_does_not_bring_comes_from_the_air(fuel: str, atoms: dict[str, int]) -> None:
    needed = -chemicals.combustion_stoichiometry(atoms)["O2"]
    assert combustion.combustion_oxygen(fuel=fuel, fuel_flow=3.0) == pytest.approx(3.0 * needed)
    fed = combustion.torch_oxygen(fuel=fuel, flame="neutral", fuel_flow=3.0)
    drawn = combustion.air_drawn(fuel=fuel, flame="neutral", fuel_flow=3.0)
    assert known(fed) + 0.2095 * known(drawn) == pytest.approx(3.0 * needed)


@pytest.mark.outside("combustion.air_drawn", by="air by mass, combustion texts")
@pytest.mark.parametrize("fuel", ["acetylene", "propane", "methane"])
def test_air_drawn_is_the_table_s_air_less_that_of_the_torch(fuel: str) -> None:
    whole = AIR_BY_MASS[fuel] * GASES[fuel].molar_mass / 0.028965
    torch = known(combustion.torch_oxygen(fuel=fuel, flame="preheat", fuel_flow=1.0))
    drawn = known(combustion.air_drawn(fuel=fuel, flame="preheat", fuel_flow=1.0))
    assert drawn + torch / 0.2095 == pytest.approx(whole, rel=0.008)


# A welding institute's table of fuel gases for cutting, oxygen to fuel by volume (from memory).
CUTTING_RATIOS = {"acetylene": 1.2, "propane": 4.3, "propylene": 3.7, "methylacetylene-mix": 3.3, "natural-gas": 1.8}


@pytest.mark.outside("combustion.torch_ratio", "combustion.torch_oxygen", by="welding institute's table, from memory")
@pytest.mark.parametrize("fuel", CUTTING_RATIOS)
def test_a_preheat_flame_takes_the_oxygen_of_another_table(fuel: str) -> None:
    assert combustion.torch_ratio(fuel=fuel, flame="preheat") == pytest.approx(CUTTING_RATIOS[fuel], rel=0.15)
    fed = combustion.torch_oxygen(fuel=fuel, flame="preheat", fuel_flow=2.0)
    assert fed == pytest.approx(2.0 * CUTTING_RATIOS[fuel], rel=0.15)


@pytest.mark.outside("combustion.torch_ratio", "combustion.torch_oxygen", by="course text on preheating fuels")
@pytest.mark.parametrize(("fuel", "ratio"), [("natural-gas", 1.5), ("methylacetylene-mix", 2.5)])
def test_a_neutral_flame_takes_the_oxygen_of_the_published_text(fuel: str, ratio: float) -> None:
    assert combustion.torch_ratio(fuel=fuel, flame="neutral") == pytest.approx(ratio, rel=0.05)
    assert combustion.torch_oxygen(fuel=fuel, flame="neutral", fuel_flow=4.0) == pytest.approx(4.0 * ratio, rel=0.05)


# ISO 6976 table 3, ideal molar heats at 25 degC, kJ/mol: gross, net (from memory).
HEATS = {
    "methane": (890.58, 802.60),
    "propane": (2219.17, 2043.11),
    "butane": (2877.40, 2657.32),
    "hydrogen": (285.83, 241.81),
    "ethylene": (1411.18, 1323.15),
    "propylene": (2058.02, 1925.97),
    "acetylene": (1301.05, 1257.03),
}


@pytest.mark.outside("combustion.gross_heat", "combustion.net_heat", by="ISO 6976, from memory")
@pytest.mark.parametrize("fuel", HEATS)
def test_a_fuel_gives_the_heat_of_the_standard_for_natural_gas(fuel: str) -> None:
    gross, net = HEATS[fuel]
    assert combustion.gross_heat(fuel=fuel) == pytest.approx(gross * 1e3, rel=0.001)
    assert combustion.net_heat(fuel=fuel) == pytest.approx(net * 1e3, rel=0.001)
