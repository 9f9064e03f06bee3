"""What is written beside each thing of a drawing, and the drawing told in words for those who hear it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from rigcheck.condition.wording import listed_words, value_words
from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import MISSING, Rig, Thing

__all__ = ["details_of", "lean_words", "name_of", "told_in_words"]


def name_of(thing: Thing) -> str:
    """Return what a thing is called in the drawing: as in a report, the trade's word of a valve with it."""
    controls = thing.facts.get("controls")
    return f"{thing.label} ({controls})" if isinstance(controls, str) else thing.label


def details_of(thing: Thing) -> list[str]:
    """Return what is told of a thing beneath its name; what is not stated is said so where it matters."""
    return [told for told in _DETAILS.get(thing.kind.name, _nothing)(thing) if told]


def _stated(thing: Thing, fact: str, before: str = "", after: str = "") -> str:
    value = thing.facts.get(fact, MISSING)
    return "" if value is MISSING else f"{before}{value_words(value)}{after}"


def _asked(thing: Thing, fact: str, called: str) -> str:
    return _stated(thing, fact) or f"{called} not stated"


def _joined(*told: str) -> str:
    return ", ".join(dict.fromkeys(filter(None, told)))


def _nothing(thing: Thing) -> Iterator[str]:
    yield from ()


def _line(thing: Thing) -> Iterator[str]:
    stands = thing.facts.get("stands")
    places = {"left": "stands on the left", "right": "stands on the right", "off-trolley": "stands off the trolley"}
    yield places.get(str(stands), "side not stated")


def _cylinder(thing: Thing) -> Iterator[str]:
    yield _stated(thing, "water_capacity")
    yield _stated(thing, "working_pressure", "full ")
    yield _stated(thing, "pressure", "now ")
    yield _stated(thing, "shoulder_colour", "shoulder ").replace("other", "of another colour")
    yield "not upright" if thing.facts.get("upright") is False else ""


def _regulator(thing: Thing) -> Iterator[str]:
    yield _stated(thing, "set_pressure", "set to ") or "setting not stated"
    for key in ("inlet_gauge", "outlet_gauge"):
        gauge = thing.facts.get(key)
        if isinstance(gauge, Thing):
            yield f"{key.replace('_', ' ')} {_stated(gauge, 'full_scale', 'to ') or 'not described'}"
        else:
            yield f"no {key.replace('_', ' ')}"


def _arrester(thing: Thing) -> Iterator[str]:
    yield _joined(_asked(thing, "functions", "functions"), _direction(thing))


def _direction(thing: Thing) -> str:
    words = {"with-flow": "with the flow", "against-flow": "AGAINST the flow", "not-marked": "no arrow"}
    return words.get(str(thing.facts.get("direction")), "direction not stated")


def _non_return(thing: Thing) -> Iterator[str]:
    yield _direction(thing)


def _hose(thing: Thing) -> Iterator[str]:
    yield _joined(
        _asked(thing, "colour", "colour"),
        _stated(thing, "bore", "bore ") or "bore not stated",
        _stated(thing, "length", after=" long") or "length not stated",
    )


def _pigtail(thing: Thing) -> Iterator[str]:
    yield _joined(_stated(thing, "made_of"), _stated(thing, "length"))


def _formed(thing: Thing) -> Iterator[str]:
    yield _stated(thing, "form")


def _manifold(thing: Thing) -> Iterator[str]:
    yield _stated(thing, "cylinder_count", "for ", " cylinders")


def _outlet_point(thing: Thing) -> Iterator[str]:
    yield _stated(thing, "pipe_pressure", "piping at ")


def _torch(thing: Thing) -> Iterator[str]:
    yield _joined(_asked(thing, "form", "form"), _stated(thing, "mixing"))


def _nozzle(thing: Thing) -> Iterator[str]:
    yield _joined(_asked(thing, "size", "size"), _stated(thing, "gas"), _stated(thing, "form"))


def _pair(thing: Thing) -> Iterator[str]:
    yield _stated(thing, "held_by", "held by ") or "how it is held together is not stated"


def _trolley(thing: Thing) -> Iterator[str]:
    yield lean_words(thing)


_DETAILS: Mapping[str, Callable[[Thing], Iterator[str]]] = {
    "line": _line,
    "cylinder": _cylinder,
    "regulator": _regulator,
    "arrester": _arrester,
    "non-return valve": _non_return,
    "hose": _hose,
    "pigtail": _pigtail,
    "joiner": _formed,
    "header": _formed,
    "manifold": _manifold,
    "outlet point": _outlet_point,
    "torch": _torch,
    "nozzle": _nozzle,
    "hose pair": _pair,
    "trolley": _trolley,
}


def lean_words(trolley: Thing) -> str:
    """Return the lean of a trolley in words; a rig file says how far, not which way."""
    tilt = trolley.facts.get("tilt", MISSING)
    if tilt is MISSING:
        return "lean not stated; drawn upright"
    way = "" if isinstance(tilt, Interval) and tilt.hi <= 0 else "; which way is not stated, drawn to the right"
    return f"leans {value_words(tilt)} from vertical{way}"


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
    return dict.fromkeys(end for end in ends if end.kind.name == "torch")


def _in_words(part: Thing) -> str:
    told = "; ".join(details_of(part))
    own = f"{part.key} {part.number}" if part.number else part.key
    return f"{own} ({told})" if told else own
