"""An overview of many rigs as text: on hold, most broken, most asked, changed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice

from rigcheck.quantity.wording import counted, shown_day
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.rules.overlay import overlay_words
from rigcheck.rules.rule import SIGNALS
from rigcheck.tasks.changes import Changed, Changes, Key
from rigcheck.tasks.overview import Asked, Broken, Overview, Standing
from rigcheck.text.faults import Fault

__all__ = [
    "asked_words",
    "broken_words",
    "change_lines",
    "change_words",
    "changed_words",
    "count_words",
    "group_rows",
    "head_words",
    "key_words",
    "overview_lines",
    "standing_words",
]

_COLUMN = 12
_WHEN = {
    "standard": "as standard rigs, by what lasts, on whatever day",
    "commissioning": "for {day}",
    "use": "for {day}, for use",
}
_MOST = 10  # rows of one list; the JSON form has all
_MOST_CHANGES = 20


def overview_lines(overview: Overview, day: int, width: int) -> Iterator[Line]:
    """Yield an overview as lines of at most `width` columns; `day`: the day number of the inspections."""
    for words in head_words(overview, day):
        yield from wrapped(words, width, style="head")
    if overview.changes is not None:
        yield from change_lines(overview.changes, width)
    yield from _standings("On hold, the worst first", overview.on_hold(), width)
    rest = [one for one in overview.worst_rigs() if one.state != "on hold"]
    yield from _standings("Not on hold, with findings, the worst first", rest, width)
    for title, groups in group_rows(overview):
        yield from _standings(title, groups, width)
    yield from _rules(overview.most_broken(), width)
    yield from _questions(overview.most_asked(), width)
    yield from _unread("Not read", overview.refused, width)
    yield from _unread("Read in part; what else stands there was judged", overview.in_part, width)
    yield Line()
    yield from wrapped(CAUTION, width, style="quiet")


def group_rows(overview: Overview) -> Iterator[tuple[str, list[Standing]]]:
    """Yield what rigs are put together by, where there are several of it or they say it: a title and the groups."""
    if len(overview.folders) > 1:
        yield "Folders, the worst first", overview.worst_customers()
    if overview.sites:
        yield "Sites, the worst first", overview.worst_sites()
    if overview.tags:
        yield "Tagged things with findings, the worst first", overview.worst_tags()


# --- in words ---


def head_words(overview: Overview, day: int) -> Iterator[str]:
    """Yield how many files came out how, and how many findings there are in all."""
    files = sum(overview.totals.values())
    states = ", ".join(f"{count} {state}" for state, count in overview.totals.items())
    made_up = f" {overview.invented} invented for demonstration." if overview.invented else ""
    in_part = f" {len(overview.in_part)} judged without what could not be read." if overview.in_part else ""
    when = _WHEN[overview.purpose].format(day=shown_day(day))
    yield f"{counted(files, 'file')}, judged {when}: {states or 'none'}.{in_part}{made_up}"
    counts = tuple(overview.signals[signal] for signal in SIGNALS)
    yield f"Findings: {count_words(counts, overview.conceded)}."
    if overview.registers:
        told = f"{counted(len(overview.registers), 'register')} passed over: {', '.join(overview.registers[:_MOST])}"
        yield f"{told}. 'rigcheck inspect' judges what is in a register."
    yield from overlay_words(overview.laid)


def count_words(counts: Sequence[int], conceded: int = 0) -> str:
    """Return findings by signal word, gravest first."""
    told = [f"{count} {signal.upper()}" for signal, count in zip(SIGNALS, counts, strict=True) if count]
    told += [f"{conceded} conceded"] if conceded else []
    return ", ".join(told) or "none"


def standing_words(one: Standing) -> str:
    """Return how a rig or a folder stands."""
    asked = f"; {counted(one.questions, 'question')} open" if one.questions else ""
    many = "" if one.state else f"; {one.held} of {counted(one.rigs, 'rig')} on hold"
    return f"{count_words(one.counts, one.conceded)}{asked}{many}"


def broken_words(one: Broken) -> str:
    """Return how often a rule is broken."""
    conceded = f", {one.conceded} of them conceded" if one.conceded else ""
    told = counted(one.findings, "finding")
    return f"on {counted(one.rigs, 'rig')}, {told}{conceded}"


def asked_words(one: Asked) -> str:
    """Return how often a question is asked."""
    return f"on {counted(one.rigs, 'rig')}, {counted(one.questions, 'time')}"


def change_words(changes: Changes) -> Iterator[str]:
    """Yield what became of the findings of the earlier report."""
    new, gone, not_seen = len(changes.new), sum(1 for _ in changes.gone()), sum(1 for _ in changes.not_seen())
    on_new = changes.on_new_rigs()
    told = f" ({on_new} of them on rigs that it does not tell of)" if on_new else ""
    left = f", {not_seen} on rigs that were not inspected this time" if not_seen else ""
    other = f", {len(changes.changed)} graver or other than then" if changes.changed else ""
    yield f"Since {changes.told}: {new} new{told}{other}, {gone} gone, {changes.still} still there{left}."
    if changes.other_rules:
        yield "That report was made with other rules or limits; some of the changes come from these."


def key_words(key: Key) -> str:
    """Return which finding it is."""
    return f"{key.rig}, {key.thing}: found by {key.rule}"


def changed_words(one: Changed) -> str:
    """Return which finding is graver or other than it was, and how."""
    return f"{key_words(one.key)}: {one.how}"


# --- lists ---


def change_lines(changes: Changes, width: int) -> Iterator[Line]:
    """Yield which findings are new and which are gone since an earlier report."""
    yield Line()
    for number, words in enumerate(change_words(changes)):
        yield from wrapped(words, width, style="stress" if number else "head")
    yield from _listed("new", map(key_words, changes.new), len(changes.new), width)
    yield from _listed("changed", map(changed_words, changes.changed), len(changes.changed), width)
    yield from _listed("gone", map(key_words, changes.gone()), sum(1 for _ in changes.gone()), width)


def _listed(label: str, told: Iterable[str], count: int, width: int) -> Iterator[Line]:
    for words in islice(told, _MOST_CHANGES):
        yield from labelled(label, words, width, column=_COLUMN)
    yield from _more(count - _MOST_CHANGES, width)


def _more(count: int, width: int) -> Iterator[Line]:
    if count > 0:
        yield from labelled("", f"and {count} more; the JSON form names all", width, column=_COLUMN, style="quiet")


def _standings(title: str, standings: Sequence[Standing], width: int) -> Iterator[Line]:
    if not standings:
        return
    yield Line()
    yield from wrapped(title, width, style="head")
    for one in standings[:_MOST]:
        worst = next((signal for signal, count in zip(SIGNALS, one.counts, strict=True) if count), "")
        named = f"“{one.name}”" if one.state else one.name or "."
        yield from labelled(worst.upper(), named, width, column=_COLUMN, label_style=worst, style="stress")
        yield from labelled("", standing_words(one), width, column=_COLUMN)
        if one.state:
            yield from labelled("", one.file, width, column=_COLUMN, style="place")
    yield from _more(len(standings) - _MOST, width)


def _rules(broken: Sequence[tuple[str, Broken]], width: int) -> Iterator[Line]:
    if not broken:
        return
    yield Line()
    yield from wrapped("Rules that are broken, on most rigs first", width, style="head")
    for name, one in broken[:_MOST]:
        yield from labelled(one.signal.upper(), f"must be: {one.claim}", width, column=_COLUMN, label_style=one.signal)
        yield from labelled("", f"{broken_words(one)} <- {name}", width, column=_COLUMN, style="place")
    yield from _more(len(broken) - _MOST, width)


def _questions(asked: Sequence[tuple[tuple[str, str], Asked]], width: int) -> Iterator[Line]:
    if not asked:
        return
    yield Line()
    yield from wrapped("Questions, those on most rigs first", width, style="head")
    for (kind, ask), one in asked[:_MOST]:
        told = f"{f'{kind}: ' if kind else ''}{ask} {asked_words(one).capitalize()}."
        yield from labelled(one.signal.upper(), told, width, column=_COLUMN, label_style=one.signal)
    yield from _more(len(asked) - _MOST, width)


def _unread(title: str, files: list[tuple[str, tuple[Fault, ...]]], width: int) -> Iterator[Line]:
    if not files:
        return
    yield Line()
    yield from wrapped(title, width, style="head")
    for _, faults in files[:_MOST]:
        more = f" And {len(faults) - 1} more." if len(faults) > 1 else ""
        yield from labelled("not read", f"{faults[0]}{more}", width, column=_COLUMN)
    yield from _more(len(files) - _MOST, width)
