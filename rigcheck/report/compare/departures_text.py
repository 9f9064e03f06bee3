"""How one rig departs from another, as text: each difference, where it is written, and the verdicts that it turned."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from rigcheck.quantity.wording import counted, shown_day
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.report.text.overlay_lines import overlay_lines
from rigcheck.tasks.departures import Comparison, Departure, Side, Turn
from rigcheck.tasks.what_turned import Moved, Stand
from rigcheck.text.faults import unread_words

__all__ = ["departure_lines"]

_COLUMN = 12
_MOST_MOVED = 12  # figures; the JSON report has them all
_MOST_RULES = 4  # named beside a difference; the JSON report names them all


def departure_lines(comparison: Comparison, width: int) -> Iterator[Line]:
    """Yield a comparison as lines of at most `width` columns."""
    yield from _heading(comparison, width)
    yield from _turned(comparison.turns, width)
    yield from _moved(comparison.moved, width)
    for line, group in _by_line(comparison.departures):
        yield Line()
        yield from wrapped(_title(line), width, style="head")
        for departure in group:
            yield from _departure(departure, width)
    yield from _broken_by_filling_in(comparison.filled_in, width)
    yield from _other_turns(comparison.other_turns, width)
    yield Line()
    yield from wrapped(_sum(comparison), width, style="head")
    yield from _left_open(comparison, width)
    yield from wrapped(CAUTION, width, style="quiet")


def _heading(comparison: Comparison, width: int) -> Iterator[Line]:
    before, after = comparison.before, comparison.after
    yield from wrapped(f"Rig “{after.title}” beside “{before.title}”", width, style="head")
    sides = ("before", before), ("after", after)
    for (label, rig), code, stand in zip(sides, comparison.codes, comparison.stands, strict=True):
        yield from labelled(label, f"{rig.file} (local code {code})", width, column=_COLUMN, style="place")
        for told in unread_words(rig.unread):
            yield from labelled("", told, width, column=_COLUMN, style="stress")
        yield from labelled("", _stand(stand), width, column=_COLUMN, style="hold" if stand.state == "on hold" else "")
    yield from labelled("judged", shown_day(comparison.day), width, column=_COLUMN)
    yield from overlay_lines(comparison.laid, width, _COLUMN)


def _stand(stand: Stand) -> str:
    found = ", ".join(f"{count} {signal.upper()}" for signal, count in stand.findings.items()) or "no finding"
    asked = f"; {counted(stand.questions, 'question')} open" if stand.questions else ""
    return f"{stand.state}: {found}{asked}"


def _turned(turns: Iterable[Turn], width: int) -> Iterator[Line]:
    """Yield the verdicts that turned: those that are broken now or no longer, then how many others did."""
    told = [turn for turn in turns if "broken" in (turn.before, turn.after)]
    counts = Counter((turn.before, turn.after) for turn in turns if "broken" not in (turn.before, turn.after))
    if not told and not counts:
        return
    yield Line()
    yield from wrapped("What turned, with what is broken now first", width, style="head")
    for turn in told:
        yield from _turn(turn, width)
        if turn.after == "broken":
            yield from labelled("", f"must be: {turn.rule.claim}", width, column=_COLUMN)
    for (before, after), count in sorted(counts.items()):
        yield from labelled(str(count).rjust(_COLUMN - 2), f"{before} before, {after} after", width, column=_COLUMN)


def _moved(moved: Sequence[Moved], width: int) -> Iterator[Line]:
    if not moved:
        return
    yield Line()
    yield from wrapped("Figures that moved, those of the gravest rules first", width, style="head")
    for one in moved[:_MOST_MOVED]:
        told = f"{one.thing}, {one.figure}: was {one.before}, is {one.after}"
        yield from labelled(f"  {one.signal.upper()}", told, width, column=_COLUMN)
    if len(moved) > _MOST_MOVED:
        yield from labelled("", f"and {len(moved) - _MOST_MOVED} more", width, column=_COLUMN, style="quiet")


def _by_line(departures: Iterable[Departure]) -> Iterator[tuple[str, list[Departure]]]:
    """Yield departures line by line, those of the rig as a whole last."""
    groups: dict[str, list[Departure]] = {}
    for departure in departures:
        groups.setdefault(departure.line, []).append(departure)
    whole = groups.pop("", [])
    yield from groups.items()
    if whole:
        yield "", whole


def _title(line: str) -> str:
    return f"{line[:1].upper()}{line[1:]}" if line else "Torch, trolley, people and place"


def _departure(departure: Departure, width: int) -> Iterator[Line]:
    told = f"{_told(departure)}{' (the standard rig lets it differ)' if departure.allowed else ''}"
    yield from labelled(_LABELS[departure.how], told, width, column=_COLUMN, style="stress")
    sides = (("before", departure.before), ("after", departure.after))
    places = ", ".join(f"{word} {side.place}" for word, side in sides if side is not None)
    yield from labelled("", places, width, column=_COLUMN, style="place")
    for touched in departure.touched:
        for turn in touched.turns:
            yield from _turn(turn, width)
    yield from _touched(departure, width)


_LABELS = {
    "changed": "changed",
    "stated": "stated",
    "no longer stated": "left out",
    "added": "added",
    "missing": "missing",
    "moved": "moved",
}


def _told(departure: Departure) -> str:
    before, after = departure.before, departure.after
    if departure.fact:
        return f"{_named(before, after)}, {departure.fact}: {_change(before, after)}"
    if departure.how == "moved" and before is not None and after is not None:
        return f"{_named(before, after)}: stood {before.value}, stands {after.value}"
    stands = next((side.value for side in (after, before) if side is not None and side.value), "")
    inside = f" with its {departure.inside} parts" if departure.inside else ""
    return f"{departure.thing}{inside}{f', {stands}' if stands else ''}"


def _named(before: Side | None, after: Side | None) -> str:
    """Return a thing by its name in the second rig, and by that in the first where it was called otherwise."""
    called = dict.fromkeys(side.thing for side in (after, before) if side is not None)
    return " (before: ".join(called) + ")" * (len(called) - 1)


def _change(before: Side | None, after: Side | None) -> str:
    if before is None:
        return f"was not stated, is {_value(after)}"
    if after is None:
        return f"was {_value(before)}, is no longer stated"
    return f"was {_value(before)}, is {_value(after)}"


def _value(side: Side | None) -> str:
    return side.value if side is not None else ""


def _turn(turn: Turn, width: int) -> Iterator[Line]:
    rule = turn.rule
    told = f"{turn.thing}: {turn.before} before, {turn.after} after <- {rule.name}"
    yield from labelled(
        f"  {rule.signal.upper()}",
        told,
        width,
        column=_COLUMN,
        label_style=rule.signal if turn.after == "broken" else "",
    )


def _touched(departure: Departure, width: int) -> Iterator[Line]:
    names = [touched.rule.name for touched in departure.touched if not touched.turns]
    if names:
        more = [f"{len(names) - _MOST_RULES} more"] * (len(names) > _MOST_RULES)
        told = f"same verdict: {', '.join([*names[:_MOST_RULES], *more])}"
        yield from labelled("", told, width, column=_COLUMN, style="quiet")


def _broken_by_filling_in(filled_in: Iterable[Departure], width: int) -> Iterator[Line]:
    """Yield the facts that the site filled in and that broke a rule; they are no departures."""
    broke = [one for one in filled_in if any(turn.after == "broken" for t in one.touched for turn in t.turns)]
    if broke:
        yield Line()
        yield from wrapped("Filled in for the site, and breaking a rule", width, style="head")
    for departure in broke:
        yield from _departure(departure, width)


def _other_turns(turns: tuple[Turn, ...], width: int) -> Iterator[Line]:
    """Yield what is broken now or no longer by several differences together; the rest is counted above."""
    told = [turn for turn in turns if "broken" in (turn.before, turn.after)]
    if told:
        yield Line()
        yield from wrapped("Verdicts that turned with several differences together", width, style="head")
    for turn in told:
        yield from _turn(turn, width)


def _sum(comparison: Comparison) -> str:
    if comparison.found_otherwise:
        return "No difference in what is stated, and yet not the same is found; inspect both."
    if comparison.same:
        return "No difference in what is stated."
    counts = Counter(str(departure.how) for departure in comparison.departures)
    told = ", ".join(f"{counts[how]} {_LABELS[how]}" for how in _LABELS if counts[how])
    total = len(comparison.departures)
    return f"{total} difference{'' if total == 1 else 's'}: {told}."


def _left_open(comparison: Comparison, width: int) -> Iterator[Line]:
    filled, still = len(comparison.filled_in), comparison.still_open
    if filled or still:
        told = f"Left open for the site by the first: {filled} facts are stated now, {still} are not."
        yield from wrapped(told, width)
