"""A calculation sheet as text: every figure with formula, inputs, result, validity and source."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from rigcheck.condition.value_wording import listed_words, value_words
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.wording import shown_day
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.report.text.overlay_lines import overlay_lines
from rigcheck.report.text.working_text import Numbers, working_lines
from rigcheck.tasks.calculation_sheet import Calculated, Calculation, Lack, ThingFigures
from rigcheck.text.faults import unread_words

__all__ = [
    "CYLINDER_GAUGES",
    "ESTIMATE",
    "SHORT",
    "calculation_lines",
    "deciding_lines",
    "ends_words",
    "lack_words",
    "outcome_words",
    "standing_rows",
    "tally_words",
    "thing_words",
]

ESTIMATE = (
    "These figures are estimates for judging a set-up, not a design calculation: "
    "each holds only for its inputs and inside its validity."
)
CYLINDER_GAUGES = (
    "The gauge of a cylinder counts from one standard atmosphere, all else from the air of the site: at 1,700 m its "
    "pressure tells 0.1 % of oxygen at 182 bar too much, and 1.6 % of acetylene at 11 bar."
)
"""Air of 82.5 kPa at 1,700 m (ISO 2533), the reference equation of oxygen, Henry's law of acetylene."""
SHORT = 20
"""How many figures the short sheet has."""
_AGREE = "they agree, and the better known counts"
_DISAGREE = "they do not agree, and whatever lies between them counts"
_COLUMN = 12
_NUMBER = 5
_ROW = 15


Asked = dict[tuple[Lack, ...], int]
"""What was found missing so far, with the figure at which it was told."""


def calculation_lines(calculation: Calculation, width: int) -> Iterator[Line]:
    """Yield a calculation sheet as lines of at most `width` columns."""
    yield from _heading(calculation, width)
    numbers = calculation.numbers()
    asked: Asked = {}
    for one in calculation.things:
        yield Line()
        yield from _thing(one, numbers, asked, width)
    yield Line()
    yield from wrapped(tally_words(calculation), width, style="head")
    yield from wrapped(f"{ESTIMATE} {CYLINDER_GAUGES}", width, style="quiet")
    yield from wrapped(CAUTION, width, style="quiet")


def deciding_lines(calculation: Calculation, width: int) -> Iterator[Line]:
    """Yield the figures that decide a rig most, under the numbers that they have on the whole sheet."""
    chosen = calculation.deciding[:SHORT]
    yield from _heading(calculation, width)
    numbers, asked = calculation.numbers(), Asked()
    labels = {one.key: f"{one.name} of the {of.thing.label}" for of in calculation.things for one in of.figures}
    yield Line()
    for figure in chosen:
        yield from _result(figure, width, labels[figure.key])
        if figure.decides is not None:
            rule = figure.decides
            yield from _row("decides", f"{rule.signal.upper()}, {rule.rule}: {rule.verdict}", width)
        yield from _working(figure, numbers, asked, width)
    yield Line()
    told = f"The {len(chosen)} that decide most, of {tally_words(calculation)} All of them: --all."
    yield from wrapped(told, width, style="head")
    yield from wrapped(ESTIMATE, width, style="quiet")
    yield from wrapped(CAUTION, width, style="quiet")


def _heading(calculation: Calculation, width: int) -> Iterator[Line]:
    rig, code = calculation.rig, calculation.local_code
    yield from wrapped(f"Figures of rig “{rig.title}”", width, style="head")
    yield from labelled("written in", rig.file, width, column=_COLUMN, style="place")
    named = "" if calculation.code_stated else " (none is stated: the most cautious values)"
    told = f"{shown_day(calculation.day)}, limits of local code {code}{named}"
    yield from labelled("worked out", told, width, column=_COLUMN)
    yield from overlay_lines(calculation.laid, width, _COLUMN)
    for told in unread_words(rig.unread):
        yield from labelled("not read", told, width, column=_COLUMN, style="stress")
    told = (
        "pressures are gauge; a range runs from the least to the greatest that the inputs allow, rounded outward to "
        "two figures of half its width (JCGM 100); inputs keep more, so that a working can be followed"
    )
    yield from labelled("read so", told, width, column=_COLUMN, style="quiet")


def tally_words(calculation: Calculation) -> str:
    """Return how many figures came out, and how many did not and why."""
    figures = list(calculation.figures)
    if not figures:
        return "No figure concerns this rig."
    outside = sum(figure.outside for figure in figures)
    lacking = sum(figure.value is None and not figure.outside for figure in figures)
    told = [f"{len(figures) - outside - lacking} worked out"]
    told += [f"{lacking} lacking an input"] if lacking else []
    told += [f"{outside} outside their validity"] if outside else []
    return f"{len(figures)} figure{'' if len(figures) == 1 else 's'}: {', '.join(told)}."


def outcome_words(figure: Calculated) -> str:
    """Return what came out of a figure, in words."""
    if figure.value is not None:
        return figure.value.result if isinstance(figure.value, Interval) else value_words(figure.value)
    return "unknown: outside the validity of its formula" if figure.outside else "unknown: an input is not stated"


def lack_words(lack: Lack) -> str:
    """Return a missing fact with its thing, its question and where it would be written."""
    return f"{lack.fact} of the {lack.thing}: {lack.ask} ({lack.at})" if lack.fact else lack.ask


def _thing(one: ThingFigures, numbers: Numbers, asked: Asked, width: int) -> Iterator[Line]:
    yield from wrapped(thing_words(one), width, style="head")
    for same, group in groupby(one.figures, key=_missing_alike):
        figures = list(group)
        if same is None:
            for figure in figures:
                yield from _figure(figure, numbers, asked, width)
        else:
            yield from _missing(figures, asked, width)


def thing_words(one: ThingFigures) -> str:
    """Return what a thing is called on the sheet, beginning with a capital."""
    label = one.thing.label if one.thing.parent else "rig as a whole"
    return label[:1].upper() + label[1:]


def _missing_alike(figure: Calculated) -> tuple[Lack, ...] | None:
    """Return what a figure lacks; None where it is shown with its working."""
    return figure.lacks if figure.value is None and figure.working is None else None


def _missing(figures: list[Calculated], asked: Asked, width: int) -> Iterator[Line]:
    for figure in figures:
        yield from _result(figure, width)
    yield from _lacking("lacks", figures[0], asked, width)


def _result(figure: Calculated, width: int, name: str = "") -> Iterator[Line]:
    style = "stress" if figure.value is not None else ""
    told = f"{name or figure.name}: {outcome_words(figure)}"
    yield from labelled(f"{figure.number:>3}", told, width, column=_NUMBER, label_style="quiet", style=style)


def _figure(figure: Calculated, numbers: Numbers, asked: Asked, width: int) -> Iterator[Line]:
    yield from _result(figure, width)
    yield from _working(figure, numbers, asked, width)


def _working(figure: Calculated, numbers: Numbers, asked: Asked, width: int) -> Iterator[Line]:
    if figure.working is not None:
        yield from _row("means", figure.means, width)
        for label, text in standing_rows(figure, numbers):
            yield from _row(label, text, width)
        yield from working_lines(figure.working, width, indent=_NUMBER, column=_ROW, numbers=numbers)
        if figure.ends:
            yield from _row("ends", ends_words(figure), width)
    if figure.value is None and figure.lacks:
        yield from _lacking("or lacks", figure, asked, width)


def standing_rows(figure: Calculated, numbers: Numbers) -> Iterator[tuple[str, str]]:
    """Yield how a figure stands, label and text: who says it, what conflict it follows from, which ends go together."""
    for number, said in enumerate(figure.statements):
        yield "" if number else "said", said
    if figure.statements:
        yield "", _AGREE if figure.agree else _DISAGREE
    if figure.contested:
        named = ", ".join(_contested_words(key, numbers) for key in figure.contested)
        yield "conflict", f"follows from statements that do not agree: {named}"


def ends_words(figure: Calculated) -> str:
    """Return which ends of the inputs belong to the least of a figure; the greatest has the other ones."""
    return "the least with " + listed_words([f"the {end} {name}" for name, end in figure.ends.items()], "and")


def _contested_words(key: tuple[str, str], numbers: Numbers) -> str:
    number = numbers.get(key)
    return f"{key[1].replace('_', ' ')} of {key[0]}" + (f", figure {number}" if number else "")


def _lacking(label: str, figure: Calculated, asked: Asked, width: int) -> Iterator[Line]:
    """Yield what a figure lacks; a long list is told once."""
    first = asked.setdefault(figure.lacks, figure.number)
    if first != figure.number and len(figure.lacks) > 1:
        yield from _row(label, f"the same as figure {first}", width)
        return
    for number, lack in enumerate(figure.lacks):
        yield from _row("" if number else label, lack_words(lack), width)


def _row(label: str, text: str, width: int) -> Iterator[Line]:
    yield from labelled(f"     {label}", text, width, column=_ROW, label_style="quiet")
