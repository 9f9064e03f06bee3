"""The overview of a rig that is being looked at, and its end; and what was answered so far, with a way to change it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct

from rigcheck.asking.answers import Told
from rigcheck.asking.state import Walk
from rigcheck.asking.walk import Page, Stop
from rigcheck.judge.finding import State
from rigcheck.quantity.wording import counted
from rigcheck.report.html.first_page import STATE_WORDS
from rigcheck.report.html.page import page
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.page_text import AFTER_WORK, gone_words, left_words, not_known, told_together, who_knows
from rigcheck.rules.looks import Looks

__all__ = ["GivenPage", "given_rows", "overview_page", "station_key"]

_PART = re.compile(r", \d+ of \d+$")
_Key = tuple[str, str]


class _StationRow(Struct, frozen=True):
    key: str
    title: str
    told: str


class GivenPage(Struct, frozen=True):
    """What one page was answered with: rows of thing with question and what was said of it, and its name."""

    look: str
    rows: tuple[tuple[str, str], ...]
    name: str


def station_key(stop: Stop) -> str:
    """Return what a station is called, whichever part of it is meant."""
    return _PART.sub("", stop.title)


def overview_page(
    walk: Walk,
    answered: Iterable[Stop],
    told: Told,
    looks: Looks,
    state: State,
    *,
    frame: Mapping[str, object],
    drawing: object,
    ended: bool,
    look: str = "",
    differing: tuple[str, ...] = (),
    photos: int = 0,
    album: str = "",
) -> str:
    """Return the page; `look`: the file that answers stand in, `photos`: how many are kept in the folder `album`."""
    return page(
        "overview.html",
        frame=frame,
        state=state,
        words=STATE_WORDS[state],
        left=left_words(walk),
        found=told_together(walk.findings),
        stations=list(_stations(walk, answered, told)),
        not_told={who_knows(who): rows for who, rows in not_known(walk, looks).items()},
        gone=[gone_words(one) for one in walk.gone],
        drawing=drawing,
        ended=ended,
        begun=bool(told.closed),
        look=look,
        differing=differing,
        photos=photos,
        album=album,
        after_work=AFTER_WORK if walk.after_work else "",
        caution=CAUTION,
    )


def _stations(walk: Walk, answered: Iterable[Stop], told: Told) -> Iterator[_StationRow]:
    left: dict[str, list[Page]] = {}
    for stop in walk.stops:
        left.setdefault(station_key(stop), []).extend(stop.pages)
    done: dict[str, set[_Key]] = {}
    for stop in answered:
        done.setdefault(station_key(stop), set()).update(key for one in stop.pages for key in one.open)
    for key in dict.fromkeys([*left, *done]):
        yield _StationRow(key, key, _station_words(left.get(key, []), done.get(key, set()), told))


def _station_words(left: list[Page], done: set[_Key], told: Told) -> str:
    not_told = sum(key in told.cannot_tell for key in done)
    danger = sum(one.signal == "danger" for one in left)
    words = [f"{len(done) - not_told} answered"] if done else []
    words += [f"{not_told} cannot tell"] if not_told else []
    words += [f"{counted(len(left), 'question')} left"] if left else ["nothing left"]
    words += [f"{danger} of them DANGER"] if danger else []
    return ", ".join(words)


def given_rows(
    one: Page, told: Told, given: Mapping[_Key, list[str | tuple[str, ...]]], reasons: Mapping[str, str]
) -> Iterator[tuple[str, str]]:
    """Yield what was said of each fact of a page, with what stood there before it was corrected."""
    for path, name in one.open:
        thing = next(thing for thing in one.things if thing.path == path)
        said = [value if isinstance(value, str) else ", ".join(value) for value in given.get((path, name), ())]
        if (path, name) in told.cannot_tell:
            sentence = told.cannot_tell[path, name]
            said.append(f"cannot tell ({reasons.get(sentence, sentence)})")
        before = f" (before that: {'; '.join(said[:-1])})" if len(said) > 1 else ""
        yield f"{thing.label}, {thing.kind.facts[name].label}", f"{said[-1]}{before}" if said else "not answered"
