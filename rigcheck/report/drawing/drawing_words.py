"""What is written beside each thing of a drawing, and the drawing told in words for those who hear it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from rigcheck.condition.wording import listed_words, value_words
from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import MISSING, Rig, Thing

__all__ = ["details_of", "lean_words", "name_of", "told_in_words"]


def name_of(thing: Thing) -> str:
    """Return what a thing is called in the drawing: as in a report, the trade's word of a valve with it."""
    controls = thing.facts.get("controls")
    return f"{thing.label} ({controls})" if isinstance(controls, str) else thing.label


def details_of(thing: Thing) -> list[str]:
    """Return what is told of a thing beneath its name; what is not stated is said so where it matters.

    What that is stands in the vocabulary: `bore {bore}!, {length} long!` is a line of two facts.
    """
    lines = (_line(thing, line) for line in thing.kind.shown)
    return [told for told in lines if told]


def _line(thing: Thing, line: str) -> str:
    told = (_piece(thing, piece) for piece in line.split(", "))
    return ", ".join(dict.fromkeys(filter(None, told)))


def _piece(thing: Thing, piece: str) -> str:
    before, _, rest = piece.partition("{")
    fact, _, after = rest.partition("}")
    if fact in _IN_WORDS:
        return _IN_WORDS[fact](thing)
    value = thing.facts.get(fact, MISSING)
    if isinstance(value, Thing):
        full = value.facts.get("full_scale", MISSING)
        told = "not described" if full is MISSING else f"to {value_words(full)}"
        return f"{fact.replace('_', ' ')} {told}"
    if fact in thing.kind.holds:
        return f"no {fact.replace('_', ' ')}"
    if value is MISSING:
        return f"{fact.replace('_', ' ')} not stated" if after.endswith("!") else ""
    return f"{before}{value_words(value)}{after.removesuffix('!')}"


def _side(line: Thing) -> str:
    places = {"left": "stands on the left", "right": "stands on the right", "off-trolley": "stands off the trolley"}
    return places.get(str(line.facts.get("stands")), "side not stated")


def _direction(thing: Thing) -> str:
    words = {"with-flow": "with the flow", "against-flow": "AGAINST the flow", "not-marked": "no arrow"}
    return words.get(str(thing.facts.get("direction")), "direction not stated")


def _shoulder(cylinder: Thing) -> str:
    colour = cylinder.facts.get("shoulder_colour", MISSING)
    return "" if colour is MISSING else f"shoulder {value_words(colour)}".replace("other", "of another colour")


def _upright(cylinder: Thing) -> str:
    if cylinder.facts.get("upright") is not False:
        return ""
    lean = cylinder.facts.get("lean")
    return f"not upright, leans {value_words(lean)}" if isinstance(lean, Interval) else "not upright"


def _secured(cylinder: Thing) -> str:
    told = {"none": "NOT SECURED", "leaning": "only leans against something"}
    return told.get(str(cylinder.facts.get("secured")), "")


def lean_words(trolley: Thing) -> str:
    """Return the lean of a trolley in words; a rig file says how far, not which way."""
    tilt = trolley.facts.get("tilt", MISSING)
    if tilt is MISSING:
        return "lean not stated; drawn upright"
    way = "" if isinstance(tilt, Interval) and tilt.hi <= 0 else "; which way is not stated, drawn to the right"
    return f"leans {value_words(tilt)} from vertical{way}"


_IN_WORDS: Mapping[str, Callable[[Thing], str]] = {
    "stands": _side,
    "direction": _direction,
    "shoulder_colour": _shoulder,
    "upright": _upright,
    "secured": _secured,
    "tilt": lean_words,
}
"""Facts that are told in words of their own."""


def told_in_words(rig: Rig, findings: int) -> str:
    """Return what the drawing shows, for those who hear it read."""
    told = [f"{trolley.label.capitalize()}: {lean_words(trolley)}." for trolley in rig.of_kind("trolley")]
    told += [_line_in_words(line) for line in rig.of_kind("line")]
    told += [f"{_in_words(torch).capitalize()}." for torch in rig.root.facts.get("torch") or ()]
    pinned = {0: "No finding is", 1: "1 finding is"}.get(findings, f"{findings} findings are")
    return " ".join([*told, f"{pinned} pinned to the drawing."])


def _line_in_words(line: Thing) -> str:
    parts = [_in_words(part) for part in line.facts.get("parts", ())]
    torches = listed_words([torch.label for torch in _fed(line)], "and")
    end = f", to {torches}" if torches else ""
    return f"{line.label.capitalize()}, {'; '.join(details_of(line))}, in order of flow: {', '.join(parts)}{end}."


def _fed(line: Thing) -> Iterable[Thing]:
    ends = (joint.facts["downstream"] for joint in line.facts.get("joints", ()))
    return dict.fromkeys(end for end in ends if "torch" in end.kind.lineage)


def _in_words(part: Thing) -> str:
    told = "; ".join(details_of(part))
    own = f"{part.key} {part.number}" if part.number else part.key
    return f"{own} ({told})" if told else own
