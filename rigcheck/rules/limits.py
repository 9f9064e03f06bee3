"""Limits: numbers that rules need, by local code and day, each with unit and source."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from msgspec import Struct
from msgspec.structs import replace

from rigcheck.quantity.interval import Interval
from rigcheck.quantity.notation import NotRead, read_day, read_quantity
from rigcheck.quantity.units import find_unit
from rigcheck.rules.documents import Differing, Source, sources_under
from rigcheck.rules.local_codes import LOCAL_CODES, LocalCode

__all__ = [
    "LOCAL_CODES",
    "DatedLimit",
    "LimitDefinition",
    "LocalCode",
    "first_day",
    "in_force",
    "limit_value",
    "looser",
    "told_under",
]


class LimitDefinition(Struct, frozen=True):
    """What a limit is, whatever its value: said once, in `general`."""

    name: str
    means: str
    cautious: str
    dimension: str


class DatedLimit(Struct, frozen=True, eq=False, omit_defaults=True):
    """A value of a limit under a local code, from a day on; `value` is None once withdrawn.

    `differs` are texts that have another number. Two are the same whatever their texts: those are told otherwise
    under another code.
    """

    name: str
    local_code: str
    since: int
    value: Interval | None
    sources: tuple[Source, ...]
    because: str = ""
    since_from_memory: bool = False
    differs: tuple[Differing, ...] = ()
    layer: int = 0  # which folder it comes from; a later one wins whatever its day

    def __eq__(self, other: object) -> bool:
        return isinstance(other, DatedLimit) and self._what_counts() == other._what_counts()

    def __hash__(self) -> int:
        return hash(self._what_counts())

    def _what_counts(self) -> tuple[object, ...]:
        since = self.since, self.since_from_memory
        return self.name, self.local_code, since, self.value, self.because, self.layer


_NONE_DEFINED: Mapping[str, LimitDefinition] = {}


def limit_value(text: str) -> Interval | None:
    """Return the value that a limit states; its unit tells the dimension. Raises `NotRead`."""
    if text.strip() == "none":
        return None
    unit = _NUMBERS.sub("", text.strip())
    known = find_unit(unit)
    value = read_quantity(text, known.dimension if known else "count") if known or not unit else _pressure(text)
    if value.lo != value.hi:
        raise NotRead(f"{text!r} is a range.", "Write one value.")
    return value


_NUMBERS = re.compile(r"^[-+−\d\s./,]+(?:(?:to|±|–)[-+−\d\s./,]+)?")


def _pressure(text: str) -> Interval:
    """Return a value whose unit stands in no table by itself: 'bar abs', 'psig'."""
    try:
        return read_quantity(text, "pressure")
    except NotRead:
        raise NotRead(f"{text!r} has no unit that is known here.", "Write a number and its unit, as '15 m'.") from None


def first_day(text: str) -> int:
    """Return the first day of what was written, as a day number. Raises `NotRead`."""
    return int(read_day(text).lo)


def looser(limit: DatedLimit, before: DatedLimit, cautious: str) -> bool:
    """Return whether a limit asks less than another; `cautious` is the way of the stricter one, low or high."""
    if limit.value is None or before.value is None:
        return limit.value is None and before.value is not None
    low = cautious == "low"
    return limit.value.hi > before.value.hi if low else limit.value.lo < before.value.lo


def in_force(
    limits: Iterable[DatedLimit], local_code: str, day: int, definitions: Mapping[str, LimitDefinition] = _NONE_DEFINED
) -> Mapping[str, DatedLimit]:
    """Return the limits of a local code on a day; `general` stands where the code is silent.

    A limit that the code withdrew is not replaced by the general one: it is absent.
    A general limit of a folder that was laid on top binds under every code that asks less.
    """
    chosen: dict[tuple[str, str], DatedLimit] = {}
    for limit in limits:
        if limit.local_code in ("general", local_code) and limit.since <= day:
            key = (limit.name, limit.local_code)
            kept = chosen.get(key)
            if kept is None or (kept.layer, kept.since) <= (limit.layer, limit.since):
                chosen[key] = limit
    general = {name: limit for (name, code), limit in chosen.items() if code == "general"}
    own = {name: limit for (name, code), limit in chosen.items() if code == local_code}
    return general | {name: _binding(limit, general.get(name), definitions.get(name)) for name, limit in own.items()}


def told_under(limits: Mapping[str, DatedLimit], local_code: str) -> Mapping[str, DatedLimit]:
    """Return limits with their sources as they are told under a local code."""
    return {name: replace(one, sources=sources_under(one.sources, local_code)) for name, one in limits.items()}


def _binding(own: DatedLimit, general: DatedLimit | None, defined: LimitDefinition | None) -> DatedLimit:
    if general is None or defined is None or general.layer <= own.layer:
        return own
    return general if looser(own, general, defined.cautious) else own
