"""Figures as data: what a fact is worked out from, how, and by whose formula.

A figure has one or more ways, tried in order; a way names its inputs by the path of facts that
leads to each from the thing. What cannot be worked out says which stated facts it waits for.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple, Protocol

from msgspec import Struct, field

from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import Thing, Wanted

__all__ = ["Figure", "Gather", "Look", "Used", "Wants", "Way", "Working", "end_of"]


class Wants(tuple[Wanted, ...]):
    """The stated facts without which a fact cannot be worked out."""

    __slots__ = ()


class Used(NamedTuple):
    """One input of a working: its name in the formula, and the fact that it is."""

    name: str
    owner: Thing | None
    fact: str
    value: Any


class Look(Protocol):
    """Finds facts, working out those that are computed.

    `as_last_seen`: a sight counts however old it is; `outlived`: whether one was met that is too old to count.
    """

    day: int
    as_last_seen: bool
    outlived: bool

    def fact(self, thing: Thing, name: str) -> Any:
        """Return the value of a fact of a thing, or MISSING."""

    def ready(self, thing: Thing, name: str) -> Any:
        """Return the value of a fact, or MISSING, with all of its witnesses heard."""

    def wants(self, thing: Thing, name: str) -> Wants:
        """Return the stated facts that a missing fact waits for: itself, if it can be stated."""

    def limit(self, name: str) -> Any:
        """Return the value of a limit, or MISSING where none is in force."""

    def table(self, name: str) -> tuple[Any, ...]:
        """Return the rows of a file of published tables."""


Gather = Callable[[Thing, Look], "tuple[Used, ...] | Wants | None"]
"""Finds the inputs of a way that no path leads to; None where the way does not apply."""


class Way(Struct, frozen=True):
    """One way to work out a figure.

    `inputs`: argument to path, such as `{"bore": "bore", "gas": "line.gas"}`; a path that begins with
    `limit:` names a limit. `only`: paths to the words (or True and False, or None for what is not there) for which the
    way applies.
    `gather`: finds further inputs along the flow.
    `work_out` is called with keyword arguments: a number comes as its interval (lo, hi) in base units
    (pressures are gauge), a word as text; gathered inputs come as `gathered`, a tuple of `Used`.
    `asks`: whether what this way lacks is asked for; False where a later way's inputs are easier to come by.
    It returns (lo, hi) in base units, a word, yes or no, or None where the figure is outside its validity.
    `stated`: takes what somebody stated as it is; then it is a witness beside the first of the other ways that
    comes out, and neither is a lid over the other.
    `data`: called likewise when a working is shown, returns the numbers from data that the formula takes.
    """

    formula: str
    source: str
    work_out: Callable[..., Any]
    inputs: Mapping[str, str] = field(default_factory=dict)
    only: Mapping[str, tuple[Any, ...]] = field(default_factory=dict)
    gather: Gather | None = None
    data: Callable[..., tuple[Used, ...]] | None = None
    validity: str = ""
    asks: bool = True
    stated: bool = False


class Figure(Struct, frozen=True):
    """A computed fact of a kind of thing; its measure and meaning stand in the vocabulary.

    `tolerance`: by how large a share of its value the model may be wrong, when it is held against what is
    stated; `because` says why it is as large as that.
    """

    kind: str
    name: str
    ways: tuple[Way, ...]
    tolerance: float = 0.0
    because: str = ""


class Working(NamedTuple):
    """How one figure came out for one thing; `value` is None where it is outside its validity.

    `found`: owner and value of each input of the way, in its order; `gathered`: its further inputs.
    """

    figure: Figure
    way: Way
    found: tuple[tuple[Thing | None, Any], ...]
    gathered: tuple[Used, ...]
    value: Any

    @property
    def used(self) -> tuple[Used, ...]:
        """Every input; made when it is asked for, since most figures are never shown."""
        paths = self.way.inputs.items()
        named = tuple(
            Used(name, owner, end_of(path), value)
            for (name, path), (owner, value) in zip(paths, self.found, strict=True)
        )
        data = self.way.data
        shown = data(**arguments_of(named), gathered=self.gathered) if data is not None else ()
        return (*named, *self.gathered, *shown)


def arguments_of(named: tuple[Used, ...]) -> dict[str, Any]:
    """Return named inputs as a formula takes them: a number as its interval (lo, hi), a word as text."""
    return {
        used.name: (used.value.lo, used.value.hi) if isinstance(used.value, Interval) else used.value for used in named
    }


def end_of(path: str) -> str:
    """Return the fact, or the limit, that a path leads to."""
    return path.removeprefix("limit:").rpartition(".")[2]
