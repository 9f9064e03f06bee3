"""The worked examples in the docstrings of the gas-side figures."""

from __future__ import annotations

import doctest
from importlib import import_module

import pytest

MODULES = (
    "choked_flow",
    "combustion",
    "contents",
    "cutting",
    "dissolved",
    "endurance",
    "liquefied",
    "nozzle",
    "real_gas",
    "intervals",
    "vaporisation",
    "vapour_pressure",
)


@pytest.mark.parametrize("name", MODULES)
def test_the_worked_examples_hold(name: str) -> None:
    result = doctest.testmod(import_module(f"rigcheck.physics.{name}"))
    assert result.attempted > 0
    assert result.failed == 0
