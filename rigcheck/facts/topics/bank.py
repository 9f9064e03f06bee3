"""What the parts of a bank and of a line come to, beside what is written of them as a whole."""

from __future__ import annotations

from collections.abc import Iterator

from rigcheck.facts.figure import Figure, Look, Used, Wants, Way
from rigcheck.facts.topics.gathering import collected, values_of
from rigcheck.physics.intervals import Span
from rigcheck.quantity.interval import Interval, worked_out
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["FIGURES"]

_MANIFOLD = "manifold"


def _before(manifold: Thing) -> list[list[Thing]]:
    """Return for each cylinder of a bank the parts from it to the manifold, itself first."""
    line = manifold.facts.get("line")
    parts: tuple[Thing, ...] = line.facts.get("parts", ()) if isinstance(line, Thing) else ()
    runs = [list(_run(part)) for part in parts if "cylinder" in part.kind.lineage]
    return [run for run in runs if run[-1].facts.get("downstream") is manifold]


def _run(part: Thing) -> Iterator[Thing]:
    at: Thing | None = part
    while at is not None and _MANIFOLD not in at.kind.lineage:
        yield at
        at = at.facts.get("downstream")


def _each(kind: str) -> Way:
    """Return the way that looks for a kind of part between each cylinder and the manifold."""

    def gather(manifold: Thing, look: Look) -> tuple[Used, ...] | None:
        runs = _before(manifold)
        counts = (sum(kind in one.kind.lineage for one in run) for run in runs)
        found = tuple(
            Used("n", run[0], f"{kind}s before the manifold", worked_out(count, count, "count"))
            for run, count in zip(runs, counts, strict=True)
        )
        return found or None

    return Way(
        f"yes where there is one {kind} or more between each cylinder and the manifold",
        "count",
        lambda gathered: all(low >= 1.0 for low, _ in values_of(gathered, "n")),
        gather=gather,
        asks=False,
    )


def _cylinders(manifold: Thing, look: Look) -> tuple[Used, ...] | None:
    runs = _before(manifold)
    count = worked_out(len(runs), len(runs), "count")
    return (Used("n", manifold, "cylinders in its branches", count),) if runs else None


def _every_cylinder(fact: str, formula: str, wrong: tuple[object, ...]) -> Way:
    """Return the way that asks of each cylinder what is written of them all."""

    def gather(manifold: Thing, look: Look) -> tuple[Used, ...] | Wants | None:
        cylinders = [run[0] for run in _before(manifold)]
        return collected(cylinders, fact, look, "each") if cylinders else None

    return Way(
        formula, "count", lambda gathered: all(one.value not in wrong for one in gathered), gather=gather, asks=False
    )


def _pressures(manifold: Thing, look: Look) -> tuple[Used, ...] | Wants | None:
    """Gather the pressure of each cylinder that feeds; one that is taken out of use may show what it likes."""
    found, unread = [], []
    for run in _before(manifold):
        cylinder = run[0]
        if cylinder.facts.get("empty") is True or cylinder.facts.get("in_use") is False:
            continue
        value = cylinder.facts.get("pressure", MISSING)
        if isinstance(value, Interval):
            found.append(Used("p", cylinder, "pressure", value))
        else:
            unread.append((cylinder, "pressure"))
    return Wants(unread) if unread else tuple(found) if len(found) > 1 else None


def _spread(gathered: tuple[Used, ...]) -> Span | None:
    spans = values_of(gathered, "p")
    least, greatest = min(lo for lo, _ in spans), max(hi for _, hi in spans)
    surely = max(max(lo for lo, _ in spans) - min(hi for _, hi in spans), 0.0)
    top = max(hi for _, hi in spans)
    return (surely / top, (greatest - least) / top) if top > 0.0 else None


def _counted(formula: str, gather: object) -> Way:
    return Way(formula, "count", lambda gathered: values_of(gathered, "n")[0], gather=gather, asks=False)  # type: ignore[arg-type]


FIGURES: tuple[Figure, ...] = (
    Figure(_MANIFOLD, "cylinder_count", (_counted("n = cylinders written in its branches", _cylinders),)),
    Figure(_MANIFOLD, "arrester_per_cylinder", (_each("arrester"),)),
    Figure(
        _MANIFOLD,
        "cylinders_upright",
        (_every_cylinder("upright", "yes where every cylinder of it stands upright", (False,)),),
    ),
    Figure(
        _MANIFOLD,
        "cylinders_secured",
        (_every_cylinder("secured", "yes where every cylinder of it is held by something", ("none", "leaning")),),
    ),
    Figure(
        _MANIFOLD,
        "pressure_spread",
        (
            Way(
                "s = (greatest - least)/greatest of the cylinders' pressures",
                "arithmetic",
                _spread,
                gather=_pressures,
                validity="gauge pressures of cylinders that feed",
                asks=False,
            ),
        ),
    ),
)
"""The figures of this topic."""
