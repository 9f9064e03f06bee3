"""The looks of the pack hold to the visual checks of the trade, and to plain words.

The fifteen visual checks are common practice of the trade: what a competent person goes through before gas is let on.
"""

from __future__ import annotations

import re

from rigcheck.rules.looks import looks_of
from rigcheck.rules.pack import Pack

_VISUAL_CHECKS = {
    "sides and lean": ("side_of_the_line", "trolley_lean"),
    "upright and secured": ("cylinder_stands",),
    "regulators and gauges": ("regulator_marking", "regulator_body", "gauge"),
    "joints and tape": ("joint_by_eye",),
    "arresters": ("arrester",),
    "hose ends and clips": ("hose_end",),
    "hoses": ("hose_marking", "hose_through_the_hand"),
    "twin binding": ("twin_hoses", "tape_on_the_hoses"),
    "torch and glands": ("torch_body", "glands"),
    "nozzle": ("nozzle",),
    "key and lighter": ("cylinder_shell", "with_the_rig"),
    "hooks": ("trolley_stands", "twin_hoses"),
    "place": ("what_burns", "the_room_and_its_air", "who_and_what_is_near"),
    "people": ("clothing_and_hands",),
    "tools": ("with_the_rig", "extinguisher"),
}


def test_every_visual_check_of_the_trade_is_a_look(pack: Pack) -> None:
    known = looks_of(pack).looks
    assert [one for names in _VISUAL_CHECKS.values() for one in names if one not in known] == []


def test_a_look_says_what_to_do_in_a_sentence(pack: Pack) -> None:
    wrong = [one.name for one in looks_of(pack).looks.values() if not (one.do[0].isupper() and one.do.endswith("."))]
    assert wrong == []


def test_a_list_ends_with_what_was_done_so_that_nothing_wrong_costs_something(pack: Pack) -> None:
    lists = [one for look in looks_of(pack).looks.values() for one in look.lesser]
    assert lists
    assert [one.none for one in lists if not one.none.startswith("None of these; I ")] == []


def test_no_look_says_that_anything_is_safe(pack: Pack) -> None:
    texts = [data.decode().casefold() for _, data in pack.look_files]
    assert [text for text in texts if re.search(r"\b(safe|safely|is ready|may be lit)\b", text)] == []
