"""Rigs that a competent person may lawfully work with though they are not the usual ones.

Each is made of the tool room's welding set, which is stated in full, by what differs.
"""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from typing import Any

import yaml

from support.in_full import sites_in_full

__all__ = ["LAWFUL", "rig_text"]

Rig = dict[str, Any]
_TOOL_ROOM: Rig = yaml.load((sites_in_full() / "tool-room-welding.yaml").read_text(encoding="utf-8"), yaml.BaseLoader)
_ACETYLENE, _OXYGEN = 0, 1


def rig_text(name: str, code: str = "general") -> str:
    """Return a lawful rig, bought where a local code is in force, as the text of its file."""
    rig = deepcopy(_TOOL_ROOM)
    for line in rig["lines"]:
        line["purge_time"] = "90 s"  # long enough for whatever is put into the line
    if LAWFUL[name][1] is not _american:  # which says all of that itself
        _bought_there(rig, code)
    LAWFUL[name][1](rig)
    return yaml.safe_dump(rig | {"rig": name}, sort_keys=False, allow_unicode=True)


def _bought_there(rig: Rig, code: str) -> None:
    """Give its parts the marks and colours of the country; what else differs by code is no matter of the rig."""
    fuel, oxygen = (_part(rig, line, "cylinder") for line in (_ACETYLENE, _OXYGEN))
    if code in ("us", "ca"):
        _part(rig, _OXYGEN, "hose")["colour"] = "green"
    if code == "us":
        fuel["approval_mark"] = oxygen["approval_mark"] = "DOT"
        _part(rig, _ACETYLENE, "regulator")["outlet_rating"] = "15 psi"
        for line in (_ACETYLENE, _OXYGEN):
            _part(rig, line, "hose")["proof_tested"] = "none"
    if code == "za":
        oxygen["shoulder_colour"] = "black"
    if code == "au":
        for part in (*_parts(rig, _ACETYLENE), *_parts(rig, _OXYGEN)):
            if "arrester" in part:
                part["arrester"]["standard"] = "AS 4603"


def _parts(rig: Rig, line: int) -> list[dict[str, Any]]:
    return rig["lines"][line]["parts"]  # type: ignore[no-any-return]


def _index(parts: list[dict[str, Any]], kind: str, nth: int = 0) -> int:
    return [number for number, part in enumerate(parts) if kind in part][nth]


def _part(rig: Rig, line: int, kind: str, nth: int = 0) -> dict[str, Any]:
    parts = _parts(rig, line)
    return parts[_index(parts, kind, nth)][kind]  # type: ignore[no-any-return]


_UNDATED = {"tested": "none", "service_until": "none", "due_tag": "true"}


def _valve(gas: str, rated: str) -> dict[str, Any]:
    made = {"made": "2025-02", "service_until": "2030-02", "due_tag": "true", "condition": "sound", "oil_free": "true"}
    sound = {"approved": "true", "factory_made": "true", "repaired_by": "nobody", "tight_against_outside": "true"}
    own = {"gases": [gas], "standard": "ISO 5175-2", "direction": "with-flow", "flow_rating": "8 m3/h"}
    return own | _UNDATED | made | sound | {"rated_drop": "0.02 bar", "rated_pressure": rated, "copper_share": "60 %"}


def _check_valves_at_the_torch(rig: Rig) -> None:
    for line, gas in enumerate(("acetylene", "oxygen")):
        parts = _parts(rig, line)
        parts[_index(parts, "arrester", 1)] = {"non_return_valve": _valve(gas, "20 bar")}


def _american(rig: Rig) -> None:
    _check_valves_at_the_torch(rig)
    rig["local_code"] = "us"
    for line in (_ACETYLENE, _OXYGEN):
        _part(rig, line, "cylinder")["approval_mark"] = "DOT"
        hose = _part(rig, line, "hose")
        hose |= {"standard": "ARPM IP-7", "grade": "T", "bore": "1/4 in", "rated_pressure": "200 psi"}
        hose |= {"proof_tested": "none", "burst_pressure": "800 psi"}
        rig["lines"][line]["every_joint"] |= {"tail_bore": "1/4 in", "proof_pressure": "400 psi"}
    _part(rig, _OXYGEN, "hose")["colour"] = "green"
    regulator = _part(rig, _ACETYLENE, "regulator")
    regulator |= {"standard": "CGA E-4", "outlet_rating": "15 psi"}
    _part(rig, _OXYGEN, "regulator")["standard"] = "CGA E-4"


def _two_regulators_in_series(rig: Rig) -> None:
    parts = _parts(rig, _OXYGEN)
    first = _index(parts, "regulator")
    second = deepcopy(parts[first])
    parts[first]["regulator"] |= {"set_pressure": "8 bar", "static_pressure": "8.4 bar"}
    second["regulator"] |= {"inlet_rating": "25 bar", "outlet_rating": "5 bar", "least_difference": "1 bar"}
    second["regulator"]["inlet_gauge"]["full_scale"] = "40 bar"
    parts[first + 1 : first + 1] = [{"joint": {"leak_test_pressure": "10 bar"}}, second]


def _piped(gas: str, pressure: str) -> dict[str, Any]:
    stated = {"gas": gas, "pipe_pressure": pressure, "shutoff": "upstream", "backflow_device": "check-valve"}
    ends = {"connection": "hose-union", "permanent": "false", "cap_attached": "true", "capped_when_idle": "true"}
    marks = {"gas_sign": "true", "pipe_metal": "steel", "small_torches": "0", "condition": "sound", "oil_free": "true"}
    sound = {"approved": "true", "factory_made": "true", "tight_against_outside": "true", "copper_share": "60 %"}
    return {
        "outlet_point": stated
        | ends
        | marks
        | sound
        | {"rated_pressure": "25 bar", "repaired_by": "nobody", "pipework_signed": "true"}
    }


def _fed_by_pipelines_with_regulators(rig: Rig) -> None:
    for line, gas, pressure in ((_ACETYLENE, "acetylene", "0.6 bar"), (_OXYGEN, "oxygen", "8 bar")):
        parts = _parts(rig, line)
        parts[_index(parts, "cylinder")] = _piped(gas, pressure)
        parts[_index(parts, "joint")] = {"joint": {"fitting": "flat-face", "leak_test_pressure": pressure}}
        regulator = _part(rig, line, "regulator")
        regulator |= {"inlet_rating": "25 bar", "least_difference": "0.1 bar", "inlet_gauge": "none"}
        rig["lines"][line] |= {"stands": "off-trolley"}
        for stated in ("supply_content", "withdrawal_share"):
            del rig["lines"][line][stated]
    _part(rig, _OXYGEN, "outlet_point")["oxygen_clean"] = "true"
    rig |= {"trolley": "none", "examined_by_scheme": "true"}
    rig["hose_pair"]["hung"] = "reel"


def _fed_by_pipelines_without_regulators(rig: Rig) -> None:
    _fed_by_pipelines_with_regulators(rig)
    for line, gas in enumerate(("acetylene", "oxygen")):
        parts = _parts(rig, line)
        del parts[_index(parts, "regulator")]
        parts[_index(parts, "outlet_point")] = _piped(gas, "0.5 bar")
    _part(rig, _OXYGEN, "outlet_point")["oxygen_clean"] = "true"


def _couplers_at_both_ends(rig: Rig) -> None:
    for line, gas in enumerate(("acetylene", "oxygen")):
        parts = _parts(rig, line)
        coupler = _valve(gas, "20 bar") | {"standard": "ISO 7289", "gas_specific": "true", "shuts_when_parted": "true"}
        joint = {"joint": {"fitting": "quick-coupler", "thread_hand": "none"}}
        for nth in (1, 0):
            where = _index(parts, "arrester", nth) + 1
            parts[where:where] = [{"coupler": deepcopy(coupler)}] if nth else [joint, {"coupler": deepcopy(coupler)}]


def _inch_tails_on_metric_hoses(rig: Rig) -> None:
    for line in (_ACETYLENE, _OXYGEN):
        rig["lines"][line]["every_joint"]["tail_bore"] = "1/4 in"


def _wider_inch_hoses_on_metric_tails(rig: Rig) -> None:
    for line, (bore, tail) in enumerate((("5/16 in", "8 mm"), ("3/8 in", "10 mm"))):
        _part(rig, line, "hose")["bore"] = bore
        rig["lines"][line]["every_joint"]["tail_bore"] = tail


def _cylinder_that_is_not_filled_again(rig: Rig) -> None:
    cylinder = _part(rig, _OXYGEN, "cylinder")
    cylinder |= {"refillable": "false", "retest_until": "none"}


def _nitrogen_purge_line(rig: Rig) -> None:
    cylinder, joint, regulator, _, hose, _ = deepcopy(_parts(rig, _OXYGEN))
    cylinder["cylinder"] |= {"gas": "nitrogen", "shoulder_colour": "black"}
    regulator["regulator"] |= {"gas": "nitrogen"}
    for gauge in ("inlet_gauge", "outlet_gauge"):
        regulator["regulator"][gauge]["gas"] = "nitrogen"
    hose["hose"] |= {"gases": ["nitrogen"], "colour": "black"}
    line = deepcopy(rig["lines"][_OXYGEN]) | {"gas": "nitrogen", "parts": [cylinder, joint, regulator, hose]}
    line |= {"stands": "off-trolley", "to": "work"}
    del line["torch_inlet"], line["supply_content"], line["withdrawal_share"]
    rig["lines"].append(line)


def _sides_by_the_yards_own_rule(rig: Rig) -> None:
    rig["lines"][_ACETYLENE]["stands"], rig["lines"][_OXYGEN]["stands"] = "right", "left"
    rig["trolley"]["fuel_side"] = "right"


def _arresters_built_into_the_torch(rig: Rig) -> None:
    built_in = []
    for line in (_ACETYLENE, _OXYGEN):
        parts = _parts(rig, line)
        built_in.append(parts.pop(_index(parts, "arrester", 1))["arrester"])
    rig["torch"]["built_in_arrester"] = built_in


def _bank_of_two(rig: Rig) -> None:
    for line, gas in enumerate(("acetylene", "oxygen")):
        parts = _parts(rig, line)
        cylinder, joint = parts[0], parts[1]
        lead = {"gas": gas, "length": "1 m", "burst_pressure": "1200 bar", "restrained": "true"}
        lead |= {"made_of": "stainless-tube", "rated_pressure": "300 bar", "kinked": "false", "condition": "sound"}
        lead |= {"oil_free": "true", "approved": "true", "factory_made": "true", "repaired_by": "nobody"}
        lead |= _UNDATED | {"tight_against_outside": "true", "copper_share": "5 %", "oxygen_clean": "true"}
        arrester = deepcopy(_part(rig, line, "arrester")) | {"rated_pressure": "25 bar"}
        run = [cylinder, joint, {"pigtail": lead}, *([{"arrester": arrester}] if gas == "acetylene" else [])]
        for one in run[:1]:
            one["cylinder"] |= {"secured": "rack"}
        manifold = {"gas": gas, "standard": "ISO 14113", "cylinder_count": "2", "cylinders_upright": "true"}
        manifold |= {"cylinders_secured": "true", "equal_pressures": "true", "check_valve_per_cylinder": "true"}
        manifold |= {"arrester_per_cylinder": "true" if gas == "acetylene" else "false", "main_shutoff": "true"}
        manifold |= {
            "relief_fitted": "true",
            "relief_setting": "25 bar",
            "rated_pressure": "300 bar",
            "gas_sign": "true",
            "letter_height": "60 mm",
        }
        manifold |= {"connections_gas_specific": "true", "unused_capped": "true", "fixed": "true", "top_clear": "true"}
        manifold |= {"install_supervised": "true", "other_gas_distance": "8 m", "combustibles_distance": "8 m"}
        manifold |= {"other_manifold_distance": "20 m", "barrier_height": "none", "barrier_rating": "none"}
        manifold |= {"indoors": "false", "placed": "open-air", "open_flame_near": "false", "proof_medium": "nitrogen"}
        manifold |= {"approved": "true", "factory_made": "true", "oil_free": "true", "condition": "sound"}
        manifold |= _UNDATED | {"tight_against_outside": "true", "copper_share": "60 %", "repaired_by": "nobody"}
        manifold |= {"oxygen_clean": "true"} if gas == "oxygen" else {}
        manifold["branches"] = [{"parts": deepcopy(run)}, {"parts": deepcopy(run)}]
        parts[0:2] = [{"manifold": manifold}]
        rig["lines"][line] |= {"stands": "off-trolley"}
        for stated in ("supply_content", "withdrawal_share"):
            del rig["lines"][line][stated]
    rig |= {"trolley": "none", "examined_by_scheme": "true"}
    rig |= {"installed_by": "authorised-person", "conformity_certificate": "true"}
    rig["hose_pair"]["hung"] = "reel"


def _work_in_a_confined_space(rig: Rig) -> None:
    rig["site"] |= {"place": "confined-space", "closed_in": "true", "fixed_hot_work_place": "false"}
    rig["site"] |= {"swept_radius": "12 m", "fume_share": "none"}
    rig["site"] |= {"ventilation": "general-exhaust", "ventilation_watched": "attendant", "exhaust_outdoors": "true"}
    rig["site"] |= {"cylinders_outside": "true", "entry_permit": "signed", "attendant": "true", "rescue_ready": "true"}
    rig["site"] |= {"gas_tested": "true", "gas_monitored": "true", "oxygen_content": "20.8 %", "explosive_share": "0 %"}
    rig["site"] |= {"alarm_known": "true", "lit_outside": "true", "acetylene_content": "0 %", "propane_content": "0 %"}
    rig["site"] |= {"air_flow_per_welder": "60 m3/min"}
    rig["tools"]["gas_detector"] = "true"
    rig["job"] |= {"scene_checked_after": "2 h", "fire_watch_after": "2 h", "authorised_by": "site-owner"}
    rig["people"][0] |= {"lifeline": "arranged", "breathing_protection": "air-line"}
    rig["people"][0] |= {"clothing": "flame-resistant", "clothing_beneath": "flame-resistant"}
    rig["people"].append(rig["people"][0] | {"role": "attendant"})
    for line in rig["lines"]:
        line["purged_into"] = "open-air"
    for pause in ("breaks", "overnight"):
        rig[pause] |= {"torch_and_hoses": "taken-out", "supply_shut_outside": "true", "open_ends_removed": "true"}
        rig[pause] |= {"air_checked_before_return": "true", "cylinders_left": "ventilated-store"}


def _carried_in_a_compartment_of_its_own(rig: Rig) -> None:
    rig["carriage"] = {
        "vehicle": "separate-compartment",
        "high_and_low_vents": "true",
        "cab_separate": "true",
        "upright": "true",
        "secured": "true",
        "cylinder_valves": "closed",
        "regulators": "taken-off",
        "caps_fitted": "true",
        "hoses_vented": "true",
        "leak_checked": "true",
        "extinguisher": "true",
        "signs": "true",
        "papers": "true",
        "driver_instructed": "true",
        "ignition_sources": "false",
        "other_load": ["none"],
        "unloaded_on_arrival": "true",
        "parked_closed": "0 h",
        "aired_before_entry": "true",
    }


def _brazing_without_cadmium(rig: Rig) -> None:
    rig["job"]["process"] = "brazing"
    rig["workpiece"] |= {"metal": "copper", "filler": "holds-no-cadmium", "flux": "fluoride"}
    rig["site"]["ventilation"] = "local-exhaust"
    rig["site"] |= {"hood_velocity": "0.6 m/s", "exhaust_outdoors": "true"}


def _spare_cylinders_in_a_cage(rig: Rig) -> None:
    for line in rig["lines"]:
        line["spare_cylinders"] = "1"
    rig["spares_kept"] = "store-of-the-site"
    rig["store"] = {
        "placed": "open-air-cage",
        "gases": ["acetylene", "oxygen"],
        "opening_distance": "5 m",
        "boundary_distance": "6 m",
        "ventilated": "true",
        "dry": "true",
        "fuel_oxygen_distance": "7 m",
        "same_room": "false",
        "combustibles_distance": "8 m",
        "heat_distance": "8 m",
        "temperature": "25 degC",
        "cylinders_upright": "true",
        "cylinders_secured": "true",
        "caps_fitted": "true",
        "valves_closed": "true",
        "empties_apart": "true",
        "grouped_by_gas": "true",
        "signs": ["gases-named", "no-smoking", "no-naked-flame", "no-tampering"],
        "locked": "true",
        "clear_of_ways": "true",
        "open_flame_near": "false",
        "flame_distance": "12 m",
        "torch_used_in_it": "false",
        "drains_near": "false",
        "oldest_first": "true",
        "carbide": "none",
        "fuel_cylinders": "1",
        "fuel_cylinder_content": "6 m3",
        "lpg_cylinders": "0",
        "oxygen_cylinders": "1",
        "oxygen_cylinder_content": "10 m3",
    }


def _trainee_beside_the_user(rig: Rig) -> None:
    rig["people"].append(rig["people"][0] | {"role": "trainee", "age": "19 year", "supervised": "true"})


def _outdoors_by_leave_under_a_fire_ban(rig: Rig) -> None:
    rig["site"] |= {"place": "open-air", "ventilation": "open-air", "fire_ban": "leave-given", "sunlit": "false"}
    for pause in ("breaks", "overnight"):
        rig[pause]["cylinders_left"] = "open-air"
    for line in rig["lines"]:
        line["purged_into"] = "open-air"


def _helper_who_opens_the_valves_in_sight(rig: Rig) -> None:
    rig["valves_opened_by"] = "helper-in-sight"
    rig["people"].append(rig["people"][0] | {"role": "helper"})


def _cylinders_chained_to_the_wall(rig: Rig) -> None:
    for line in (_ACETYLENE, _OXYGEN):
        _part(rig, line, "cylinder")["secured"] = "chain"
        rig["lines"][line]["stands"] = "off-trolley"
    rig["trolley"] = "none"
    rig["hose_pair"]["hung"] = "reel"


def _hoses_under_a_cover_in_the_passage(rig: Rig) -> None:
    for line in (_ACETYLENE, _OXYGEN):
        _part(rig, line, "hose")["run"] = "across-passage-covered"


def _lit_at_a_pilot_flame(rig: Rig) -> None:
    rig["tools"]["lighter"] = "pilot-flame"


def _out_on_bare_ground_without_a_fire_watch(rig: Rig) -> None:
    rig["site"] |= {"place": "open-air", "ventilation": "open-air", "fixed_hot_work_place": "false", "sunlit": "false"}
    rig["site"] |= {"combustibles": "none", "combustibles_distance": "none", "openings": "none", "fire_ban": "none"}
    rig["site"]["swept_radius"] = "12 m"
    rig["job"] |= {"fire_watch": "false", "fire_watch_after": "0 min", "scene_checked_after": "2 h"}
    rig["job"]["authorised_by"] = "site-owner"
    for pause in ("breaks", "overnight"):
        rig[pause]["cylinders_left"] = "open-air"
    for line in rig["lines"]:
        line["purged_into"] = "open-air"


def _on_a_scaffold(rig: Rig) -> None:
    _out_on_bare_ground_without_a_fire_watch(rig)
    rig["site"]["place"] = "scaffold"


def _made_place_without_a_permit(rig: Rig) -> None:
    rig["job"]["hot_work_permit"] = "not-required"
    del rig["job"]["permit_for"]


def _thirty_metres_of_hose(rig: Rig) -> None:
    for line in (_ACETYLENE, _OXYGEN):
        _part(rig, line, "hose")["length"] = "30 m"
        rig["lines"][line] |= {"purge_time": "8 min", "hold_time": "30 min"}


def _leather_over_wool(rig: Rig) -> None:
    rig["people"][0] |= {"clothing": "leather", "clothing_beneath": "wool", "gloves": "heat-resistant"}


def _break_beside_the_open_rig(rig: Rig) -> None:
    rig["breaks"] |= {"attended": "true", "cylinder_valves": "open", "hoses_vented": "false"}
    rig["breaks"] |= {"knobs_backed_off": "false", "gauges_at_zero": "false"}


def _hood_and_filter_at_lead_paint(rig: Rig) -> None:
    rig["workpiece"] |= {"coating": "lead-paint", "coating_removed": "120 mm"}
    rig["site"] |= {"ventilation": "local-exhaust", "hood_velocity": "0.6 m/s", "exhaust_outdoors": "true"}
    rig["people"][0]["breathing_protection"] = "powered-filter"


def _hood_at_galvanised_steel(rig: Rig) -> None:
    rig["workpiece"] |= {"metal": "galvanised-steel", "coating": "zinc", "coating_removed": "120 mm"}
    rig["site"] |= {"ventilation": "local-exhaust", "hood_velocity": "0.6 m/s", "exhaust_outdoors": "true"}


def _fuel_tank_steamed_filled_and_cleared(rig: Rig) -> None:
    rig["workpiece"] |= {"form": "tank", "closed": "true", "vented": "true", "last_held": "flammable-liquid"}
    rig["workpiece"] |= {"cleaned": "steamed", "filled_with": "nitrogen", "filling_checked": "true"}
    rig["workpiece"] |= {"inside_tested": "true", "cleared_by": "competent-person", "isolated": "true"}


def _new_drum(rig: Rig) -> None:
    rig["workpiece"] |= {"form": "drum", "closed": "false", "last_held": "nothing", "isolated": "true"}


def _tank_of_a_ship(rig: Rig) -> None:
    _work_in_a_confined_space(rig)
    rig["site"]["place"] = "ship-tank"
    rig["workpiece"]["form"] = "ship-structure"


def _mixer_that_is_approved(rig: Rig) -> None:
    for line in rig["lines"]:
        line["premix"] = "approved-mixer"


def _pipes_below_the_pressure_of_the_law(rig: Rig) -> None:
    _fed_by_pipelines_without_regulators(rig)
    rig["examined_by_scheme"] = "false"


def _air_lines_in_a_small_room(rig: Rig) -> None:
    rig["site"] |= {"volume_per_welder": "100 m3", "ceiling_height": "3 m", "air_flow_per_welder": "10 m3/min"}
    rig["people"][0]["breathing_protection"] = "air-line"


def _each_date_and_metal_just_within(rig: Rig) -> None:
    for line in (_ACETYLENE, _OXYGEN):
        _part(rig, line, "cylinder")["retest_until"] = "2026-11-25"
        for part in _parts(rig, line):
            for kind in ("arrester", "regulator"):
                if kind in part:
                    part[kind]["copper_share"] = "64 %"
    rig["tools"]["extinguisher_checked"] = "2025-11-26"


def _regulators_overhauled_by_their_maker(rig: Rig) -> None:
    for line in (_ACETYLENE, _OXYGEN):
        regulator = _part(rig, line, "regulator")
        regulator |= {"made": "2016-01", "tested": "2026-03-02", "tested_by": "maker", "test_result": "passed"}
        regulator |= {"service_until": "2031-03", "repaired_by": "maker"}


def _lifted_in_a_cradle_and_tested_since(rig: Rig) -> None:
    for line in (_ACETYLENE, _OXYGEN):
        _part(rig, line, "cylinder")["lifted_by"] = "cradle"
    rig |= {"last_change": "moved", "tested_since_change": "true"}


def _regulators_left_on_a_carrier(rig: Rig) -> None:
    _carried_in_a_compartment_of_its_own(rig)
    rig["carriage"] |= {"vehicle": "open-vehicle", "regulators": "left-on-carrier"}


def _wall_between_stored_gases(rig: Rig) -> None:
    _spare_cylinders_in_a_cage(rig)
    rig["store"] |= {"fuel_oxygen_distance": "1 m", "barrier_height": "2 m", "barrier_rating": "60 min"}


def _brazing_behind_a_light_filter(rig: Rig) -> None:
    _brazing_without_cadmium(rig)
    rig["people"][0] |= {"filter_shade": "3", "eye_protection": "filter-face-shield"}


def _small_cylinders_that_take_no_cap(rig: Rig) -> None:
    for line in (_ACETYLENE, _OXYGEN):
        _part(rig, line, "cylinder")["cap"] = "recessed"


def _apprentice_of_seventeen(rig: Rig) -> None:
    rig["people"].append(rig["people"][0] | {"role": "trainee", "age": "17 year", "supervised": "true"})


def _torch_left_in_the_open_air(rig: Rig) -> None:
    _outdoors_by_leave_under_a_fire_ban(rig)
    rig["breaks"] |= {"torch_and_hoses": "left-in-open-air"}


_SUPPLY = {"condition": "sound", "oil_free": "true", "factory_made": "true", "repaired_by": "nobody"} | _UNDATED


def _liquid_oxygen_in_the_yard(rig: Rig) -> None:
    parts = _parts(rig, _OXYGEN)
    tank = {"gas": "oxygen", "form": "liquid-cylinder", "delivery_pressure": "14 bar", "connected_volume": "160 m3"}
    tank |= {"volume_with_reserves": "300 m3", "bulk_standard": "false", "placed": "open-air", "ground": "concrete"}
    tank |= {"relief_fitted": "true", "relief_to_open_air": "true", "vaporiser_flow": "20 m3/h", "secured": "true"}
    tank |= {"combustibles_distance": "7 m", "fuel_distance": "7 m", "signs": "true", "oxygen_clean": "true"}
    tank |= {"checked_by_owner": "2026-09-01", "tight_against_outside": "true", "copper_share": "60 %"}
    parts[_index(parts, "cylinder")] = {"bulk_tank": _SUPPLY | tank | {"made": "2024-02"}}
    parts[_index(parts, "joint")] = {"joint": {"fitting": "flat-face", "leak_test_pressure": "14 bar"}}
    regulator = _part(rig, _OXYGEN, "regulator")
    regulator |= {"inlet_rating": "25 bar", "least_difference": "1 bar"}
    regulator["inlet_gauge"]["full_scale"] = "40 bar"
    for line in (_ACETYLENE, _OXYGEN):
        rig["lines"][line]["stands"] = "off-trolley"
    _part(rig, _ACETYLENE, "cylinder")["secured"] = "chain"
    for stated in ("supply_content", "withdrawal_share"):
        del rig["lines"][_OXYGEN][stated]
    rig["trolley"] = "none"
    rig["hose_pair"]["hung"] = "reel"


def _pipework_that_is_described(rig: Rig) -> None:
    _fed_by_pipelines_with_regulators(rig)
    rig |= {"installed_by": "authorised-person", "conformity_certificate": "true"}
    made = {"made_of": "steel", "wall": "standard", "joined_by": ["welded"], "filler_melts_at": "none", "bore": "15 mm"}
    made |= {"regulated_at_supply": "true", "design_pressure": "16 bar", "test_pressure": "24 bar", "size": "15 mm"}
    made |= {"tested_with": "nitrogen", "cleaned": "cleaned", "runs": ["in-the-open-room"], "guarded": "true"}
    made |= {"coated": "true", "drips": "none-needed", "emergency_shutoff": "reachable", "supply_shutoff": "true"}
    made |= {"relief_set": "16 bar", "relief_to_open_air": "true", "relief_shut_off": "false", "marked": "true"}
    made |= {"link_hose": "false", "protected_at": "main", "back_pressure_relief": "1 bar", "guards_stand": "2 bar"}
    made |= {"relief_vent": "wide-and-hooded", "air_burners": "none", "state": "sound"}
    for line in (_ACETYLENE, _OXYGEN):
        outlet = _part(rig, line, "outlet_point")
        outlet |= {"rated_pressure": "16 bar", "pipework": deepcopy(made)}


def _light_duty_hose(rig: Rig) -> None:
    for line in (_ACETYLENE, _OXYGEN):
        _part(rig, line, "hose").update(grade="light-duty", bore="6.3 mm", rated_pressure="10 bar")


def _portable_generator_in_the_open(rig: Rig) -> None:
    _outdoors_by_leave_under_a_fire_ban(rig)
    parts = _parts(rig, _ACETYLENE)
    made = {"form": "portable", "judged_by": "competent-person", "delivery_pressure": "0.3 bar", "gas": "acetylene"}
    made |= {"combustibles_distance": "5 m", "charge_gas": "2 m3", "stands_in": "open-air", "approved": "true"}
    made |= {"tight_against_outside": "true", "copper_share": "60 %", "made": "2024-02"}
    parts[_index(parts, "cylinder")] = {"acetylene_generator": _SUPPLY | made}
    parts[_index(parts, "joint")] = {"joint": {"fitting": "nipple-and-nut", "leak_test_pressure": "1 bar"}}
    for stated in ("supply_content", "withdrawal_share"):
        del rig["lines"][_ACETYLENE][stated]
    for line in (_ACETYLENE, _OXYGEN):
        rig["lines"][line]["stands"] = "off-trolley"
    _part(rig, _OXYGEN, "cylinder")["secured"] = "chain"
    rig["trolley"] = "none"
    rig["hose_pair"]["hung"] = "reel"


def _large_stock_in_a_room_of_its_own(rig: Rig) -> None:
    _spare_cylinders_in_a_cage(rig)
    rig["store"] |= {"placed": "separate-room", "fuel_cylinders": "12", "room_rating": "60 min"}


def _couplers_before_the_arresters(rig: Rig) -> None:
    joint = {"joint": {"fitting": "quick-coupler", "thread_hand": "none"}}
    for line, gas in enumerate(("acetylene", "oxygen")):
        parts = _parts(rig, line)
        coupler = _valve(gas, "20 bar") | {"standard": "ISO 7289", "gas_specific": "true", "shuts_when_parted": "true"}
        where = _index(parts, "arrester")
        parts[where:where] = [{"coupler": coupler}, deepcopy(joint)]


def _piped_through_couplers(rig: Rig) -> None:
    _fed_by_pipelines_without_regulators(rig)
    _couplers_before_the_arresters(rig)


def _sent_up_in_a_lift(rig: Rig) -> None:
    rig["trolley"]["lifted_by"] = "lift-alone"


def _shell_of_a_lorry(rig: Rig) -> None:
    rig["workpiece"] |= {"form": "vehicle", "stripped": "true"}


LAWFUL: dict[str, tuple[tuple[str, ...], Callable[[Rig], None]]] = {
    "check valves at the torch": (("uk", "eu"), _check_valves_at_the_torch),
    "American set with check valves": (("us",), _american),
    "two regulators in series": (("general", "uk", "eu", "za"), _two_regulators_in_series),
    "fed by pipelines, with regulators": (("general", "uk", "eu", "au"), _fed_by_pipelines_with_regulators),
    "fed by pipelines, without regulators": (("general", "uk", "eu", "ca"), _fed_by_pipelines_without_regulators),
    "couplers at both ends": (("general", "uk", "eu", "za"), _couplers_at_both_ends),
    "inch tails on metric hoses": (("general", "uk", "eu", "au"), _inch_tails_on_metric_hoses),
    "inch hoses on metric tails": (("general", "uk", "eu", "ca"), _wider_inch_hoses_on_metric_tails),
    "a cylinder that is not filled again": (("general", "uk", "eu", "us"), _cylinder_that_is_not_filled_again),
    "a purge line of nitrogen": (("general", "uk", "eu", "za"), _nitrogen_purge_line),
    "sides by the yard's own rule": (("general", "uk", "eu", "au"), _sides_by_the_yards_own_rule),
    "arresters built into the torch": (("general", "uk", "eu", "ca"), _arresters_built_into_the_torch),
    "banks of two": (("uk", "eu", "za"), _bank_of_two),
    "work in a confined space": (("general", "uk", "eu", "za"), _work_in_a_confined_space),
    "carried in a compartment of its own": (("general", "uk", "eu", "ca"), _carried_in_a_compartment_of_its_own),
    "brazing without cadmium": (("general", "uk", "eu", "us"), _brazing_without_cadmium),
    "spare cylinders in a cage": (("general", "uk", "au"), _spare_cylinders_in_a_cage),
    "a trainee beside the user": (("general", "eu", "ca"), _trainee_beside_the_user),
    "outdoors by leave under a fire ban": (("general", "uk", "au"), _outdoors_by_leave_under_a_fire_ban),
    "a helper opens the valves in sight": (("us", "ca"), _helper_who_opens_the_valves_in_sight),
    "cylinders chained to the wall": (("za", "au"), _cylinders_chained_to_the_wall),
    "hoses under a cover in the passage": (("uk", "ca"), _hoses_under_a_cover_in_the_passage),
    "lit at a pilot flame": (("us", "za"), _lit_at_a_pilot_flame),
    "out on bare ground, no fire watch": (("us", "au"), _out_on_bare_ground_without_a_fire_watch),
    "on a scaffold": (("eu", "ca"), _on_a_scaffold),
    "a place made for it, no permit": (("us", "za"), _made_place_without_a_permit),
    "thirty metres of hose": (("uk", "au"), _thirty_metres_of_hose),
    "leather over wool": (("eu", "us"), _leather_over_wool),
    "a break beside the open rig": (("za", "ca"), _break_beside_the_open_rig),
    "hood and filter at lead paint": (("uk", "us"), _hood_and_filter_at_lead_paint),
    "hood at galvanised steel": (("za", "au"), _hood_at_galvanised_steel),
    "fuel tank steamed, filled and cleared": (("us", "uk"), _fuel_tank_steamed_filled_and_cleared),
    "a new drum": (("ca", "au"), _new_drum),
    "a tank of a ship": (("us", "eu"), _tank_of_a_ship),
    "a mixer that is approved": (("general", "us"), _mixer_that_is_approved),
    "pipes below the pressure of the law": (("uk",), _pipes_below_the_pressure_of_the_law),
    "air lines in a small room": (("us", "general"), _air_lines_in_a_small_room),
    "each date and metal just within": (("uk", "us"), _each_date_and_metal_just_within),
    "regulators overhauled by their maker": (("uk", "au"), _regulators_overhauled_by_their_maker),
    "lifted in a cradle and tested since": (("us", "ca"), _lifted_in_a_cradle_and_tested_since),
    "regulators left on a carrier": (("us", "general"), _regulators_left_on_a_carrier),
    "a wall between stored gases": (("us", "ca"), _wall_between_stored_gases),
    "brazing behind a light filter": (("eu", "za"), _brazing_behind_a_light_filter),
    "small cylinders with a recess": (("za", "au"), _small_cylinders_that_take_no_cap),
    "an apprentice of seventeen": (("eu", "uk"), _apprentice_of_seventeen),
    "the torch left in the open air": (("au", "uk"), _torch_left_in_the_open_air),
    "couplers before the arresters": (("general", "uk", "eu"), _couplers_before_the_arresters),
    "piped through couplers": (("general", "eu"), _piped_through_couplers),
    "liquid oxygen in the yard": (("general", "us", "za"), _liquid_oxygen_in_the_yard),
    "pipework that is described": (("general", "us", "uk", "za"), _pipework_that_is_described),
    "light-duty hose": (("general", "eu"), _light_duty_hose),
    "a portable generator in the open": (("us",), _portable_generator_in_the_open),
    "a large stock in a room of its own": (("us",), _large_stock_in_a_room_of_its_own),
    "sent up in a lift": (("general", "uk"), _sent_up_in_a_lift),
    "the shell of a lorry": (("general", "au"), _shell_of_a_lorry),
}
"""By name, the local codes under which a rig is lawful, and what makes it of the tool room's set."""
