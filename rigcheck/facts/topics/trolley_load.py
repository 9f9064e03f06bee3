"""What stands on a trolley: masses, and where the common centre of mass is."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple

from rigcheck.facts.figure import Figure, Look, Used, Wants, Way
from rigcheck.facts.topics.gathering import as_stated, collected, values_of
from rigcheck.physics.intervals import Span, added
from rigcheck.physics.stability import centre_of_mass
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["FIGURES", "STATICS", "Burden", "burdens", "height_of", "masses_and_centres", "offset_of"]

STATICS = "moment balance about the edge of the base, any text on statics"

_CENTRE_SHARE = (0.45, 0.5)  # of the height to the top of the guard: a cylinder is heavier below; common practice
_PLACES = ("left", "right")
_LETTERS = {"present_mass": "m", "standing_mass": "m", "gas_mass": "gas", "standing_centre": "z"}

# --- which cylinders stand there ---


def _on_trolley(trolley: Thing, look: Look) -> list[tuple[str, Thing]] | Wants:
    """Return the cylinders on a trolley, each with its side; none where the rig has more than one trolley."""
    if len(trolley.facts["rig"].facts.get("trolley") or ()) != 1:
        return []
    found: list[tuple[str, Thing]] = []
    wanted: list[Any] = []
    for line in trolley.facts["rig"].facts.get("lines") or ():
        cylinders = [part for part in line.facts.get("parts", ()) if "cylinder" in part.kind.lineage]
        place = look.fact(line, "stands")
        if cylinders and place is MISSING:
            wanted += look.wants(line, "stands")
        elif place in _PLACES:
            found += [(place, cylinder) for cylinder in cylinders]
    return Wants(wanted) if wanted else found


def _platform(cylinder: Thing, look: Look) -> Any:
    """Gather the height of the platform of the one trolley."""
    trolleys = cylinder.facts["rig"].facts.get("trolley") or ()
    return collected(trolleys, "platform_height", look, "platform") if len(trolleys) == 1 else None


def _loads(trolley: Thing, look: Look, facts: Iterable[str]) -> Any:
    """Gather facts of each cylinder on a trolley, named by fact and side; the way needs a cylinder."""
    cylinders = _on_trolley(trolley, look)
    if isinstance(cylinders, Wants):
        return cylinders
    found: list[Used] = []
    wanted: list[Any] = []
    for place, cylinder in cylinders:
        for fact in facts:
            one = collected((cylinder,), fact, look, f"{_LETTERS[fact]}_{place}")
            if isinstance(one, Wants):
                wanted += one
            else:
                found += one
    return Wants(dict.fromkeys(wanted)) if wanted else (tuple(found) or None)


def _present(trolley: Thing, look: Look) -> Any:
    return _loads(trolley, look, ("present_mass",))


def _masses(trolley: Thing, look: Look) -> Any:
    return _loads(trolley, look, ("standing_mass",))


def _gas(trolley: Thing, look: Look) -> Any:
    return _loads(trolley, look, ("gas_mass",))


def masses_and_centres(trolley: Thing, look: Look) -> Any:
    """Gather mass and centre of each cylinder on a trolley."""
    return _loads(trolley, look, ("standing_mass", "standing_centre"))


# --- mass and centre ---


class Burden(NamedTuple):
    """A cylinder on its side of a trolley: -1 left and 1 right; its mass, kg, and the height of its centre, m."""

    side: float
    mass: Span
    height: Span


def burdens(gathered: tuple[Used, ...]) -> list[Burden]:
    """Return the cylinders that were gathered with mass and centre."""
    return [
        Burden(side, mass, height)
        for place, side in zip(_PLACES, (-1.0, 1.0), strict=True)
        for mass, height in zip(values_of(gathered, f"m_{place}"), values_of(gathered, f"z_{place}"), strict=True)
    ]


def _sum(own: Span, gathered: tuple[Used, ...]) -> Span:
    return added([own, *_of_all(gathered, "m")])


def _of_all(gathered: tuple[Used, ...], letter: str) -> list[Span]:
    return [span for place in _PLACES for span in values_of(gathered, f"{letter}_{place}")]


def _emptied(loaded: Span, gathered: tuple[Used, ...]) -> Span:
    return max(0.0, loaded[0] - added(_of_all(gathered, "gas"))[1]), loaded[1]


def _whole_centre(own: Span, own_centre: Span, gathered: tuple[Used, ...]) -> Span | None:
    return height_of(own, own_centre, burdens(gathered))


def _whole_offset(own: Span, spacing: Span, gathered: tuple[Used, ...]) -> Span | None:
    sides = zip(_PLACES, (-1.0, 1.0), strict=True)
    standing = [Burden(side, mass, (0.0, 0.0)) for place, side in sides for mass in values_of(gathered, f"m_{place}")]
    return offset_of(own, spacing, standing)


def height_of(own: Span, own_centre: Span, standing: list[Burden]) -> Span | None:
    """Return how high the common centre of a trolley and what stands on it is, m, over every mass and height."""
    masses, heights = [own], [own_centre]
    for one in standing:
        masses.append(one.mass)
        heights.append(one.height)
    return centre_of_mass(masses=masses, places=heights)


def offset_of(own: Span, spacing: Span, standing: list[Burden]) -> Span | None:
    """Return how far the common centre is from the middle, m, over every mass; the trolley itself is in the middle."""
    sides = [(one.side, one.side) for one in standing]
    found = centre_of_mass(masses=[own, *(one.mass for one in standing)], places=[(0.0, 0.0), *sides])
    if found is None:
        return None
    low, high = found
    least = 0.0 if low <= 0.0 <= high else min(abs(low), abs(high))
    return least * spacing[0] / 2.0, max(abs(low), abs(high)) * spacing[1] / 2.0


def _guessed_centre(height: Span, gathered: tuple[Used, ...]) -> Span:
    platform = values_of(gathered, "platform")[0]
    return platform[0] + _CENTRE_SHARE[0] * height[0], platform[1] + _CENTRE_SHARE[1] * height[1]


_EMPTYING = "counted from empty to what it holds, since it empties where it stands"
_TARE_AND_GAS = {"tare": "tare_mass", "gas": "gas_mass"}

FIGURES: tuple[Figure, ...] = (
    Figure(
        "cylinder",
        "standing_mass",
        (
            Way(
                "m = tare to tare + gas in it now",
                "arithmetic",
                lambda tare, gas: (tare[0], tare[1] + gas[1]),
                inputs=_TARE_AND_GAS,
                validity=_EMPTYING,
            ),
            as_stated("gross_mass", alone=True),
        ),
    ),
    Figure(
        "cylinder",
        "standing_centre",
        (
            as_stated("centre_height"),
            Way(
                "z = platform + 0.45 to 0.5 of the height to the top of the guard",
                "common practice",
                _guessed_centre,
                inputs={"height": "height"},
                gather=_platform,
                validity="an upright cylinder of one diameter",
            ),
        ),
        0.1,
        "the height of the centre is guessed from the shape",
    ),
    Figure(
        "trolley",
        "whole_mass",
        (
            as_stated("loaded_mass"),
            Way("m = own + cylinders", "arithmetic", _sum, inputs={"own": "own_mass"}, gather=_present),
        ),
        0.1,
        "hoses, regulators, torch and what lies on the trolley are not counted",
    ),
    Figure(
        "trolley",
        "emptying_mass",
        (
            Way(
                "m = own + cylinders, each from empty to what it holds",
                "arithmetic",
                _sum,
                inputs={"own": "own_mass"},
                gather=_masses,
                validity=_EMPTYING,
            ),
            Way(
                "m = loaded less the gas in its cylinders, to loaded",
                "arithmetic",
                _emptied,
                inputs={"loaded": "loaded_mass"},
                gather=_gas,
                validity=_EMPTYING,
                asks=False,
            ),
        ),
    ),
    Figure(
        "trolley",
        "whole_centre",
        (
            as_stated("loaded_centre_height"),
            Way(
                "z = sum(m z)/sum(m) of trolley and cylinders",
                STATICS,
                _whole_centre,
                inputs={"own": "own_mass", "own_centre": "own_centre_height"},
                gather=masses_and_centres,
                validity="over every mass in its range",
            ),
        ),
        0.1,
        "hoses and what lies on the trolley are not counted",
    ),
    Figure(
        "trolley",
        "whole_offset",
        (
            Way(
                "x = |m_right - m_left| s/(2 sum(m)), s = distance between the axes",
                STATICS,
                _whole_offset,
                inputs={"own": "own_mass", "spacing": "cylinder_spacing"},
                gather=_masses,
                validity="over every mass in its range; the trolley's own mass in the middle",
            ),
        ),
    ),
)
"""The figures of this topic."""
