"""Which standard rig a rig begins from: a few questions that tell the standard rigs apart, asked of what they say.

The questions are made from the standard rigs themselves: what is not told apart is not asked.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

from msgspec import Struct

from rigcheck.rig.thing import Rig, Thing

__all__ = ["Beginning", "Choice", "beginning_of", "begun_description", "built_description", "next_choice"]

_OXYGEN = "oxygen"
_OXYGEN_ALONE = "no fuel gas, oxygen alone"


class Beginning(Struct, frozen=True):
    """A standard rig and what tells it apart: answers by question, in the order in which they are asked.

    `process`: what is done with it, or nothing.
    """

    name: str
    title: str
    marks: Mapping[str, str]
    process: str = ""


class Choice(Struct, frozen=True):
    """One question, and for each of its answers the standard rigs that are left."""

    ask: str
    answers: Mapping[str, tuple[Beginning, ...]]


def beginning_of(name: str, rig: Rig) -> Beginning:
    """Return what tells a standard rig apart from others."""
    job, torches = rig.root.facts.get("job"), rig.root.facts.get("torch") or ()
    process = str(job.facts.get("process") or "") if isinstance(job, Thing) else ""
    lines: tuple[Thing, ...] = rig.root.facts.get("lines") or ()
    gases = [line.gas_word for line in lines]
    marks = {
        "What is done with the torch?": process or "something else",
        "Which fuel gas?": next((gas.replace("-", " ") for gas in gases if gas != _OXYGEN), _OXYGEN_ALONE),
        "Is there oxygen, or does the torch draw in air?": _OXYGEN if _OXYGEN in gases else "air alone",
        "Where does the gas come from?": _supply(lines),
        "How many torches?": str(len(torches)),
        "On what does it stand?": "a trolley" if rig.root.facts.get("trolley") else "no trolley",
    }
    return Beginning(name, rig.name, marks, process)


def _supply(lines: Iterable[Thing]) -> str:
    kinds = {part.kind.name for line in lines for part in line.facts.get("parts") or ()}
    for kind, words in (
        ("manifold", "several cylinders coupled together"),
        ("bulk tank", "a bulk tank"),
        ("outlet point", "an outlet at the wall"),
    ):
        if kind in kinds:
            return words
    return "one cylinder for each gas"


def next_choice(left: Iterable[Beginning]) -> Choice | None:
    """Return the next question that tells some of them apart; None where one is left, or none can be."""
    listed = tuple(left)
    if len(listed) < 2:
        return None
    for ask in listed[0].marks:
        answers: dict[str, tuple[Beginning, ...]] = {}
        for one in listed:
            answers[one.marks[ask]] = (*answers.get(one.marks[ask], ()), one)
        if len(answers) > 1:
            return Choice(ask, answers)
    return Choice("Which of these is it like?", {one.title: (one,) for one in listed})


def begun_description(called: str, local_code: str, standard: str, process: str = "") -> str:
    """Return the description of a rig that begins from a standard rig: all else is presumed until somebody looks.

    `process`: what is done with it, which whoever begins it was asked, and is not asked twice.
    """
    head = "# What the standard rig says is presumed until somebody looks: rigcheck ask\n"
    told = f"{head}rig: {json.dumps(called, ensure_ascii=False)}\nlocal_code: {local_code}\nstandard_rig: {standard}\n"
    return told + (f"job: {{process: {process}}}\n" if process else "")


def built_description(
    called: str, local_code: str, lines: Iterable[tuple[str, Iterable[str]]], ends: Iterable[str]
) -> str:
    """Return the description of a rig that was put together part by part: all else is not known until somebody looks.

    `lines`: gas and the kinds of its parts in order of the flow; `ends`: what the rig has besides, as torch or trolley.
    """
    head = "# Put together part by part; all else is not known until somebody looks: rigcheck ask\n"
    told = f"{head}rig: {json.dumps(called, ensure_ascii=False)}\nlocal_code: {local_code}\nlines:\n"
    rows = [f"  - gas: {gas}\n    parts: [{', '.join(parts)}]\n" for gas, parts in lines]
    return told + "".join(rows) + "".join(f"{one}: {{}}\n" for one in ends)
