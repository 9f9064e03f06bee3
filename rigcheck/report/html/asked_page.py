"""One question of a walk as a page for a phone: plain forms, big targets, nothing chosen beforehand, no script."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct

from rigcheck.asking.state import Walk
from rigcheck.asking.walk import Page
from rigcheck.judge.finding import Finding
from rigcheck.report.html.page import page, style_of
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.page_text import choices_of, left_words
from rigcheck.report.text.word_list import what_to_write
from rigcheck.rules.looks import Looks
from rigcheck.rules.rule import Rule

__all__ = ["Blank", "asked_page", "asked_style", "blanks_of", "walked_page"]


class Blank(Struct, frozen=True):
    """One thing that is answered on a page: a fact of a thing, or for a list all its facts of one thing."""

    name: str
    path: str
    thing: str
    fact: str
    ask: str
    words: tuple[tuple[str, str], ...]
    several: bool
    write: str
    close: str = ""


def blanks_of(asked: Page) -> tuple[Blank, ...]:
    """Return what is answered on a page, in its order."""
    if asked.listed is not None:
        ticks = [
            (str(number), tick.shows)
            for number, tick in enumerate(asked.listed.ticks)
            if set(tick.tells) & set(asked.facts)
        ]
        words = (*ticks, ("none", asked.listed.none))
        ask = "Which of these do you see?"
        return tuple(
            Blank(f"f{at}", thing.path, thing.label, "", ask, words, several=True, write="")
            for at, thing in enumerate(asked.things)
        )
    return tuple(_facts(asked))


def _facts(asked: Page) -> Iterable[Blank]:
    number = 0
    for name in asked.facts:
        for thing in asked.things:
            one = asked.open.get((thing.path, name))
            if one is None:
                continue
            fact = thing.kind.facts[name]
            words = tuple(choices_of(fact))
            yield Blank(
                name=f"f{number}",
                path=thing.path,
                thing=thing.label,
                fact=name,
                ask=one.ask if one.name == name else fact.entry.ask,
                words=words,
                several=fact.measure == "several_words",
                write="" if words else what_to_write(fact),
                close=one.too_close,
            )
            number += 1


def asked_style() -> str:
    """Return the style of the pages."""
    return str(style_of("base", "asked"))


def asked_page(
    asked: Page,
    walk: Walk,
    rules: Mapping[str, Rule],
    reasons: Mapping[str, str],
    *,
    rig: str,
    title: str,
    token: str,
    found: tuple[Finding, ...] = (),
    typed: Mapping[str, list[str]] | None = None,
    wrong: Mapping[str, str] | None = None,
    back: bool = False,
) -> str:
    """Return the page of one question; `typed` and `wrong`: what was sent and what is wrong with it, by blank."""
    first = rules.get(asked.waiting[0].rule)
    return page(
        "asked.html",
        asked=asked,
        rig=rig,
        title=title,
        token=token,
        left=left_words(walk.left),
        harm=first.harm if first else "",
        blanks=blanks_of(asked),
        reasons=reasons,
        found=found,
        typed=typed or {},
        wrong=wrong or {},
        back=back,
        why=[(one.signal, one.claim) for one in asked.waiting],
    )


def walked_page(walk: Walk, looks: Looks, *, rig: str, state: str, look: str) -> str:
    """Return the page at the end of a walk."""
    not_told = []
    for one in walk.not_told:
        known = looks.answering(one.thing.kind.lineage, one.name)
        not_told.append((one.thing.label, one.ask, known[0].who if known else ""))
    return page(
        "walked.html",
        rig=rig,
        state=state,
        look=look,
        left=left_words(walk.left),
        findings=walk.findings,
        not_told=not_told,
        caution=CAUTION,
    )
