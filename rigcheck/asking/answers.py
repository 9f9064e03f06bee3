"""What an answer writes: lines of a look, appended to what stands there already.

A look that is being made is one file: a head, what nobody could tell, and last what was seen, so that a line can be
added to either list and no line is ever changed. A correction is a new line below the old one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from msgspec import Struct, field
from msgspec.structs import replace

from rigcheck.asking.look_statements import look_statements
from rigcheck.asking.walk import Page
from rigcheck.quantity.notation import NotRead
from rigcheck.rig.fact import UNKNOWN_WORDS, Fact
from rigcheck.rig.look_file import LookFile
from rigcheck.rig.thing import Rig
from rigcheck.rig.thing_names import NamedThings
from rigcheck.text.scalar_text import scalar_text

__all__ = ["Answer", "Told", "begun_look", "checked", "dated", "none_of_these", "ticked", "told_in", "with_answer"]

_Key = tuple[str, str]
_Stated = str | tuple[str, ...]
_SEEN, _NOT_TOLD = "seen:\n", "cannot_tell:\n"


class Answer(Struct, frozen=True):
    """Values as they were written, by path of the thing and fact, and facts that nobody could tell, with why."""

    values: Mapping[_Key, str | tuple[str, ...]] = field(default_factory=dict)
    cannot_tell: Mapping[_Key, str] = field(default_factory=dict)


class Told(Struct, frozen=True):
    """What a look says already: how often each fact was answered, and what nobody could tell, with why.

    `times_not_told`: how often it was put down of each fact that it could not be told.
    """

    times: Mapping[_Key, int]
    cannot_tell: Mapping[_Key, str]
    times_not_told: Mapping[_Key, int] = field(default_factory=dict)

    @property
    def closed(self) -> frozenset[_Key]:
        """The facts that do not come again in this walk."""
        return frozenset((*self.times, *self.cannot_tell))


def checked(fact: Fact, text: str) -> str | tuple[str, ...]:
    """Return what was typed for a fact, as it is written down. Raises `NotRead`, which says what to write instead."""
    text = " ".join(text.split())
    if not text:
        raise NotRead("Nothing is written.", "Write a value, or say that you cannot tell.")
    if not text.isprintable():
        raise NotRead("There is a character in it that cannot be shown.", "Type it again without that character.")
    if text.casefold() in UNKNOWN_WORDS and text not in fact.words:
        raise NotRead("That is no value.", "Say that you cannot tell.")
    if fact.measure == "several_words":
        words = fact.words_in(text)
        if not words:
            raise NotRead("Nothing is written.", f"Write one or more of: {', '.join(fact.words)}.")
        return words
    fact.read(text)
    return fact.word(text) if fact.measure == "words" and not _is_none(fact, text) else text


def _is_none(fact: Fact, text: str) -> bool:
    return fact.entry.may_be_none and text.casefold() == "none" and "none" not in fact.words


def none_of_these(page: Page) -> Answer:
    """Return what the end of a list tells: each of its open facts is as it should be, on each thing of the page."""
    return ticked(page, {})


def ticked(page: Page, ticks: Mapping[str, Iterable[int]]) -> Answer:
    """Return what a list tells: the ticks by path of the thing, numbered from nought; what is not ticked is fine."""
    assert page.listed is not None
    values: dict[_Key, str | tuple[str, ...]] = {}
    for thing in page.things:
        told = dict(page.listed.fine)
        for number in ticks.get(thing.path, ()):
            told |= page.listed.ticks[number].tells
        values |= {(thing.path, name): told[name] for name in page.facts if (thing.path, name) in page.open}
    return Answer(values)


def dated(page: Page, answer: Answer, day: str) -> Answer:
    """Return an answer with the days that it tells: what was tried in this look was tried on its day."""
    kinds = {thing.path: thing.kind for thing in page.things}
    days = {
        (path, name): day
        for (path, of), value in answer.values.items()
        for name, words in page.look.dated.get(of, {}).items()
        if value in words and name in kinds[path].facts
    }
    return replace(answer, values={**answer.values, **days})


# --- the file ---


def begun_look(rig: str, day: str, by: str) -> str:
    """Return a look of which nothing was answered yet; `rig`: the path of the rig's file, seen from the look."""
    head = "# What was seen, in the order of the walk. Nothing here says that the rig may be used.\n"
    told = f"look: {scalar_text(rig)}\nday: {day}\nby: {scalar_text(by)}\n{_NOT_TOLD}{_SEEN}"
    return head + told + _row({"thing": "rig", "inspected": day, "inspected_by": by})


def with_answer(text: str, answer: Answer, rig: Rig | None = None) -> str:
    """Return a look with an answer added to it. Raises ValueError where it is not laid out as `begun_look` lays it.

    `rig`: whose things are called by their tags, where they bear one: by its place alone, what was seen of a part would
    be said of the one that is fitted there next.
    """
    head, seen, rows = text.partition(f"\n{_SEEN}")
    if not seen or _NOT_TOLD not in f"{head}\n":
        raise ValueError("the look is not laid out as one that is being made")
    rows = rows if not rows or rows.endswith("\n") else f"{rows}\n"
    called = {} if rig is None else _called(rig)
    for (path, name), because in answer.cannot_tell.items():
        word, inside = called.get(path, (path, ""))
        head += "\n" + _row({"thing": path if inside else word, "fact": name, "because": because}).rstrip("\n")
    by_thing: dict[tuple[str, str], dict[str, _Stated]] = {}
    for (path, name), value in answer.values.items():
        by_thing.setdefault(called.get(path, (path, "")), {})[name] = value
    entries = ({"thing": word, **({inside: told} if inside else told)} for (word, inside), told in by_thing.items())
    return head + seen + rows + "".join(map(_row, entries))


def _called(rig: Rig) -> Mapping[str, tuple[str, str]]:
    """Return, by path, the tag that a thing bears; or that of what it is built into, and under which key."""
    tags = Counter(thing.tag for thing in rig.things)
    found: dict[str, tuple[str, str]] = {}
    for thing in rig.things:
        holder = thing.parent
        if thing.tag and tags[thing.tag] == 1:
            found[thing.path] = thing.tag, ""
        elif holder is not None and holder.tag and tags[holder.tag] == 1:
            key = next((name for name in holder.kind.holds if holder.facts.get(name) in (thing, (thing,))), "")
            if key:
                found[thing.path] = holder.tag, key
    return found


def _row(told: Mapping[str, _Stated | Mapping[str, _Stated]]) -> str:
    return f"  - {_flow(told)}\n"


def _flow(told: Mapping[str, _Stated | Mapping[str, _Stated]]) -> str:
    return f"{{{', '.join(f'{key}: {_written(value)}' for key, value in told.items())}}}"


def _written(value: _Stated | Mapping[str, _Stated]) -> str:
    if isinstance(value, Mapping):
        return _flow(value)
    return scalar_text(value) if isinstance(value, str) else f"[{', '.join(map(scalar_text, value))}]"


# --- what a look says already ---


def told_in(look: LookFile, rig: Rig) -> Told:
    """Return what a look answers of a rig."""
    named = NamedThings(rig.things)
    times = Counter((thing.path, name) for thing, name, _ in look_statements(look, rig))
    not_told = [((at.path, one.fact), one.because) for one in look.cannot_tell for at in named.called(one.thing)]
    return Told(times, dict(not_told), Counter(key for key, _ in not_told))
