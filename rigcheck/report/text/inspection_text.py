"""An inspection as text for people: findings, questions, the state of the rig, the caution."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from rigcheck.judge.causes import Alike, Cause, alike_questions, causes_of
from rigcheck.judge.inspection import Finding, Held, Inspection
from rigcheck.quantity.wording import counted, shown_day
from rigcheck.report.text.citations import cited
from rigcheck.report.text.finding_words import adds_bounds, also_words, count_words, group_words, things_words
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.report.text.overlay_lines import overlay_lines
from rigcheck.report.text.question_lines import question_lines
from rigcheck.report.text.question_words import Told, lines_words, many_told
from rigcheck.report.text.working_text import working_lines
from rigcheck.rules.documents import Source
from rigcheck.rules.folders import SHIPPED_RULES
from rigcheck.rules.rule import GRAVITY, SIGNALS, Signal
from rigcheck.text.faults import Fault

__all__ = [
    "CAUTION",
    "CAUTIONS",
    "caution_of",
    "inspection_lines",
    "refusal_lines",
    "source_words",
    "tally_lines",
]

CAUTION = (
    "The local code, the makers' instructions and a competent or licensed person decide "
    "whether this rig may be used. This report does not."
)
_WHEN = {
    "standard": "as a standard rig, by what lasts, on whatever day",
    "commissioning": "{day}",
    "use": "{day}, for use: what lasts for a job or a day counts only if it was seen in it",
}
_ABOUT = {"premises": "site"}
_DECIDED_ON = {
    "register": "what is in this register",
    "premises": "the rigs and stores of this site",
    "fleet": "these rigs",
}
_COLUMN = 12
_INNER = 12
_MOST_LINES = 4
_MOST_SOURCES = 2
_FEW = 2  # findings that one screen shows in full
_SCREEN = 20  # lines of a small screen
_LEAST_FOUND = 6  # of these, for what holds the rig


def inspection_lines(
    inspection: Inspection, width: int, *, hold_at: Signal, on_unproven: Signal | None = None, questions: Told = "looks"
) -> Iterator[Line]:
    """Yield one inspection as lines of at most `width` columns; `questions`: which of them are listed."""
    heading = list(_heading(inspection, width))
    yield from heading
    causes, asked = causes_of(inspection.findings), alike_questions(inspection.questions)
    written = "record" if inspection.record else _ABOUT.get(inspection.about, inspection.about)
    state = list(_state(inspection, _counts(inspection, causes, len(asked)), width, hold_at, on_unproven))
    unread, blocks = list(_unread(inspection.unread, width)), list(_blocks(causes, width, written))
    whole = len(heading) + len(unread) + len(blocks) + len(state)
    screen = len(causes) > _FEW or many_told(asked, questions) or (bool(causes) and whole > _SCREEN)
    left = _SCREEN - len(heading) - len(state) - 1
    holding = [cause for cause in causes if _holds(cause.told.first, hold_at)]
    room = left - len(unread)
    fits = room >= _LEAST_FOUND and (not holding or _fitted(holding, inspection.file, width, room))
    told_first = not (screen and unread) or bool(fits)
    yield from unread if told_first else ()
    if screen:
        yield Line()
        yield from state
        if not told_first:
            brief = list(_unread_in_brief(inspection.unread, inspection.file, width))
            yield from brief
            left -= len(brief)
        yield from _first_screen(causes, inspection.file, width, hold_at, left - len(unread) * told_first)
    yield from () if told_first else unread
    yield from blocks
    walked = inspection.about == "rig" and not inspection.record
    yield from question_lines(asked, inspection.file, width, questions, walked=walked)
    yield from _held(inspection.held, width)
    yield Line()
    yield from state
    yield from wrapped(caution_of(inspection), width, style="quiet")


def _blocks(causes: tuple[Cause, ...], width: int, written: str) -> Iterator[Line]:
    for cause in causes:
        yield Line()
        yield from _cause(cause, width, written)


def _first_screen(causes: tuple[Cause, ...], file: str, width: int, hold_at: Signal, left: int) -> Iterator[Line]:
    """Yield what holds the rig and what to do, the gravest first, in no more lines than are left."""
    holding = [cause for cause in causes if _holds(cause.told.first, hold_at)]
    fitted = _fitted(holding, file, width, left)
    for number, cause in enumerate(holding):
        rows = fitted[number] if fitted else _in_brief(cause, file, width, left)
        if len(rows) >= left:  # one is kept for what is left out
            yield from labelled("", f"and {len(holding) - number} more below", width, column=_COLUMN, style="quiet")
            return
        left -= len(rows)
        yield from rows


def _fitted(causes: list[Cause], file: str, width: int, left: int) -> list[list[Line]]:
    """Return all causes in the lines that are left, the gravest with what to do; none where that cannot be.

    Of the least grave ones first only the first thing to do is told, then only what was found.
    """
    rows = [_short(cause, file, width, cause.told.first.put_right) for cause in causes]
    for to_do in (_first_to_do, lambda cause: ""):
        for number in reversed(range(len(causes))):
            if sum(map(len, rows)) < left:
                return rows
            rows[number] = _short(causes[number], file, width, to_do(causes[number]))
    return rows if sum(map(len, rows)) < left else []


def _in_brief(cause: Cause, file: str, width: int, left: int) -> list[Line]:
    """Return a cause with the first thing that is to be done; where that is too long, what was found alone."""
    rows = _short(cause, file, width, _first_to_do(cause))
    return rows if len(rows) < left else _short(cause, file, width, "")


def _first_to_do(cause: Cause) -> str:
    first, semicolon, _ = cause.told.first.put_right.partition("; ")
    return f"{first}." if semicolon else first


def _short(cause: Cause, file: str, width: int, to_do: str) -> list[Line]:
    """Return a cause in as few lines as can be: the things, what was found, what to do."""
    finding = cause.told.first
    cure = f" Do: {to_do}" if to_do else ""
    lines = lines_words([one.place for one in cause.told.findings], file, _MOST_LINES)
    told = f"{cause.told.called} ({lines}): {group_words(cause.told)}{cure}"
    return list(labelled(finding.signal.upper(), told, width, column=_COLUMN, label_style=finding.signal))


def _holds(finding: Finding, hold_at: Signal) -> bool:
    return finding.conceded is None and GRAVITY[finding.signal] >= GRAVITY[hold_at]


def refusal_lines(faults: Iterable[Fault], width: int) -> Iterator[Line]:
    """Yield the faults of a file that could not be read."""
    for fault in faults:
        yield from labelled("not read", str(fault.place), width, column=_COLUMN, style="place")
        near = f" Nearest known word: {fault.near}." if fault.near else ""
        yield from labelled("", f"{fault.read} {fault.write}{near}", width, column=_COLUMN)


def _unread(faults: tuple[Fault, ...], width: int) -> Iterator[Line]:
    """Yield what of a file could not be read: it comes first, for the rest is judged as if it were not there."""
    if faults:
        told = f"{counted(len(faults), 'statement')} could not be read and left out of what follows"
        yield Line()
        yield from wrapped(told, width, style="stress")
        yield from refusal_lines(faults, width)


def _unread_in_brief(faults: tuple[Fault, ...], file: str, width: int) -> Iterator[Line]:
    """Yield that something could not be read, where a first screen has no room for what to write instead."""
    where = lines_words([one.place for one in faults], file, _MOST_LINES)
    told = f"{counted(len(faults), 'statement')} ({where}), told below with what to write instead"
    yield from labelled("not read", told, width, column=_COLUMN, style="stress")


def tally_lines(states: dict[str, int], refused: int, unread: int, width: int) -> Iterator[Line]:
    """Yield how many rigs are in which state; `unread` of them were judged without what could not be read."""
    rigs = sum(states.values())
    parts = [f"{count} {state}" for state, count in states.items() if count]
    parts += [f"{refused} not read"] if refused else []
    in_part = f" {unread} judged without what could not be read." if unread else ""
    yield Line()
    yield from wrapped(f"{counted(rigs + refused, 'file')}: {', '.join(parts)}.{in_part}", width, style="head")


def _heading(inspection: Inspection, width: int) -> Iterator[Line]:
    about = _ABOUT.get(inspection.about, inspection.about).capitalize()
    record = f"Record of {inspection.record}, rig" if inspection.record else about
    yield from wrapped(f"{record} “{inspection.title}”", width, style="head")
    day = shown_day(inspection.day)
    code = inspection.local_code
    named = "" if inspection.code_stated else " (none is stated: the most cautious values)"
    yield from labelled("written in", inspection.file, width, column=_COLUMN, style="place")
    when = _WHEN[inspection.purpose].format(day=day)
    yield from labelled("judged", f"{when}, local code {code}{named}", width, column=_COLUMN)
    if inspection.about == "register":
        told = "each thing is judged alone, by what is on record of it; what its place in a rig asks, its rig is asked"
        yield from labelled("", told, width, column=_COLUMN)
    for withdrawn in inspection.withdrawn:
        yield from labelled("not judged", withdrawn, width, column=_COLUMN)
    if inspection.begun_from:
        told = f"the standard rig {inspection.begun_from}: what it says and nobody has marked as seen is presumed"
        yield from labelled("begun from", told, width, column=_COLUMN)
    if inspection.standard_changed:
        yield from labelled("", inspection.standard_changed, width, column=_COLUMN)
    if inspection.register:
        yield from labelled("on record", inspection.register, width, column=_COLUMN, style="place")
    elif inspection.tags and inspection.about == "rig":  # as of a file that was copied out of its folder
        told = f"nothing: no register was found in which to look up {counted(len(inspection.tags), 'tag')}"
        yield from labelled("on record", told, width, column=_COLUMN)
    if inspection.settings:
        told = f"{inspection.settings}, where things are said of every rig of its folder"
        yield from labelled("settings", told, width, column=_COLUMN)
    for gone in inspection.gone:
        yield from labelled("gone", gone, width, column=_COLUMN)
    for seen in inspection.seen_by_place:
        told = f"{seen}: nobody wrote which part was there; what was seen counts for the one that is there now"
        yield from labelled("by place", told, width, column=_COLUMN)
    yield from overlay_lines(inspection.laid, width, _COLUMN)


def _cause(cause: Cause, width: int, written: str) -> Iterator[Line]:
    """Yield one cause: what it breaks on which things, and in short what it breaks besides."""
    finding, word = cause.told.first, cause.told.first.signal.upper()
    thing, things = cause.told.called, things_words(cause.told)
    thing = thing if finding.conceded is None else f"{thing} (conceded)"
    yield from labelled(word, thing, width, column=_COLUMN, label_style=finding.signal, style="stress")
    rows = [
        *((("conceded", f"{finding.conceded.words}."),) if finding.conceded is not None else ()),
        *((("on", f"{things}."),) if len(cause.told.findings) > 1 and things != cause.told.called else ()),
        ("found", group_words(cause.told)),
        ("must be", finding.claim),
        ("do", finding.put_right),
        ("harm", finding.harm),
        *((("required", f"{finding.required}."),) if adds_bounds(finding) else ()),
        ("drawn from", f"{cited(finding.sources, _MOST_SOURCES)}."),
        (written, _places_words(cause.told)),
        ("rule", _rule_words(finding)),
        *(("also breaks" if number == 0 else "", words) for number, words in enumerate(also_words(cause))),
    ]
    for label, text in rows:
        style = "place" if label in (written, "rule") else ""
        yield from labelled(f"  {label}", text, width, column=_INNER + 2, label_style="quiet", style=style)
        if label == "found":
            yield from _workings(finding, width)


def _places_words(told: Alike) -> str:
    """Return where things that are told as one are written: file, line and column, further ones without the file."""
    places = list(dict.fromkeys(finding.place for finding in told.findings))
    first = places[0]
    more = (f"{one.line}:{one.column}" if one.file == first.file else str(one) for one in places[1:])
    return ", ".join((str(first), *more))


def _rule_words(finding: Finding) -> str:
    """Return the name of a rule; of one that does not ship, or a step of a procedure, where it stands too."""
    ships = finding.rule_place.file == f"{SHIPPED_RULES}/{finding.rule}.yaml"
    return finding.rule if ships else f"{finding.rule} ({finding.rule_place})"


def _workings(finding: Finding, width: int) -> Iterator[Line]:
    """Yield how each value that was found and is a figure was worked out."""
    shown = list(dict.fromkeys(found.working for found in finding.found if found.working is not None))
    for working in shown:
        if len(shown) > 1:
            yield from labelled("  worked out", working.name, width, column=_INNER + 2, label_style="quiet")
        yield from working_lines(working, width, indent=2, column=_INNER + 2)


CAUTIONS = (CAUTION, *(CAUTION.replace("this rig", one) for one in _DECIDED_ON.values()))
"""Every form of the caution."""


def caution_of(inspection: Inspection) -> str:
    """Return the caution that a report ends with; a register and a site are no rig."""
    return CAUTION.replace("this rig", _DECIDED_ON.get(inspection.about, "this rig"))


def source_words(sources: Sequence[Source]) -> str:
    """Return sources as a sentence, each with how far it was read and the country that it was taken from."""
    return f"{cited(sources)}."


def _held(held: tuple[Held, ...], width: int) -> Iterator[Line]:
    """Yield what held, where that was asked for: each rule once, with its things."""
    if not held:
        return
    by_rule: dict[str, list[Held]] = {}
    for one in held:
        by_rule.setdefault(one.rule, []).append(one)
    yield Line()
    yield from wrapped("Held", width, style="head")
    for rule, checks in by_rule.items():
        things = "; ".join(f"{one.thing} (line {one.place.line})" for one in checks)
        word = "presumed" if all(one.presumed for one in checks) else "held"
        yield from labelled(word, f"{checks[0].claim} <- {rule}: {things}", width, column=_COLUMN)


def _state(
    inspection: Inspection, counts: str, width: int, hold_at: Signal, on_unproven: Signal | None
) -> Iterator[Line]:
    state = inspection.state(hold_at, on_unproven=on_unproven)
    words = f"State: {state}. {counts}"
    yield from wrapped(words, width, style="hold" if state == "on hold" else "head")


def _counts(inspection: Inspection, causes: tuple[Cause, ...], questions: int) -> str:
    told = []
    for signal in SIGNALS:
        count = sum(f.signal == signal and f.conceded is None for f in inspection.findings)
        told += [f"{count} {signal.upper()}"] if count else []
    findings = ", ".join(told) if told else "No finding"
    conceded = sum(finding.conceded is not None for finding in inspection.findings)
    findings += f", {conceded} conceded" if conceded else ""
    together = count_words(causes)
    findings += f" ({together})" if together else ""
    asked = f", {counted(questions, 'question')} open" if questions else ""
    asked += f", {counted(len(inspection.unread), 'statement')} not read" if inspection.unread else ""
    return f"{findings}{asked}; {inspection.checks_words}."
