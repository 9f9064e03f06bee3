"""The functions of physics that say which way they go, parted by the laws that try it."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from importlib import import_module
from pkgutil import iter_modules

from rigcheck import physics
from rigcheck.physics.intervals import directions_of

__all__ = ["GAS_SIDE", "OTHERS"]

_GAS_SIDE = (
    *("choked_flow", "combustion", "contents", "cutting", "dissolved"),
    *("endurance", "liquefied", "real_gas", "vaporisation", "vapour_pressure"),
)


def _declared(module: str) -> list[Callable[..., float | None]]:
    """Return the functions of a module with something said of their directions, in its order."""
    of_it = import_module(f"{physics.__name__}.{module}")
    functions = [value for _, value in inspect.getmembers(of_it, inspect.isfunction)]
    own = [function for function in functions if function.__module__ == of_it.__name__]
    return sorted((one for one in own if _speaks(one)), key=lambda one: one.__name__)


def _speaks(function: Callable[..., object]) -> bool:
    try:
        return bool(directions_of(function))
    except KeyError:
        return False


_ALL = {found.name: _declared(found.name) for found in iter_modules(physics.__path__)}

GAS_SIDE: tuple[Callable[..., float | None], ...] = tuple(one for name in _GAS_SIDE for one in _ALL.pop(name))
"""Those that take a gas, a fuel or a base state."""

OTHERS: tuple[Callable[..., float | None], ...] = tuple(one for functions in _ALL.values() for one in functions)
"""All that are left: a new module is tried without being named here."""
