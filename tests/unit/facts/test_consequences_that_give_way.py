"""A consequence that gives way spares a question, and disagrees with nobody who states the fact."""

from __future__ import annotations

from datetime import date

import pytest

from rigcheck.judge.inspection import inspect_rig
from rigcheck.rig.around import Around
from rigcheck.rig.loader import load_rig
from rigcheck.rig.look_file import read_look
from rigcheck.rules.pack import Pack

DAY = date(2026, 11, 25).toordinal()
LANCE = """
rig: lance
lines:
  - gas: oxygen
    {more}
    parts: [cylinder, regulator, arrester, hose]
torch: {torch}
"""


def came(pack: Pack, torch: str = "{form: oxygen-lance}", more: str = "", look: str = "") -> tuple[set[str], set[str]]:
    """Return the rules of the findings, and the facts asked after."""
    seen = f"look: lance.yaml\nday: 2026-11-25\nby: fitter\nseen:\n  - {look}\n"
    looks = (read_look(seen.encode(), "look.yaml", pack.vocabulary),) if look else ()
    text = LANCE.format(torch=torch, more=more or "stands: off-trolley").encode()
    rig = load_rig(text, "lance.yaml", pack.vocabulary, Around(looks=looks))
    found = inspect_rig(rig, pack, day=DAY)
    asked = {f"{one.kind}.{one.fact}" for one in found.questions}
    return {one.rule for one in found.findings}, asked


def test_nobody_is_asked_of_a_lance_what_it_has_not(pack: Pack) -> None:
    _, asked = came(pack)
    assert not {one for one in asked if one.startswith("nozzle.")}
    assert not asked & {"line.torch_inlet", "line.premix", "torch.mixing", "torch.gases", "torch.standard"}
    assert {"torch.lance_valve", "control valve.shuts_off", "torch.oxygen_flow"} <= asked


def test_of_a_cutting_torch_all_of_it_is_asked(pack: Pack) -> None:
    _, asked = came(pack, torch="{form: cutting}")
    assert {"nozzle.seat", "nozzle.joint_tight", "line.torch_inlet", "torch.mixing", "torch.standard"} <= asked


@pytest.mark.parametrize("torch", ["{}", "{form: unknown}"])
def test_a_torch_of_which_nobody_knows_the_form_has_its_nozzle(pack: Pack, torch: str) -> None:
    _, asked = came(pack, torch=torch)
    assert {"nozzle.seat", "line.torch_inlet", "torch.form"} <= asked


@pytest.mark.parametrize(
    ("more", "rule"),
    [("premix: yes", "rig/gases_meet_only_in_the_torch"), ("torch_inlet: fuel", "torch/each_hose_is_on_its_own_inlet")],
)
def test_who_states_the_danger_has_it_told_as_one(pack: Pack, more: str, rule: str) -> None:
    findings, _ = came(pack, more=more)
    assert rule in findings
    assert "rig/statements_agree" not in findings


def test_what_somebody_saw_of_a_nozzle_is_judged_whatever_the_torch_is(pack: Pack) -> None:
    findings, _ = came(pack, look="{thing: torch, nozzle: {joint_tight: no}}")
    assert "torch/nozzle_joint_is_tight" in findings
    findings, _ = came(pack, torch="{form: oxygen-lance, nozzle: {joint_tight: no}}")
    assert "torch/nozzle_joint_is_tight" in findings


def test_statements_that_do_not_agree_take_no_nozzle_away(pack: Pack) -> None:
    _, asked = came(pack, torch="{form: cutting}", look="{thing: torch, form: oxygen-lance}")
    assert "nozzle.seat" in asked
    _, asked = came(pack, torch="{}", look="{thing: torch, form: oxygen-lance}")
    assert "nozzle.seat" not in asked


def test_a_torch_of_one_gas_is_not_asked_after_two(pack: Pack) -> None:
    text = (
        b"rig: roof\nsite: {place: roof, closed_in: no}\nworkpiece: {form: roof-covering, metal: no-metal}\n"
        b"lines:\n  - gas: propane\n    parts: [cylinder, regulator, hose]\n"
        b"torch: {form: air-aspirated}\npeople: [{role: user}]\n"
    )
    found = inspect_rig(load_rig(text, "roof.yaml", pack.vocabulary), pack, day=DAY)
    asked = {f"{one.kind}.{one.fact}" for one in found.questions}
    spared = "line.torch_inlet line.premix person.uses_oxygen_for person.clothing_oxygen rig.start_order"
    assert not asked & {*spared.split(), "site.ventilation", "site.room_volume", "workpiece.last_held"}
    assert {"person.clothing_clean", "line.purged", "site.combustibles"} <= asked
