"""A page of a walk as text: what to do, what is asked, why, and what was found. For forty columns and more."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping

from rigcheck.asking.state import Walk
from rigcheck.asking.walk import Page
from rigcheck.judge.finding import Finding
from rigcheck.quantity.wording import counted
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.rig.fact import Fact
from rigcheck.rig.spelling import what_to_write
from rigcheck.rig.thing import Thing
from rigcheck.rules.looks import Looks
from rigcheck.rules.rule import SIGNALS, Rule, Signal

__all__ = [
    "AFTER_WORK",
    "choices_of",
    "end_lines",
    "fact_lines",
    "find_lines",
    "gone_words",
    "left_words",
    "not_known",
    "page_lines",
    "stop_lines",
    "told_together",
    "what_else",
    "who_knows",
    "why_lines",
]

_NARROW = 6
AFTER_WORK = "Before gas is let on nothing more is asked. How the rig was used is asked when the work is over."


def stop_lines(title: str, count: int, width: int) -> Iterator[Line]:
    """Yield the head of a station, and how many questions wait there now."""
    yield Line()
    yield from wrapped(f"== {title}: {counted(count, 'question')} ==", width, style="head")


def page_lines(page: Page, width: int, walk: Walk, rules: Mapping[str, Rule]) -> Iterator[Line]:
    """Yield what is said before the questions of a page: signal word and harm before the answer, then what to do."""
    yield Line()
    told = f"{_counted(walk.left)} not shown" if walk.left else left_words(walk)  # at each question the shortest
    yield from labelled(page.signal.upper(), told, width, column=9, label_style=page.signal, style="quiet")
    gravest = rules.get(page.waiting[0].rule)
    if gravest is not None:
        yield from labelled("harm", gravest.harm, width, column=9, label_style="quiet")
    yield from wrapped(page.look.look, width, style="head")
    yield from wrapped(page.look.do, width)
    if page.again:
        yield from wrapped("It was seen before. Look once more: it may have changed since.", width, style="stress")


def left_words(walk: Walk) -> str:
    """Return how many checks of the gravest word nobody has shown yet, and how many come with the work."""
    left, later = _counted(walk.left), _counted(walk.later)
    with_the_work = [f"{later} can be shown after the work alone"] if later else []
    if left:
        return "; ".join([f"{left} not shown", *with_the_work])
    return "; ".join([*with_the_work, f"every {'other one' if later else 'check'} is shown"])


def _counted(left: Mapping[Signal, int]) -> str:
    return next((f"{counted(left[one], 'check')} of {one.upper()}" for one in SIGNALS if left.get(one)), "")


def fact_lines(thing: Thing, fact: Fact, ask: str, width: int, close: str = "") -> Iterator[Line]:
    """Yield one question about one thing, with the words to choose from."""
    yield Line()
    yield from wrapped(thing.label, width, style="place")
    yield from wrapped(ask, width, style="head")
    if close:
        yield from wrapped(f"Known so far, and too close to call: {close}", width, style="quiet")
    choices = choices_of(fact)
    if fact.measure == "several_words":
        yield from wrapped("Write all that are there, as 1, 3", width, style="quiet")
    for number, (word, means) in enumerate(choices, start=1):
        shown = f"{word}: {means}" if means else word
        yield from labelled(f"{number:>3}", shown, width, column=_NARROW)
    if not choices:
        yield from labelled("write", what_to_write(fact), width, column=_NARROW, label_style="quiet")


def choices_of(fact: Fact) -> list[tuple[str, str]]:
    """Return the words to choose from, each with what it means; nothing where a value is written."""
    if fact.measure == "yes_no":
        return [("yes", ""), ("no", "")] + ([("none", "")] if fact.entry.may_be_none else [])
    choices = [(word, means) for word, means in fact.words.items()]
    return choices + ([("none", "")] if choices and fact.entry.may_be_none and "none" not in fact.words else [])


def why_lines(page: Page, rules: Mapping[str, Rule], width: int) -> Iterator[Line]:
    """Yield why a page is asked: each rule that waits for it, and the harm that it keeps away."""
    for waits in page.waiting[:4]:
        yield from labelled(waits.signal.upper(), waits.claim, width, column=9, label_style=waits.signal)
        if waits.rule in rules:
            yield from labelled("", rules[waits.rule].harm, width, column=9)
    if len(page.waiting) > 4:
        yield from wrapped(f"and {counted(len(page.waiting) - 4, 'more rule')}", width, style="quiet")
    for name in page.facts:
        fact = next(thing.kind.facts[name] for thing in page.things if name in thing.kind.facts)
        yield from labelled("means", f"{fact.label}: {fact.entry.means}", width, column=9, label_style="quiet")


def told_together(findings: Iterable[Finding]) -> list[tuple[str, Finding]]:
    """Return findings with what each was found at: what reads the same of several things is told once."""
    found: dict[tuple[str, ...], tuple[list[str], Finding]] = {}
    for one in findings:
        leave = one.conceded.words if one.conceded else ""
        told = one.rule, one.signal, one.told, one.put_right, one.harm, leave
        found.setdefault(told, ([], one))[0].append(one.at.label)
    return [("; ".join(dict.fromkeys(things)), one) for things, one in found.values()]


def find_lines(findings: Iterable[Finding], width: int) -> Iterator[Line]:
    """Yield what was just found, what it does, and what to do first."""
    for things, one in told_together(findings):
        yield Line()
        yield from labelled(one.signal.upper(), things, width, column=9, label_style=one.signal)
        yield from labelled("found", one.told, width, column=9, label_style="quiet")
        yield from labelled("harm", one.harm, width, column=9, label_style="quiet")
        yield from labelled("do", one.put_right, width, column=9, label_style="stress")


def what_else(page: Page | None, things: Container[str]) -> str:
    """Return what is asked after a find, where the next page is about one of these things (by path), or nothing."""
    here = [one.label for one in page.things if one.path in things] if page is not None else []
    return f"What else is wrong here ({'; '.join(dict.fromkeys(here))})?" if here else ""


def gone_words(thing: Thing) -> str:
    """Return what to write of a thing that is not there; that alone shows nothing of the rig."""
    return f"{thing.label}: nothing of it is known. If none belongs there, write '{thing.kind.key}: none' in the rig."


def not_known(walk: Walk, looks: Looks) -> Mapping[str, list[str]]:
    """Return what was put down as not known, by who could know it (nobody but who looks again, where that is empty).

    It is in the order of the walk, and one row for all things of which the same is asked.
    """
    stations = list(looks.stations)
    found: dict[tuple[int, str, str], list[str]] = {}
    for one in walk.not_told:
        look = next(iter(looks.answering(one.thing.kind.lineage, one.name)), None)
        at = (stations.index(look.station), look.who) if look is not None else (len(stations), "")
        found.setdefault((*at, one.ask), []).append(one.thing.label)
    rows: dict[str, list[str]] = {}
    for (_, who, ask), things in sorted(found.items(), key=lambda row: row[0][0]):
        rows.setdefault(who, []).append(f"{'; '.join(things)}: {ask}")
    return rows


def who_knows(who: str) -> str:
    """Return the head of what somebody could know."""
    return f"Who could know: {who}" if who else "To be looked at again"


def end_lines(walk: Walk, looks: Looks, state: str, look: str, width: int) -> Iterator[Line]:
    """Yield the end of a walk: what was found, what nobody could tell and who could, and what nobody has shown."""
    yield Line()
    yield from wrapped("== End of this walk ==", width, style="head")
    yield from find_lines(walk.findings, width)
    if walk.not_told:
        yield Line()
        yield from wrapped("Put down as not known", width, style="head")
    for who, rows in not_known(walk, looks).items():
        yield from wrapped(who_knows(who), width)
        for row in rows:
            yield from labelled("  -", row, width, column=4)
    if walk.gone:
        yield Line()
        yield from wrapped("Said not to be there", width, style="head")
    for thing in walk.gone:
        yield from labelled("  -", gone_words(thing), width, column=4)
    if walk.after_work:
        yield Line()
        yield from wrapped(AFTER_WORK, width, style="stress")
    yield Line()
    yield from wrapped(f"State: {state}; {left_words(walk)}.", width, style="head")
    yield from wrapped(f"Written in {look}.", width)
    yield from wrapped(CAUTION, width, style="quiet")
