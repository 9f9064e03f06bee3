"""What a page is called outside the program: enough to find it again later, and to see that nothing came between.

A form that lay open over a restart, or waited without a connection, still says which question it answers. It also
says how often each of its facts had been answered when it was shown: so of two answers to one question the second is
seen, and an answer that is sent twice is written once.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from weakref import WeakKeyDictionary

from msgspec import Struct

from rigcheck.asking.answers import Answer, Told
from rigcheck.asking.open_facts import OpenFact, OpenRig
from rigcheck.asking.state import Walk
from rigcheck.asking.walk import Page, Stop, in_flow, walk_of
from rigcheck.judge.finding import Waiting
from rigcheck.judge.judged import Judged
from rigcheck.rig.fact import UNKNOWN_WORDS
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.looks import Look, Looks
from rigcheck.rules.rule import Rule
from rigcheck.text.place import Place

__all__ = ["PageName", "UnknownPage", "answered_stops", "is_said_already", "name_of", "page_named", "read_page_name"]

_Key = tuple[str, str]
_MOST = 400  # facts on one page
_UNKNOWN = UNKNOWN_WORDS[:1]  # how an answer is taken back
_RIG_FACTS = frozenset({"inspected", "inspected_by"})  # the head of a look says them, nobody was asked


class UnknownPage(ValueError):
    """A name that names no page of this rig."""


class PageName(Struct, frozen=True):
    """A page by its look and, for each open fact, how often it had been answered, or put down that it cannot be.

    `shape`: of the things of the rig as it was described then.
    """

    look: str
    again: bool
    shape: str
    asked: tuple[tuple[str, str, int], ...]

    def written(self) -> str:
        """Return the name on one line."""
        return json.dumps([self.look, self.again, self.shape, self.asked], ensure_ascii=True, separators=(",", ":"))


def name_of(page: Page, told: Told, rig: Rig) -> PageName:
    """Return what a page is called by what a look tells so far."""
    asked = tuple((path, name, _times((path, name), told)) for path, name in page.open)
    return PageName(page.look.name, page.again, _shape(rig), asked)


def _times(key: _Key, told: Told) -> int:
    return told.times.get(key, 0) + told.times_not_told.get(key, 0)


def _shape(rig: Rig) -> str:
    listed = "\n".join(f"{thing.path} {thing.kind.name} {thing.tag}" for thing in rig.things)
    return hashlib.sha256(listed.encode()).hexdigest()[:12]


def read_page_name(text: str) -> PageName:
    """Return the name that a text is. Raises `UnknownPage`."""
    try:
        look, again, shape, asked = json.loads(text)
        rows = tuple((path, name, times) for path, name, times in asked)
    except (ValueError, TypeError, RecursionError):
        raise UnknownPage(text[:80]) from None
    kinds = [isinstance(look, str), isinstance(again, bool), isinstance(shape, str), 0 < len(rows) <= _MOST]
    kinds += [isinstance(one[0], str) and isinstance(one[1], str) and isinstance(one[2], int) for one in rows]
    if not all(kinds):
        raise UnknownPage(text[:80])
    return PageName(look, again, shape, rows)


def page_named(name: PageName, judged: Judged, looks: Looks, walk: Walk) -> Page:
    """Return the page that a name means, asked or answered. Raises `UnknownPage` where this rig has none such."""
    if name.shape != _shape(judged.rig):
        raise UnknownPage("the rig is described otherwise now")
    things = {thing.path: thing for thing in judged.rig.things}
    keys = [(path, fact) for path, fact, _ in name.asked]
    look = looks.looks.get(name.look)
    if look is None or not all(path in things and _answers(look, looks, things[path], fact) for path, fact in keys):
        raise UnknownPage(name.look)
    facts = {fact for _, fact in keys}
    group = next((one for one in look.groups if facts <= set(one[0])), None)
    if group is None:
        raise UnknownPage(name.look)
    known = {key: one for stop in walk.stops for page in stop.pages for key, one in page.open.items()}
    rules = _rules_by_fact(judged)
    found = {key: known.get(key) or _closed_fact(things[key[0]], key[1], rules) for key in keys}
    asked = in_flow(things[path] for path in {path for path, _ in keys})
    order = tuple(fact for fact in group[0] if fact in facts)
    return Page(look, look.station, asked, order, found, group[2], again=name.again)


def _answers(look: Look, looks: Looks, thing: Thing, fact: str) -> bool:
    return fact in thing.kind.facts and look in looks.answering(thing.kind.lineage, fact)


def _closed_fact(thing: Thing, name: str, rules: Mapping[tuple[str, str], list[Rule]]) -> OpenFact:
    fact = thing.kind.facts[name]
    waiting = tuple(Waiting(one.name, one.signal, one.claim, one.place) for one in rules.get((thing.path, name), ()))
    waiting = waiting or (Waiting("", "notice", fact.entry.means, Place("", 0, 0)),)
    return OpenFact(thing, name, fact.entry.ask, "", waiting)


def _rules_by_fact(judged: Judged) -> Mapping[_Key, list[Rule]]:
    """Return the rules that look at each fact; kept while the judged rig is, since every form asks for them."""
    kept = _RULES.get(judged)
    if kept is None:
        kept = _RULES[judged] = _found_rules(judged)
    return kept


_RULES: WeakKeyDictionary[Judged, Mapping[_Key, list[Rule]]] = WeakKeyDictionary()


def _found_rules(judged: Judged) -> Mapping[_Key, list[Rule]]:
    found: dict[tuple[str, str], list[Rule]] = {}
    for thing, rule, verdict, _ in judged.judgements():
        if verdict != "not concerned":
            for name in rule.facts:
                found.setdefault((thing.path, name), []).append(rule)
    return found


def answered_stops(judged: Judged, looks: Looks, told: Told) -> tuple[Stop, ...]:
    """Return what a look has answered already, as pages in the order of the walk."""
    things = {thing.path: thing for thing in judged.rig.things}
    rules = _rules_by_fact(judged)
    found = {
        (path, name): _closed_fact(things[path], name, rules)
        for path, name in told.closed
        if path in things and name in things[path].kind.facts and name not in _RIG_FACTS and name != "kind"
    }
    ordered = {key: found[key] for key in sorted(found, key=lambda key: (list(things).index(key[0]), key[1]))}
    return walk_of(OpenRig(ordered, {}, ()), looks)


def is_said_already(
    name: PageName, answer: Answer, told: Told, last: Mapping[_Key, Iterable[str | tuple[str, ...]]]
) -> bool | None:
    """Whether an answer stands there already; None where nothing came between, so that it is to be written.

    `last`: what the look says of each fact, oldest first. False: something else was answered meanwhile.
    """
    if all(_times((path, fact), told) == times for path, fact, times in name.asked):
        return None
    latest = {key: [*said][-1:] for key, said in last.items()}
    same = [latest.get(key) == [value] for key, value in answer.values.items()]
    same += [
        told.cannot_tell.get(key) == because and latest.get(key, [*_UNKNOWN]) == [*_UNKNOWN]  # nor told since
        for key, because in answer.cannot_tell.items()
    ]
    return all(same)
