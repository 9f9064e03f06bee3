"""Along a line, from what sets its pressure to its torches: what follows a part, what it passes, what it must give."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import Any

from rigcheck.facts.figure import Look, Used, Wants
from rigcheck.facts.topics.gathering import collected
from rigcheck.rig.thing import MISSING, Thing

__all__ = [
    "LOSES",
    "RATED_FLOW",
    "SETS",
    "course_number",
    "ends_of",
    "feeds_of",
    "flow_of",
    "inlet_course_of",
    "inlet_needs_of",
    "joiners_of",
    "lone_end_of",
    "needs_of",
    "nozzles_of",
    "outlet_of",
    "rating_of",
    "settings_of",
    "sizing_of",
]

LOSES = "loses pressure"
"""The trait of the parts whose loss is worked out."""

RATED_FLOW = "rated flow"
"""The trait of those that lose what their maker's table says."""

SETS = "sets pressure"
"""The trait of the parts that set the pressure behind them; their kinds name the fact that says to what."""


# --- what lies along the flow ---


def _following(part: Thing) -> list[Thing]:
    """Return what the gas of a part goes to: several parts after one that shares it out."""
    if part.kind.branches == "share":
        parts = part.facts["line"].facts.get("parts", ())
        after = [one for one in parts if one.facts.get("upstream") is part]
        if after:
            return after
    last = part.facts.get("downstream")
    return [last] if isinstance(last, Thing) else []


def _next_stops(part: Thing) -> list[Thing]:
    """Return the next parts that lose or set a pressure, and torches, that the gas comes to."""
    found: list[Thing] = []
    ahead = _following(part)
    while ahead:
        one = ahead.pop(0)
        if LOSES in one.kind.lineage or one.kind.sets_pressure or "torch" in one.kind.lineage:
            found.append(one)
        else:
            ahead = _following(one) + ahead
    return found


def _ends_after(part: Thing) -> list[Thing]:
    """Return the torches that a part leads to, each as often as a branch ends in it; itself where none follows."""
    found: list[Thing] = []
    ahead = [part]
    while ahead:
        one = ahead.pop()
        after = _following(one) if "torch" not in one.kind.lineage else []
        ahead += after
        found += [] if after else [one]
    return found


def _before(part: Thing) -> Iterator[Thing]:
    """Yield the parts before a part, up to the one that sets its pressure."""
    one = part.facts.get("upstream")
    while isinstance(one, Thing):
        yield one
        if one.kind.sets_pressure:
            return
        one = one.facts.get("upstream")


def _feed_of(part: Thing) -> Thing | None:
    last = None
    for last in _before(part):  # noqa: B007 the last one is what is looked for
        pass
    return last if last is not None and last.kind.sets_pressure else None


def feeds_of(line: Thing) -> list[Thing]:
    """Return what sets the pressure at the torches of a line: its last regulator, one in each branch, or its pipe."""
    ends = line.facts.get("torch_end", ())
    found = (end if end.kind.sets_pressure else _feed_of(end) for end in ends)
    return [one for one in dict.fromkeys(found) if one is not None]


# --- what flows, and at which setting ---


def flow_of(part: Thing, look: Look) -> Any:
    """Gather what a part passes: the line's demand, or on a branch that of its own torches and no more than that."""
    line = part.facts.get("line")  # none for an arrester that is built into a torch
    if not isinstance(line, Thing):
        return None
    all_ends = line.facts.get("torch_end", ())
    ends = _ends_after(part) if len(all_ends) > 1 else []
    if len(all_ends) <= 1 or len(ends) >= len(all_ends):
        return collected((line,), "demand", look, "q_part" if _in_branch_of_supply(part, line) else "q")
    if any("torch" not in end.kind.lineage for end in ends):
        return None
    fuel = look.fact(line, "fuel")
    if fuel is MISSING:
        return look.wants(line, "fuel")
    torches = [(torch, _share_name(torch, ends, all_ends)) for torch in dict.fromkeys(ends)]
    fact = "fuel_demand" if fuel else "oxygen_demand"
    own = [collected((torch,), fact, look, name) for torch, name in torches]
    return _joined(own if len(own) == 1 else [*own, collected((line,), "demand", look, "q_line")])


def _in_branch_of_supply(part: Thing, line: Thing) -> bool:
    """Return whether a part stands in one of several branches that gather: what each of them gives is not known."""
    after = part.facts.get("downstream")
    while isinstance(after, Thing) and not after.kind.sets_pressure:
        if after.kind.branches == "gather":
            return sum(one.facts.get("downstream") is after for one in line.facts.get("parts", ())) > 1
        after = after.facts.get("downstream")
    return False


def _share_name(torch: Thing, ends: list[Thing], all_ends: Iterable[Thing]) -> str:
    """Return `q_part` where other branches lead to the torch too: what each passes is not known."""
    fed = sum(end.facts.get("downstream") is torch for end in all_ends)
    return "q" if fed == ends.count(torch) else "q_part"


def rating_of(part: Thing, look: Look) -> Any:
    """Gather the pressure at which a part is rated: that to which what feeds it is set."""
    feed = _feed_of(part)
    return None if feed is None else collected((feed,), feed.kind.sets_pressure, look, "p_set")


def settings_of(line: Thing, look: Look) -> Any:
    """Gather what the pressure at the torches of a line is set to, or of one that feeds no torch at its end."""
    feeds = feeds_of(line) or [part for part in line.facts.get("parts", ()) if part.kind.sets_pressure][-1:]
    return _joined(collected((feed,), feed.kind.sets_pressure, look, "p") for feed in feeds)


def needs_of(line: Thing, look: Look) -> Any:
    """Gather the pressures that what feeds the torches of a line must give."""
    feeds = feeds_of(line)
    return collected(feeds, "outlet_needed", look, "p") if feeds else None


def inlet_needs_of(regulator: Thing, look: Look) -> Any:
    """Gather the setting of a regulator behind another, or behind a pipeline, and its margin: its own, or the limit."""
    if _feed_of(regulator) is None:
        return None
    own, limit = look.fact(regulator, "least_difference"), look.limit("regulator_margin")
    if own is MISSING and limit is MISSING:
        return None
    margin = Used("margin", None, "regulator_margin", limit)
    if own is not MISSING:
        margin = Used("margin", regulator, "least_difference", own)
    return _joined((collected((regulator,), "set_pressure", look, "p_set"), (margin,)))


# --- what the torches want ---


def _nozzle_pressures(torches: Collection[Thing], line: Thing, look: Look, name: str = "p") -> Any:
    fuel = look.fact(line, "fuel")
    if fuel is MISSING:
        return look.wants(line, "fuel")
    nozzles = [nozzle for torch in torches for nozzle in torch.facts.get("nozzle") or ()]
    lances = [] if fuel else [torch for torch in torches if look.fact(torch, "form") == "oxygen-lance"]
    burners = (nozzles, "fuel_pressure" if fuel else "oxygen_pressure"), (lances, "lance_pressure")
    return _joined(collected(things, fact, look, name) for things, fact in burners)


def nozzles_of(line: Thing, look: Look) -> Any:
    """Gather the pressures that the nozzles at the ends of a line want."""
    ends = line.facts.get("torch_end", ())
    torches = [end.facts["downstream"] for end in ends if end.facts.get("downstream")]
    return _nozzle_pressures(dict.fromkeys(torches), line, look)


def outlet_of(part: Thing, look: Look) -> Any:
    """Gather the pressures that the next parts need: a nozzle's own, a regulator's inlet, or outlet and drop."""
    stops = _next_stops(part) if part.facts.get("downstream") is not None else []
    _settle(stops, look)
    return _joined(_inlet_of(one, part.facts["line"], look, f"p{n}") for n, one in enumerate(stops))


def _settle(stops: list[Thing], look: Look) -> None:
    """Work the parts behind out from the last to the first, so that a long line is no deep recursion."""
    ahead, behind = list(stops), []
    while ahead:
        one = ahead.pop()
        if LOSES in one.kind.lineage and "drop" not in one.facts and "drop" not in one.wanting:
            behind.append(one)
            ahead += _next_stops(one)
    for one in reversed(behind[1:]):
        look.fact(one, "drop")


def _inlet_of(one: Thing, line: Thing, look: Look, name: str) -> Any:
    if "torch" in one.kind.lineage:
        return _nozzle_pressures((one,), line, look)
    if one.kind.sets_pressure:
        return None if _feed_of(one) is None else collected((one,), "inlet_needed", look, name)
    return _joined((collected((one,), "outlet_needed", look, name), collected((one,), "drop", look, name)))


# --- what is lost on the way to one place ---


def ends_of(line: Thing, look: Look) -> Any:
    """Gather for each torch what feeds it, what is lost on the way, and what its nozzle wants."""
    return _all_ends(line.facts.get("torch_end", ()), line, look)


def lone_end_of(line: Thing, look: Look) -> Any:
    """Gather nothing; None where the line ends in several torches, or in none."""
    return () if len(line.facts.get("torch_end", ())) == 1 else None


def sizing_of(hose: Thing, look: Look) -> Any:
    """Gather the same for each torch and regulator behind a hose, and how many joiners the hose has."""
    ends = [end for end in hose.facts["line"].facts.get("torch_end", ()) if end is hose or hose in _before(end)]
    served = [one for one in hose.facts["line"].facts["parts"] if one.kind.sets_pressure and hose in _before(one)]
    courses = [_end_of(end, hose.facts["line"], look, course_number(n)) for n, end in enumerate(ends)]
    for n, one in enumerate(served, start=len(ends)):
        way = _course_to(one.facts["upstream"], look, course_number(n))
        wants = collected((one,), "inlet_needed", look, f"p_inlet{course_number(n)}")
        courses.append(None if way is None else _joined((way, wants)))
    return _joined((joiners_of(hose, look), *courses)) if courses else None


def _all_ends(ends: Iterable[Thing], line: Thing, look: Look) -> Any:
    return _joined(_end_of(end, line, look, course_number(n)) for n, end in enumerate(ends))


def course_number(place: int) -> str:
    """Return what the inputs of a course are numbered with: the first with nothing."""
    return str(place + 1) if place else ""


def _end_of(end: Thing, line: Thing, look: Look, number: str) -> Any:
    torch = end.facts.get("downstream")
    if not isinstance(torch, Thing):
        return None
    wants = _nozzle_pressures((torch,), line, look, f"p_nozzle{number}")
    return None if wants is None else _joined((wants, _course_to(end, look, number)))


def inlet_course_of(regulator: Thing, look: Look) -> Any:
    """Gather what feeds a regulator behind another, or behind a pipeline, and what is lost on the way."""
    before = regulator.facts.get("upstream")
    return _course_to(before, look, "") if isinstance(before, Thing) else None


def _course_to(last: Thing, look: Look, number: str) -> Any:
    path = [last, *_before(last)] if not last.kind.sets_pressure else [last]
    feed, lossy = path[-1], [one for one in path if LOSES in one.kind.lineage]
    if not feed.kind.sets_pressure:
        return None
    return _joined(
        (
            collected((feed,), feed.kind.sets_pressure, look, f"p_set{number}"),
            collected(lossy, "outlet_needed", look, f"out{number}"),
            collected(lossy, "drop", look, f"drop{number}"),
        )
    )


def joiners_of(hose: Thing, look: Look) -> Any:
    """Gather how many joiners a hose has."""
    value = hose.facts.get("joiners", MISSING)
    return Wants(((hose, "joiners"),)) if value is MISSING else (Used("joiners", hose, "joiners", value),)


def _joined(sides: Iterable[Any]) -> Any:
    """Return all that was gathered, or all that is wanted; None where one of them does not apply."""
    found: list[Used] = []
    wanted: list[Any] = []
    for side in sides:
        if side is None:
            return None
        (wanted if isinstance(side, Wants) else found).extend(side)
    return Wants(dict.fromkeys(wanted)) if wanted else (tuple(found) or None)
