"""A number that has to be known."""

from __future__ import annotations

__all__ = ["known"]


def known(value: float | None) -> float:
    """Return a number that is known, and fail where it is not."""
    assert value is not None
    return value
