"""One question of a walk as a page for a phone: plain forms, big targets, nothing chosen beforehand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import Struct

from rigcheck.asking.state import Walk
from rigcheck.asking.walk import Page
from rigcheck.judge.finding import Finding
from rigcheck.report.html.page import page
from rigcheck.report.text.page_text import choices_of, left_words, told_together
from rigcheck.rig.put_down import may_be_absent
from rigcheck.rig.spelling import what_to_write
from rigcheck.rig.thing import Thing
from rigcheck.rules.rule import Rule

__all__ = ["CANNOT_TELL", "Blank", "Question", "asked_page", "questions_of"]

CANNOT_TELL = "?"
"""What a form sends for "I cannot tell"; no fact has it among its words."""


class Blank(Struct, frozen=True):
    """What is answered for one thing, or (without a path) for all things of a question at once.

    `may_be_absent`: "it is not there" is a reason that can be meant.
    """

    name: str
    path: str
    thing: str
    may_be_absent: bool = False


class Question(Struct, frozen=True):
    """One fact, or one list (`fact` is empty), of one or more things; `together`: to answer for all of them at once."""

    fact: str
    ask: str
    words: tuple[tuple[str, str], ...]
    several: bool
    write: str
    blanks: tuple[Blank, ...]
    together: Blank | None = None
    close: str = ""


def questions_of(asked: Page) -> tuple[Question, ...]:
    """Return what is asked on a page, in its order."""
    if asked.listed is None:
        return tuple(_facts(asked))
    ticks = [
        (str(number), tick.shows)
        for number, tick in enumerate(asked.listed.ticks)
        if set(tick.tells) & set(asked.facts)
    ]
    blanks = _blanks(0, asked.things)
    words = (*ticks, ("none", asked.listed.none))
    return (Question("", "Which of these do you see?", words, True, "", blanks, _together(0, blanks)),)


def _facts(asked: Page) -> Iterator[Question]:
    if asked.look.act == "read":  # a marking is in the hand: all of it, then the next one
        rounds = [(name, [thing]) for thing in asked.things for name in asked.facts]
    else:
        rounds = [(name, things) for name in asked.facts for things in _alike(asked, name)]
    opened = [(name, [one for one in things if (one.path, name) in asked.open]) for name, things in rounds]
    for number, (name, things) in enumerate((name, things) for name, things in opened if things):
        one, fact = asked.open[things[0].path, name], things[0].kind.facts[name]
        words, blanks = tuple(choices_of(fact)), _blanks(number, things)
        yield Question(
            fact=name,
            ask=one.ask if one.name == name else fact.entry.ask,
            words=words,
            several=fact.measure == "several_words",
            write="" if words else what_to_write(fact),
            blanks=blanks,
            together=_together(number, blanks),
            close=one.too_close if len(things) == 1 else "",
        )


def _alike(asked: Page, name: str) -> Iterator[list[Thing]]:
    """Yield the things of a page that have a fact, those together of which it is asked with the same words."""
    found: dict[object, list[Thing]] = {}
    for thing in asked.things:
        if name in thing.kind.facts:
            fact = thing.kind.facts[name]
            found.setdefault((tuple(choices_of(fact)), what_to_write(fact)), []).append(thing)
    yield from found.values()


def _blanks(number: int, things: tuple[Thing, ...] | list[Thing]) -> tuple[Blank, ...]:
    told = enumerate(things)
    return tuple(Blank(f"q{number}t{at}", thing.path, thing.label, may_be_absent(thing)) for at, thing in told)


def _together(number: int, blanks: tuple[Blank, ...]) -> Blank | None:
    return Blank(f"q{number}", "", f"All {len(blanks)} of them") if len(blanks) > 1 else None


def asked_page(
    asked: Page,
    walk: Walk,
    rules: Mapping[str, Rule],
    reasons: Mapping[str, str],
    absent: str,
    *,
    frame: Mapping[str, object],
    title: str,
    name: str,
    found: tuple[Finding, ...] = (),
    more: str = "",
    differing: tuple[str, ...] = (),
    typed: Mapping[str, list[str]] | None = None,
    wrong: Mapping[str, str] | None = None,
    given: Mapping[str, str] | None = None,
    meanwhile: bool = False,
    drawing: object = "",
    photos: tuple[str, ...] = (),
) -> str:
    """Return the page of one question.

    `frame`: what stands round every page; `more`: what is asked after a find;
    `differing`: what was answered otherwise when it was asked once more;
    `typed` and `wrong`: what was sent and what is wrong with it, by field;
    `given`: what was answered before, by thing and question; `meanwhile`: it was answered since the page was shown.
    """
    first = rules.get(asked.waiting[0].rule)
    return page(
        "asked.html",
        frame=frame,
        asked=asked,
        title=title,
        name=name,
        left=left_words(walk),
        harm=first.harm if first else "",
        questions=questions_of(asked),
        cannot_tell=CANNOT_TELL,
        reasons=reasons,
        absent=absent,
        found=told_together(found),
        more=more,
        differing=differing,
        typed=typed or {},
        wrong=wrong or {},
        given=given or {},
        meanwhile=meanwhile,
        drawing=drawing,
        photos=photos,
        why=[(one.signal, one.claim) for one in asked.waiting],
        means=list(_meanings(asked)),
    )


def _meanings(asked: Page) -> Iterator[tuple[str, str]]:
    for name in asked.facts:
        fact = next(thing.kind.facts[name] for thing in asked.things if name in thing.kind.facts)
        yield fact.label, fact.entry.means
