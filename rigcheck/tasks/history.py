"""What was seen of a rig when, and which findings came, went and came back with it.

Pure: no clock, no disk. The rig is given as it stood on each day on which somebody looked at it or worked with it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal, NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from rigcheck.condition.wording import fact_words, value_words
from rigcheck.judge.finding import ThingRef, ref_of
from rigcheck.judge.inspection import Inspector
from rigcheck.judge.judged import Verdict, judge
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.overlay import Laid
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import GRAVITY, Rule
from rigcheck.text.place import Place

__all__ = ["DayOfRig", "Event", "History", "How", "Sight", "history_of", "sight_days"]

How = Literal["found", "came back", "put right", "gone", "no longer shown"]
"""`put right`: the rule holds now; `gone`: there is nothing that it would look at; `no longer shown`: it waits."""


class Sight(NamedTuple):
    """One thing that somebody saw."""

    file: str
    by: str
    thing: str
    fact: str
    value: str
    place: Place


class Event(NamedTuple):
    """A finding that came or went on one thing; `since`: the day on which it was first found, as a day number."""

    how: How
    rule: Rule
    at: ThingRef
    since: int


class DayOfRig(Struct, frozen=True):
    """One day: what was seen on it, what that changed, and how many findings stood at its end."""

    day: int
    sights: tuple[Sight, ...]
    events: tuple[Event, ...]
    standing: int


class History(Struct, frozen=True):
    """The days of one rig in order; `again` are the findings that came back, each as often as it did."""

    rig: str
    file: str
    days: tuple[DayOfRig, ...]
    laid: tuple[Laid, ...] = ()

    @property
    def again(self) -> tuple[Event, ...]:
        """Every coming back."""
        return tuple(event for day in self.days for event in day.events if event.how == "came back")


_Key = tuple[str, str]  # of a finding: its rule, and the tag of its thing, or where it stands


def sight_days(rig: Rig) -> list[int]:
    """Return the days on which something of a rig was seen, by its looks, records and own marks, in order."""
    days = {one.day for thing in rig.things for said in thing.said.values() for one in said if one.basis == "seen"}
    return sorted({day for day in days if day is not None} | {one.seen.day for one in rig.things if one.seen})


def history_of(rigs: Iterable[tuple[int, Rig]], pack: Pack, *, local_code: str = "") -> History:
    """Return the history of a rig; `rigs`: a day number, and the rig with all that was seen of it until then."""
    days: list[DayOfRig] = []
    first: dict[_Key, int] = {}
    before: Mapping[_Key, tuple[Rule, ThingRef]] = {}
    name = file = ""
    for day, rig in rigs:
        name, file = rig.title, rig.file
        verdicts = _verdicts(rig, pack, day, local_code)
        now = {key: (rule, at) for key, (verdict, rule, at) in verdicts.items() if verdict == "broken"}
        events = [*_came(now, before, first, day), *_went(now, before, first, verdicts)]
        events.sort(key=lambda event: (-GRAVITY[event.rule.signal], event.rule.name, event.at.path))
        days.append(DayOfRig(day, tuple(_sights(rig, day)), tuple(events), len(now)))
        before = now
    return History(name, file, tuple(days), pack.laid)


def _verdicts(rig: Rig, pack: Pack, day: int, local_code: str) -> Mapping[_Key, tuple[Verdict, Rule, ThingRef]]:
    judged = judge(rig, pack, day=day, local_code=local_code)
    found: dict[_Key, tuple[Verdict, Rule, ThingRef]] = {}
    for thing, rule, verdict, _ in judged.judgements():
        if verdict != "not concerned":
            at = ref_of(thing)
            found[rule.name, at.tag or at.path] = verdict, rule, at
    for one in Inspector(judged).found():  # that statements do not agree is no verdict on a thing of the rig
        if (one.rule, one.at.tag or one.at.path) not in found:
            found[one.rule, f"{one.at.path} {one.place}"] = (
                "broken",
                replace(pack.rules[one.rule], signal=one.signal),
                one.at,
            )
    return found


def _came(
    now: Mapping[_Key, tuple[Rule, ThingRef]],
    before: Mapping[_Key, tuple[Rule, ThingRef]],
    first: dict[_Key, int],
    day: int,
) -> Iterator[Event]:
    for key in now.keys() - before.keys():
        how: How = "came back" if key in first else "found"
        yield Event(how, *now[key], first.setdefault(key, day))


def _went(
    now: Mapping[_Key, tuple[Rule, ThingRef]],
    before: Mapping[_Key, tuple[Rule, ThingRef]],
    first: Mapping[_Key, int],
    verdicts: Mapping[_Key, tuple[Verdict, Rule, ThingRef]],
) -> Iterator[Event]:
    for key in before.keys() - now.keys():
        verdict = verdicts[key][0] if key in verdicts else None
        how: How = "put right" if verdict == "holds" else "gone" if verdict is None else "no longer shown"
        yield Event(how, *before[key], first[key])


def _sights(rig: Rig, day: int) -> Iterator[Sight]:
    for thing in rig.things:
        for name, said in thing.said.items():
            for one in said:
                if one.basis == "seen" and one.day == day:
                    yield Sight(
                        one.place.file, one.by, thing.label, fact_words(name), value_words(one.value), one.place
                    )
        yield from _marked(rig, thing, day)


def _marked(rig: Rig, thing: Thing, day: int) -> Iterator[Sight]:
    """Yield what the description itself says that somebody saw: told once where it is marked."""
    if thing.seen is not None and thing.seen.day == day:
        place = thing.seen.place
        yield Sight(place.file or rig.file, thing.seen.by, thing.label, "", "as described", place)
