"""The local codes that limits, rules and documents belong to."""

from __future__ import annotations

from typing import Literal

__all__ = ["COUNTRIES", "LOCAL_CODES", "LocalCode", "OwnCode"]

LOCAL_CODES = ("general", "us", "uk", "eu", "za", "au", "ca")
LocalCode = Literal["general", "us", "uk", "eu", "za", "au", "ca"]
OwnCode = Literal["us", "uk", "eu", "za", "au", "ca"]
"""A code that texts can belong to: `general` has none of its own, it takes the most cautious of the others."""

COUNTRIES = {
    "us": "the US",
    "uk": "the UK",
    "eu": "the EU",
    "za": "South Africa",
    "au": "Australia",
    "ca": "Canada",
}
