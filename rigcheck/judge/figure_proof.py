"""Proof of a written figure: each way gives what its cases say, and no letter of it is idle."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from rigcheck.facts.written_figures import way_range
from rigcheck.judge.proof import FailedCase, IdlePart, Proof
from rigcheck.quantity.notation import NotRead
from rigcheck.quantity.wording import spoken_value
from rigcheck.rules.figure_reading import ReadCase, read_figure_cases
from rigcheck.rules.folders import file_of
from rigcheck.rules.pack import Pack
from rigcheck.rules.written_figure import LetterRange, WrittenFigure, WrittenWay
from rigcheck.text.faults import Fault, Refused
from rigcheck.text.place import Place

__all__ = ["prove_figure"]

_NUDGES = (1.05, 1 / 1.05, 1.002, 1 / 1.002)  # the small ones stay inside a narrow validity


def prove_figure(name: str, pack: Pack) -> Proof:
    """Return the proof of a written figure by its name, as `figures/hood_speed`. Raises `Refused`."""
    figure = pack.figures[name]
    try:
        shipped = file_of(figure.file)  # told of by a path that leads nowhere from another folder
        path = shipped if shipped.is_file() else Path(figure.file)
        cases = read_figure_cases(figure, pack.vocabulary, path.read_bytes())
    except NotRead as error:
        raise Refused([Fault(Place(figure.file, 1, 1), error.wrong, error.write)]) from None
    outcomes = (_failed(figure, figure.ways[number], case) for number, case in cases)
    failed = [one for one in outcomes if one is not None]
    letters = [(number, letter) for number, way in enumerate(figure.ways) for letter in way.letters]
    idle = [one for number, letter in letters if (one := _idle(figure, cases, number, letter)) is not None]
    return Proof(name, len(cases), len(letters), tuple(failed), tuple(idle))


def _failed(figure: WrittenFigure, way: WrittenWay, case: ReadCase) -> FailedCase | None:
    found = way_range(way, figure.measure, case.given)
    if found is not None and _near(found, case):
        return None
    got = "nothing" if found is None else spoken_value(*found, figure.measure)
    return FailedCase(case.name, spoken_value(*case.wanted, figure.measure), got, case.place)


def _near(found: LetterRange, case: ReadCase) -> bool:
    slack = case.within * max(abs(end) for end in case.wanted) + 1e-12
    return all(abs(one - other) <= slack for one, other in zip(found, case.wanted, strict=True))


def _idle(figure: WrittenFigure, cases: list[tuple[int, ReadCase]], number: int, letter: str) -> IdlePart | None:
    """Return the letter that may be anything and no case would notice; None where one does."""
    way, own = figure.ways[number], [case for at, case in cases if at == number]
    if not own or any(_moved(figure, way, case, letter) for case in own):
        return None
    return IdlePart(f"{letter} nudged by a twentieth", own[0].place)


def _moved(figure: WrittenFigure, way: WrittenWay, case: ReadCase, letter: str) -> bool:
    before = way_range(way, figure.measure, case.given)
    for factor in _NUDGES:
        nudged: Iterator[float] = (end * factor for end in case.given[letter])
        low, high = nudged
        after = way_range(way, figure.measure, {**case.given, letter: (low, high)})
        if before is not None and after is not None and after != before:
            return True
    return False
