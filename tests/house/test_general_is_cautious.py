"""The code `general` is never laxer than any code that ships: limit by limit, and rule by rule."""

from __future__ import annotations

import pytest

from rigcheck.rules.limits import in_force, looser
from rigcheck.rules.local_codes import LOCAL_CODES
from rigcheck.rules.pack import Pack

_OTHER_LIMITS = {
    "acetylene_regulator_outlet": "What a regulator is made for by its own standard; "
    "what it may be set to has a limit of its own, which is the strictest in general.",
}
"""Limits of which general has a laxer value than another code, and why that lets nothing through."""

_A_MARK_OF_THE_LAND = "Colours and marks are those of a country; in general the label counts."
_STRICTER_RULE = "In general a stricter rule stands in its place: "
_ITS_OWN_WAY = "It says how one country's code lets the same be done; other ways are as good in general, whose rule is "
_OTHER_RULES = {
    "arresters/acetylene_manifold_has_an_arrester": _STRICTER_RULE + "arresters/arrester_before_the_acetylene_manifold",
    "arresters/australian_arrester_to_as_4603": _ITS_OWN_WAY + "arresters/arrester_meets_its_standard",
    "arresters/torch_inlets_let_nothing_back": _STRICTER_RULE + "arresters/arrester_at_every_torch_inlet",
    "cylinders/acetylene_shoulder_is_maroon": _A_MARK_OF_THE_LAND,
    "cylinders/acetylene_valve_opens_as_preferred": "A preference within the limit, which general has too.",
    "cylinders/cylinder_is_marked_as_its_country_asks": _A_MARK_OF_THE_LAND,
    "cylinders/flammable_shoulder_is_red": _A_MARK_OF_THE_LAND,
    "cylinders/oxygen_cylinder_is_black": _A_MARK_OF_THE_LAND,
    "cylinders/oxygen_shoulder_is_white": _A_MARK_OF_THE_LAND,
    "hoses/american_fuel_hose_is_grade_t": _ITS_OWN_WAY + "hoses/hose_is_welding_hose",
    "hoses/american_fuel_hose_is_red": _A_MARK_OF_THE_LAND,
    "hoses/american_oxygen_hose_is_green": _A_MARK_OF_THE_LAND,
    "hoses/american_hose_proved_after_flashback": _STRICTER_RULE + "hoses/hose_after_flashback_is_replaced",
    "hoses/american_twin_hoses_never_tied": _STRICTER_RULE + "hoses/twin_hoses_part_freely",
    "hoses/liquefied_gas_hose_marking_repeats": _STRICTER_RULE + "hoses/hose_marking_repeats",
    "hoses/tape_on_twin_hoses_is_short": _STRICTER_RULE + "hoses/twin_hoses_part_freely",
    "hoses/proof_test_was_above_working_pressure": "How one country's code has a test made that no other asks for.",
    "hoses/proof_test_was_under_water": "How one country's code has a test made that no other asks for.",
    "hoses/propane_hose_burst_pressure": _ITS_OWN_WAY + "hoses/propane_hose_lining_resists_propane",
    "joints/american_hose_end_proof_pressure": "A test of hose ends that no other code asks for.",
    "rig/installed_gas_system_has_a_scheme_of_examination": "A paper that only the law of one country knows.",
    "rig/installed_gas_system_is_certified": "A paper that only the law of one country knows.",
    "store/fuel_and_oxygen_have_own_rooms": _ITS_OWN_WAY + "store/fuel_and_oxygen_are_apart",
    "store/sign_warns_against_tampering": "A sign of one country's law; in general the store is locked.",
    "workpiece/vessel_is_cleaned_or_filled_and_tested": _STRICTER_RULE + "workpiece/vessel_is_cleaned_and_tested",
    "trolley/shield_stands_between_the_cylinders": "The alert asks to consider one; no text that was read asks for it, "
    "and two cylinders side by side on one trolley are what trolleys are made for.",
}
"""Rules that run under other codes and not in general, and why not there."""


def _days(pack: Pack) -> list[int]:
    return sorted({limit.since for limit in pack.limits})


@pytest.mark.parametrize("code", [code for code in LOCAL_CODES if code != "general"])
def test_no_limit_of_a_code_is_stricter_than_the_general_one_on_any_day(code: str, pack: Pack) -> None:
    laxer = set()
    for day in _days(pack):
        general, own = (in_force(pack.limits, one, day, pack.definitions) for one in ("general", code))
        for name, limit in own.items():
            if name in general and looser(general[name], limit, pack.definitions[name].cautious):
                laxer.add(name)
    assert laxer <= set(_OTHER_LIMITS)


def test_every_listed_limit_is_laxer_in_general_than_in_some_code(pack: Pack) -> None:
    last, laxer = _days(pack)[-1], set()
    for code in LOCAL_CODES:
        general, own = (in_force(pack.limits, one, last, pack.definitions) for one in ("general", code))
        laxer |= {name for name in own if looser(general[name], own[name], pack.definitions[name].cautious)}
    assert laxer == set(_OTHER_LIMITS)


def test_what_runs_under_other_codes_only_is_listed_with_the_reason_why_not_in_general(pack: Pack) -> None:
    elsewhere = {rule.name for rule in pack.rules.values() if rule.under and "general" not in rule.under}
    assert elsewhere == set(_OTHER_RULES)


def test_each_rule_that_stands_in_the_place_of_another_runs_in_general(pack: Pack) -> None:
    named = {reason.rpartition(" ")[2] for reason in _OTHER_RULES.values() if "/" in reason}
    running = {rule.name for rule in pack.rules.values() if not rule.under or "general" in rule.under}
    assert sorted(named - running) == []
