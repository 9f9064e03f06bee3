"""Hose flow in whole rigs: drops, the needed setting, what reaches the torch, hoses that would do."""

from __future__ import annotations

from math import pi, sqrt

import pytest
from CoolProp.CoolProp import PropsSI
from fluids.compressible import isothermal_gas
from fluids.friction import friction_factor
from support.small_rigs import is_unknown, one, point, span, wanted, worked

from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack

ATMOSPHERE = 101_325.0
CUT = "{fuel_pressure: 0.5 bar, oxygen_pressure: 5 bar}"


def line(hose: str, demand: str, setting: str, gas: str = "oxygen", nozzle: str = CUT, air: str = "20 degC") -> str:
    """Return a rig of one line: regulator, one hose, torch."""
    return (
        f"rig: small\nsite: {{ambient_temperature: {air}, altitude: 0 m}}\nlines:\n"
        f"  - gas: {gas}\n    consumption: {demand}\n"
        f"    parts:\n      - regulator: {{set_pressure: {setting}}}\n      - hose: {{joiners: 0, {hose}}}\n"
        f"torch:\n  nozzle: {nozzle}\n"
    )


def hose_drop(rig: Rig) -> tuple[float, float]:
    return span(one(rig, "hose"), "drop")


# --- one hose, against another library ---


def reference_inlet(gas: str, flow: float, bore: float, length: float, outlet: float) -> float:
    """Return the inlet pressure of a smooth hose at 20 degC by fluids' `isothermal_gas` and its friction factor, Pa."""
    mass = flow * PropsSI("D", "P", ATMOSPHERE, "T", 288.15, gas)
    reynolds = 4.0 * mass / (pi * bore * PropsSI("V", "P", ATMOSPHERE, "T", 293.15, gas))
    friction = friction_factor(Re=reynolds, eD=0.0)
    density = PropsSI("D", "P", outlet, "T", 293.15, gas)
    # fluids wants the density at the inlet; at one temperature it goes with the pressure, and is met in a few rounds.
    inlet = outlet
    for _ in range(30):
        inlet = isothermal_gas(rho=density * inlet / outlet, fd=friction, P2=outlet, L=length, D=bore, m=mass)
    return float(inlet)


@pytest.mark.parametrize(
    ("flow", "bore", "length", "outlet"),
    [(10.0, 6.3, 20.0, 5.0), (4.62, 6.3, 60.0, 3.0), (5.0, 8.0, 30.0, 4.0), (20.0, 10.0, 40.0, 8.0)],
)
def test_a_smooth_hose_loses_what_the_fluids_library_says(
    pack: Pack, flow: float, bore: float, length: float, outlet: float
) -> None:
    text = line(
        f"bore: {bore} mm, length: {length} m, roughness: 0 mm",
        f"{flow} m3/h",
        "9 bar",
        nozzle=f"{{oxygen_pressure: {outlet} bar}}",
    )
    low, high = hose_drop(worked(text, pack))
    out = outlet * 1e5 + ATMOSPHERE
    expected = reference_inlet("oxygen", flow / 3600.0, bore * 1e-3, length, out) - out
    assert low == pytest.approx(expected, rel=0.02)  # the low end: tails as wide as the hose
    assert low < high < 1.2 * low


def test_a_slow_hose_is_laminar_and_follows_hagen_and_poiseuille(pack: Pack) -> None:
    # Hand calculation, Hagen-Poiseuille for a gas: p1^2 - p2^2 = 256 mu L m R T/(pi D^4 M), any text on fluids.
    # 200 L/h of acetylene at 15 degC, 1 atm (1.107 kg/m3) out of 60 m of 6.3 mm hose at 0.2 bar, mu = 1.005e-5 Pa s.
    text = line("bore: 6.3 mm, length: 60 m", "200 L/h", "0.2 bar", "acetylene", "{fuel_pressure: 0.2 bar}")
    low, high = hose_drop(worked(text, pack))
    mass = 0.2 / 3600.0 * 1.107
    squares = 256.0 * 1.005e-5 * 60.0 * mass * 8.314 * 293.15 / (pi * 6.3e-3**4 * 0.026038)
    out = 0.2e5 + ATMOSPHERE
    expected = sqrt(out**2 + squares) - out
    assert expected == pytest.approx(0.0074e5, rel=0.05)
    assert low == pytest.approx(expected, rel=0.03)
    assert high < 1.05 * low  # roughness does not matter while flow is laminar


# --- the setting ---


def test_needed_pressure_is_that_of_the_nozzle_and_the_drop(pack: Pack) -> None:
    rig = worked(line("bore: 6.3 mm, length: 20 m", "10 m3/h", "6 bar"), pack)
    (low, high), (least, most) = hose_drop(rig), span(one(rig, "line"), "needed_pressure")
    assert least == pytest.approx(5e5 + low)
    assert most == pytest.approx(5e5 + high)


def test_a_long_narrow_hose_starves_the_torch(pack: Pack) -> None:
    # 60 m of 6.3 mm at 4.62 m3/h and 3 bar: 0.7 to 1 bar are lost, so a regulator at 3 bar leaves two thirds.
    rig = worked(line("bore: 6.3 mm, length: 60 m", "4.62 m3/h", "3 bar", nozzle="{oxygen_pressure: 3 bar}"), pack)
    low, high = span(one(rig, "line"), "torch_share")
    assert 0.5 < low < high < 0.85


def test_what_reaches_the_torch_brings_the_setting_back(pack: Pack) -> None:
    """Solved back: at the setting that is needed, the nozzle gets its own."""
    hose = "bore: 8 mm, length: 40 m, roughness: 0 mm"
    first = worked(line(hose, "8 m3/h", "5 bar"), pack)
    needed = span(one(first, "line"), "needed_pressure")[1]
    again = worked(line(hose, "8 m3/h", f"{needed / 1e5:.6f} bar"), pack)
    assert span(one(again, "line"), "torch_pressure")[0] == pytest.approx(5e5, rel=1e-4)


def test_the_longest_hose_brings_the_nozzle_its_least_share(pack: Pack) -> None:
    """Solved back: with the longest hose, the share that reaches the torch is that of the limit, 90 %."""
    first = worked(line("bore: 6.3 mm, length: 20 m, roughness: 0 mm", "5 m3/h", "5 bar"), pack)
    longest = span(one(first, "hose"), "longest")[1]
    again = worked(line(f"bore: 6.3 mm, length: {longest:.3f} m, roughness: 0 mm", "5 m3/h", "5 bar"), pack)
    assert span(one(again, "line"), "torch_share")[1] == pytest.approx(0.9, abs=0.01)


def test_the_smallest_bore_brings_the_nozzle_its_least_share(pack: Pack) -> None:
    """Solved back, to what one friction factor allows."""
    first = worked(line("bore: 8 mm, length: 40 m, roughness: 0 mm", "6 m3/h", "5 bar"), pack)
    bore = span(one(first, "hose"), "smallest_bore")[1]
    again = worked(line(f"bore: {bore * 1e3:.4f} mm, length: 40 m, roughness: 0 mm", "6 m3/h", "5 bar"), pack)
    low, high = span(one(again, "line"), "torch_share")
    assert low < 0.92 < high + 0.04


# --- arresters and branches ---


ARRESTER = """\
rig: small
site: {ambient_temperature: 20 degC, altitude: 0 m}
lines:
  - gas: oxygen
    consumption: 10 m3/h
    parts:
      - regulator: {set_pressure: 5 bar}
      - arrester: {flow_rating: 20 m3/h, rated_drop: 0.4 bar}
torch:
  nozzle: {oxygen_pressure: 4.5 bar}
"""


def test_an_arrester_at_half_its_rated_flow_loses_a_quarter_of_the_squares(pack: Pack) -> None:
    # By hand: (6.01325^2 - 5.61325^2)/4 = 1.16265 bar2; sqrt(5.51325^2 + 1.16265) - 5.51325 = 0.1045 bar.
    rig = worked(ARRESTER, pack)
    assert point(one(rig, "arrester"), "drop") == pytest.approx(0.1045e5, rel=0.002)


def test_an_arrester_beyond_its_rated_flow_is_not_guessed(pack: Pack) -> None:
    rig = worked(ARRESTER.replace("10 m3/h", "40 m3/h"), pack)
    assert is_unknown(one(rig, "arrester"), "drop")


BRANCHES = """\
rig: small
site: {ambient_temperature: 20 degC, altitude: 0 m}
lines:
  - gas: oxygen
    consumption: 9 m3/h
    parts:
      - regulator: {set_pressure: 6 bar}
      - hose: {name: trunk, joiners: 0, bore: 10 mm, length: 20 m}
      - header:
          flow_rating: 18 m3/h
          rated_drop: 0.4 bar
          branches:
            - {to: near, parts: [hose: {name: short, joiners: 0, bore: 8 mm, length: 5 m}]}
            - {to: far, parts: [hose: {name: long, joiners: 0, bore: 6.3 mm, length: 40 m}]}
torch:
  - {name: near, oxygen_flow: 4 m3/h, nozzle: {oxygen_pressure: 4 bar}}
  - {name: far, oxygen_flow: 5 m3/h, nozzle: {oxygen_pressure: 4 bar}}
"""


def test_behind_a_header_each_hose_passes_its_own_torch_and_the_trunk_passes_all(pack: Pack) -> None:
    rig = worked(BRANCHES, pack)
    flows = {hose.facts["name"]: hose.facts["flow"].lo * 3600.0 for hose in rig.of_kind("hose")}
    assert flows == pytest.approx({"trunk": 9.0, "short": 4.0, "long": 5.0})


def test_the_setting_serves_the_branch_that_wants_most(pack: Pack) -> None:
    rig = worked(BRANCHES, pack)
    drops = {hose.facts["name"]: hose.facts["drop"] for hose in rig.of_kind("hose")}
    assert drops["long"].lo > drops["short"].hi
    needed = span(one(rig, "line"), "needed_pressure")
    header = span(one(rig, "header"), "drop")
    assert needed[0] == pytest.approx(4e5 + drops["long"].lo + header[0] + drops["trunk"].lo)


# --- intervals, gaps, ends ---


def test_an_interval_of_length_holds_the_drops_of_every_length_in_it(pack: Pack) -> None:
    demand, setting = "6 m3/h", "6 bar"
    low, high = hose_drop(worked(line("bore: 8 mm, length: 20 to 40 m", demand, setting), pack))
    for length in (20, 30, 40):
        least, most = hose_drop(worked(line(f"bore: 8 mm, length: {length} m", demand, setting), pack))
        assert low <= least <= most <= high


@pytest.mark.parametrize(("fact", "inside"), [("flow", "6 m3/h"), ("nozzle", "4 bar"), ("air", "20 degC")])
def test_every_input_is_carried_to_both_ends(pack: Pack, fact: str, inside: str) -> None:
    """Flow and warmth raise the drop; pressure at the outlet lowers it, since denser gas flows slower."""
    around = {"flow": "4 to 8 m3/h", "nozzle": "2 to 6 bar", "air": "0 to 40 degC"}

    def drop(**chosen: str) -> tuple[float, float]:
        given = {"flow": "6 m3/h", "nozzle": "4 bar", "air": "20 degC"} | chosen
        nozzle = f"{{oxygen_pressure: {given['nozzle']}}}"
        text = line("bore: 8 mm, length: 40 m", given["flow"], "8 bar", nozzle=nozzle, air=given["air"])
        return hose_drop(worked(text, pack))

    (low, high), (least, most) = drop(**{fact: around[fact]}), drop(**{fact: inside})
    ends = [drop(**{fact: end}) for end in _ends(around[fact])]
    assert low < least < most < high
    assert (low, high) == pytest.approx((min(lo for lo, _ in ends), max(hi for _, hi in ends)))


def _ends(written: str) -> tuple[str, str]:
    first, _, rest = written.partition(" to ")
    second, unit = rest.split(" ")
    return f"{first} {unit}", f"{second} {unit}"


def test_no_flow_loses_nothing(pack: Pack) -> None:
    assert hose_drop(worked(line("bore: 8 mm, length: 40 m", "0 m3/h", "5 bar"), pack)) == pytest.approx((0.0, 0.0))


def test_a_joiner_in_the_hose_adds_two_tails(pack: Pack) -> None:
    text = line("bore: 8 mm, length: 40 m", "10 m3/h", "6 bar")
    without, joined = hose_drop(worked(text, pack)), hose_drop(worked(text.replace("joiners: 0", "joiners: 2"), pack))
    assert joined[0] == pytest.approx(without[0])
    # By hand: 4 tails more of 2.15 velocity heads each, at most.
    mass, out = 10.0 / 3600.0 * 1.3545, 5e5 + ATMOSPHERE
    heads = 4.0 * 2.15 * (4.0 * mass / (pi * 8e-3**2)) ** 2 * 259.84 * 293.15
    assert joined[1] - without[1] == pytest.approx(heads / (2.0 * (out + without[1])), rel=0.05)


def test_what_hose_flow_lacks_is_asked_for_by_name(pack: Pack) -> None:
    rig = worked("rig: small\nlines:\n  - gas: oxygen\n    parts: [regulator, hose]\ntorch: {nozzle: {}}\n", pack)
    assert set(wanted(one(rig, "hose"), "drop")) == {
        "nozzle.heating_oxygen_flow",
        "nozzle.cutting_oxygen_flow",
        "nozzle.oxygen_pressure",
        "hose.bore",
        "hose.length",
        "site.ambient_temperature",
    }


def test_propane_that_would_turn_liquid_is_not_worked_out(pack: Pack) -> None:
    # Propane's vapour pressure at -30 degC is 0.67 bar gauge (CoolProp): no gas flows at 2 bar.
    assert PropsSI("P", "T", 243.15, "Q", 1, "propane") - ATMOSPHERE < 0.7e5
    nozzle = "{fuel_pressure: 2 bar}"
    rig = worked(line("bore: 8 mm, length: 20 m", "2 m3/h", "3 bar", "propane", nozzle, "-30 degC"), pack)
    assert is_unknown(one(rig, "hose"), "drop")


@pytest.mark.parametrize("fact", ["longest", "smallest_bore"])
def test_a_stated_roughness_counts_in_the_size_of_hose_that_would_do(pack: Pack, fact: str) -> None:
    hose = "bore: 8 mm, length: 40 m"
    smooth, new, rough = (
        span(one(worked(line(f"{hose}{wall}", "8 m3/h", "6 bar"), pack), "hose"), fact)
        for wall in (", roughness: 0 mm", "", ", roughness: 0.3 mm")
    )
    ways = [smooth, rough] if fact == "smallest_bore" else [rough, smooth]
    assert ways[0][1] < ways[1][1]
    assert new[0] <= smooth[0] <= new[1]


def test_a_joiner_beyond_its_rated_flow_loses_nobody_knows_how_much_rather_than_nothing(pack: Pack) -> None:
    text = (
        "rig: small\njob: {process: cutting}\nlines:\n  - gas: oxygen\n    consumption: 20 m3/h\n    parts:\n"
        "      - regulator: {set_pressure: 5 bar}\n      - joiner: {flow_rating: 10 m3/h, rated_drop: 0.1 bar}\n"
        "      - hose\ntorch: {nozzle: {oxygen_pressure: 4 bar}}\n"
    )
    assert "drop" not in one(worked(text, pack), "joiner").facts


@pytest.mark.parametrize("fact", ["nozzle_pressure", "needed_pressure", "torch_pressure", "torch_share"])
def test_a_lance_wants_its_pressure_as_a_nozzle_does(pack: Pack, fact: str) -> None:
    text = (
        "rig: small\nsite: {{ambient_temperature: 15 degC}}\nlines:\n  - gas: oxygen\n    consumption: 40 m3/h\n"
        "    parts: [regulator: {{set_pressure: 8 bar}}, hose: {{bore: 10 mm, length: 40 m, joiners: 0}}]\n"
        "torch: {torch}\n"
    )
    flow = "oxygen_flow: 40 m3/h"
    torches = (
        f"{{form: oxygen-lance, {flow}, lance_pressure: 7 bar}}",
        f"{{form: cutting, {flow}, nozzle: {{oxygen_pressure: 7 bar}}}}",
    )
    lance, cutter = (span(one(worked(text.format(torch=torch), pack), "line"), fact) for torch in torches)
    assert lance == cutter
    lacks = worked(text.format(torch=f"{{form: oxygen-lance, {flow}}}"), pack)
    assert "torch.lance_pressure" in wanted(one(lacks, "line"), fact)
