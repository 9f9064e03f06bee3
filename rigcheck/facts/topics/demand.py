"""What each line gives while its torches burn, on average over the work, and for how long it lasts."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil
from typing import Any

from rigcheck.facts.figure import Figure, Look, Used, Wants, Way
from rigcheck.facts.topics.gathering import as_stated, collected, of_cylinders, values_of
from rigcheck.physics.endurance import endurance
from rigcheck.physics.intervals import Span, carried, divided, hull, multiplied
from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["FIGURES"]

_SLACK = 1e-9  # relative; a whole number that arithmetic pushed up by a rounding error is still whole

_lasts = carried(endurance)


def _torches_on(line: Thing) -> list[Thing]:
    return [torch for torch in line.facts["rig"].facts.get("torch") or () if line in torch.facts.get("lines", ())]


def _at_once(line: Thing, torches: int) -> Used | Wants:
    """Return how many of a line's torches burn at once: as stated of the line, or of the job."""
    job = line.facts["rig"].facts.get("job")  # none where 'job: none' was written
    for owner, fact in ((line, "torches_fed"), (job, "torches_in_use")):
        value = owner.facts.get(fact, MISSING) if isinstance(owner, Thing) else MISSING
        if type(value) is Interval:
            return Used("n", owner, fact, value)
    if torches == 1:
        return Used("n", line, "torches_fed", Interval(1.0, 1.0, "count", "1"))
    return Wants(((line, "torches_fed"),))


def _of_torches(fact: str) -> Callable[[Thing, Look], Any]:
    def gather(line: Thing, look: Look) -> Any:
        torches = _torches_on(line)
        if not torches:
            return None
        flows, count = collected(torches, fact, look, "q"), _at_once(line, len(torches))
        if isinstance(flows, Wants):
            return flows
        return count if isinstance(count, Wants) else (count, *flows)

    return gather


def _largest(gathered: tuple[Used, ...]) -> Span | None:
    """Return the flow of as many of the largest torches as burn at once."""
    flows, (least, most) = values_of(gathered, "q"), values_of(gathered, "n")[0]
    if most > len(flows) > 1 and least > len(flows):
        return None
    lows, highs = (sorted((flow[end] for flow in flows), reverse=True) for end in (0, 1))
    return _top(lows, int(least)), _top(highs, ceil(most))


def _top(flows: list[float], count: int) -> float:
    return flows[0] * count if len(flows) == 1 else sum(flows[:count])


def _duties(line: Thing, look: Look) -> Any:
    torches = _torches_on(line)
    return collected(torches, "burning_share", look, "d") if torches else None


def _mean(demand: Span, gathered: tuple[Used, ...]) -> Span:
    return multiplied(demand, hull(values_of(gathered, "d")))


def _endurance(usable: Span, flow: Span) -> Span | None:
    return _lasts(usable=usable, flow=flow) if flow[0] > 0.0 else None


def _cylinders(flow: Span, hours: Span, gathered: tuple[Used, ...]) -> Span | None:
    return _whole(multiplied(flow, hours), hull(values_of(gathered, "V")))


def _spares(flow: Span, hours: Span, usable: Span, gathered: tuple[Used, ...]) -> Span | None:
    need = multiplied(flow, hours)
    short = max(0.0, need[0] - usable[1]), max(0.0, need[1] - usable[0])
    return _whole(short, hull(values_of(gathered, "V")))


def _whole(amount: Span, each: Span) -> Span | None:
    count = divided(amount, each)
    return None if count is None else (ceil(count[0] * (1.0 - _SLACK)), ceil(count[1] * (1.0 - _SLACK)))


def _lasting(rig: Thing, look: Look) -> Any:
    """Gather the endurance of every line that draws from cylinders."""
    lines = [line for line in rig.facts.get("lines") or () if of_cylinders("kind", "")(line, look)]
    return collected(lines, "endurance", look, "t") if len(lines) > 1 else None


def _first(gathered: tuple[Used, ...]) -> str | None:
    """Return the gas whose longest time is shorter than every other gas's shortest; None where they overlap."""
    for used in gathered:
        others = [one.value.lo for one in gathered if one is not used]
        if used.value.hi < min(others) and used.owner is not None:
            return str(used.owner.facts.get("gas"))
    return None


_ONE_CYLINDER = "each cylinder full; drawn until the residual pressure, of acetylene as warm as it was filled"
_LONG_RUN = {"flow": "mean_demand", "hours": "rig.job.hours_per_day"}

FIGURES: tuple[Figure, ...] = (
    Figure(
        "line",
        "demand",
        (
            as_stated("consumption"),
            Way(
                "q = sum of the fuel of the n largest torches, n of them burning at once",
                "arithmetic",
                _largest,
                only={"fuel": (True,)},
                gather=_of_torches("fuel_demand"),
            ),
            Way(
                "q = sum of the oxygen of the n largest torches, n of them burning at once",
                "arithmetic",
                _largest,
                only={"gas": ("oxygen",)},
                gather=_of_torches("oxygen_demand"),
            ),
        ),
        0.1,
        "rows of nozzle tables are rounded, and a flame is set by eye",
    ),
    Figure(
        "line",
        "mean_demand",
        (
            Way(
                "q_mean = q d; d = share of the working time in which the torches burn",
                "arithmetic",
                _mean,
                inputs={"demand": "demand"},
                gather=_duties,
                validity="over the work; where torches differ, from the least share to the greatest",
            ),
        ),
    ),
    Figure(
        "line",
        "endurance",
        (
            Way(
                "t = V / q_mean",
                "arithmetic",
                _endurance,
                inputs={"usable": "drawable_content", "flow": "mean_demand"},
                validity="to the residual pressure, an acetylene cylinder as cold as the draw makes it",
            ),
        ),
    ),
    Figure(
        "line",
        "cylinders_for_job",
        (
            Way(
                "n = q_mean t / V_full, rounded up",
                "arithmetic",
                _cylinders,
                inputs=_LONG_RUN,
                gather=of_cylinders("usable_when_full", "V"),
                validity=_ONE_CYLINDER,
            ),
        ),
    ),
    Figure(
        "line",
        "spares_needed",
        (
            Way(
                "n = (q_mean t - V_usable) / V_full, rounded up, not below 0",
                "arithmetic",
                _spares,
                inputs=_LONG_RUN | {"usable": "drawable_content"},
                gather=of_cylinders("usable_when_full", "V"),
                validity=_ONE_CYLINDER,
            ),
        ),
    ),
    Figure(
        "rig",
        "first_to_run_out",
        (
            Way(
                "the gas with the shortest time",
                "arithmetic",
                _first,
                gather=_lasting,
                validity="the times do not overlap: where they do, either gas may run out first",
            ),
        ),
    ),
)
"""The figures of this topic."""
