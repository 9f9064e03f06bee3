"""The modules of figures that say which way their figures go, parted by the laws that try it."""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType

from rigcheck import physics as figures

__all__ = ["GAS_SIDE", "OTHERS"]

_GAS_SIDE = (
    *("choked_flow", "combustion", "compression", "contents", "cutting", "dissolved"),
    *("endurance", "liquefied", "real_gas", "vaporisation", "vapour_pressure", "withdrawal"),
)
_ALL = {found.name: import_module(f"{figures.__name__}.{found.name}") for found in iter_modules(figures.__path__)}

GAS_SIDE: tuple[ModuleType, ...] = tuple(_ALL.pop(name) for name in _GAS_SIDE)
"""Those that take a gas, a fuel or a base state."""

OTHERS: tuple[ModuleType, ...] = tuple(module for module in _ALL.values() if hasattr(module, "RISES_WITH"))
"""All that are left: a new module is tried without being named here."""
