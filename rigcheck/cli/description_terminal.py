"""What was seen, written into the description of a rig: the difference is shown on the terminal, and then asked."""

from __future__ import annotations

from rigcheck.cli.ask_terminal import Keyboard
from rigcheck.cli.console import Console
from rigcheck.cli.description_on_disk import DescriptionOnDisk
from rigcheck.quantity.wording import counted
from rigcheck.report.text.difference import MORE, difference
from rigcheck.report.text.layout import Line, labelled, wrapped

__all__ = ["offer_description"]

_WRITE, _LEAVE = "write it in", "leave it in the look"


def offer_description(made: DescriptionOnDisk, console: Console, keys: Keyboard) -> bool:
    """Show what would be written, ask, and write it; return whether it was. Raises `ProblemFound`."""
    facts = counted(made.facts, "fact")
    told = f"{facts} that were seen last until a thing is changed, and may stand in {made.rig}:"
    console.show([Line(), *wrapped(told, console.width, style="head")])
    for sign, row in difference(made.text, made.written.text):
        console.show([Line((("place" if sign == MORE else "quiet", f"{sign} {row}"),))])
    otherwise = sum(len(one.otherwise) for one in made.written.sights)
    if otherwise:
        told = "Where something else is written, both stay: strike out by hand what is wrong."
        console.show(wrapped(told, console.width, style="stress"))
    for number, word in enumerate((_WRITE, _LEAVE), start=1):
        console.show(labelled(f"{number:>3}", word, console.width, column=6))
    while (typed := _line(keys)) not in ("1", "2", _WRITE, _LEAVE, "q"):
        console.show(wrapped("Write 1 or 2.", console.width, style="stress"))
    if typed not in ("1", _WRITE):
        told = "Nothing was written. What was seen counts as it stands in the look."
        console.show(wrapped(told, console.width))
        return False
    made.write()
    console.show(wrapped(f"Written into {made.rig}. The look stays beside it, as the witness.", console.width))
    return True


def _line(keys: Keyboard) -> str:
    try:
        return keys("> ", [_WRITE, _LEAVE]).strip()
    except EOFError:
        return "q"
