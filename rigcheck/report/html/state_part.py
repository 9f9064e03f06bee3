"""The state of the rig in words, and the cautions, at the head of the commissioning file."""

from __future__ import annotations

from collections.abc import Iterator

from rigcheck.judge.causes import Alike, alike_questions
from rigcheck.judge.inspection import Inspection, State
from rigcheck.procedure.sheet import hold_words, holding
from rigcheck.quantity.wording import counted
from rigcheck.report.drawing.drawing import finding_anchor
from rigcheck.report.html.findings_part import word_mark
from rigcheck.report.html.markup import listed, section, shown, table, tag
from rigcheck.report.sheet.sheet_words import SHEET_CAUTION
from rigcheck.report.text.calculation_text import ESTIMATE
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rules.rule import SIGNALS, Signal
from rigcheck.tasks.commissioning_file import RigFile

__all__ = ["cautions_section", "state_section"]

_MOST_HOLDING = 12

_WORDS: dict[State, str] = {
    "on hold": "Do not use the rig. Put right what holds it, describe it as it then stands, and have it judged again.",
    "not yet shown": "Nothing stated holds it, but questions are open; what their rules would find is not known.",
    "lesser findings only": "Nothing holds it, nothing is open; what stands below the hold level is to be seen to.",
    "nothing found against it": "Nothing that is stated goes against a rule. That alone is no leave to use the rig.",
}

_AS_DESCRIBED = (
    "This file tells of the rig as it was described, on the day that it was judged for. "
    "What was changed, worn or damaged since, and what nobody wrote down, is not in it."
)


def state_section(file: RigFile) -> str:
    """Return the state of the rig, what holds it, and the count of what was found and asked."""
    inspection, state = file.inspection, file.inspection.state(file.hold_at)
    words = f"{tag('b', shown(state[:1].upper() + state[1:]))} {shown(_WORDS[state])}"
    told = tag("p", words, class_="state hold" if state == "on hold" else "state")
    level = f"It is held for findings of the word {file.hold_at.upper()} or a graver one that nobody has conceded."
    held = inspection.verdicts.get("holds", 0)
    level += f" {counted(held, 'check')} held."
    counts = table("counts", "What was found and asked", _HEADS, _counts(inspection))
    caution = tag("p", shown(CAUTION), class_="caution")
    return section("state", "State of the rig", told, caution, tag("p", shown(level)), _holding(file), counts)


_HEADS = ("Signal word", "Findings", "Of them conceded", "Open questions")


def _counts(inspection: Inspection) -> Iterator[tuple[str, ...]]:
    questions = alike_questions(inspection.questions)
    for signal in SIGNALS:
        findings = [one for one in inspection.findings if one.signal == signal]
        conceded = sum(one.conceded is not None for one in findings)
        asked = sum(group[0].signal == signal for group in questions)
        yield word_mark(signal), _linked(len(findings), signal), str(conceded), str(asked)


def _linked(number: int, signal: Signal) -> str:
    told = f"{number} {signal.upper()}"
    return tag("a", str(number), href=f"#findings-{signal}", aria_label=told) if number else "0"


def _holding(file: RigFile) -> str:
    numbers = {id(one): number for number, one in enumerate(file.inspection.findings, start=1)}
    held = holding(file.inspection, file.hold_at)
    if not held:
        return ""
    items = [_held(numbers[id(one.told.first)], one.told) for one in held[:_MOST_HOLDING]]
    more = len(held) - _MOST_HOLDING
    items += [f"and {tag('a', f'{more} more', href='#findings')}"] if more > 0 else []
    return tag("h3", "What holds it") + listed(items)


def _held(number: int, told: Alike) -> str:
    return tag("a", f"Finding {number}: {shown(hold_words(told))}", href=f"#{finding_anchor(number)}")


def cautions_section() -> str:
    """Return the cautions that go with everything in the file."""
    return section(
        "cautions", "Cautions", listed(shown(one) for one in (CAUTION, _AS_DESCRIBED, ESTIMATE, SHEET_CAUTION))
    )
