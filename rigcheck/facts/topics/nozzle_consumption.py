"""What each nozzle and each torch draws: as stated, by the flame, by the bore, by published rows."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any

from rigcheck.facts.figure import Figure, Look, Used, Wants, Way
from rigcheck.facts.topics.gas_data import amount, base_datum, datum
from rigcheck.facts.topics.gathering import BASE, as_stated, collected, values_of
from rigcheck.facts.topics.nozzle_tables import fuel_line, rows_by_size, rows_by_thickness, span_of
from rigcheck.physics.combustion import FLAMES, torch_ratio
from rigcheck.physics.cutting import cutting_oxygen_flow
from rigcheck.physics.gas_properties import GAS_CONSTANT, GASES
from rigcheck.physics.intervals import Span, added, carried, divided, give_or_take, multiplied
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["FIGURES"]

_RATIO_ROUGHNESS = 0.15  # share; what torch_ratio says of itself
_DISCHARGE: Span = (0.8, 1.0)  # drilled to smooth divergent cutting bores, with the torch's own passages; from memory
_NEUTRAL = ("welding", "brazing", "soldering")
_HOTTEST = ("cutting", "gouging", "heating", "straightening", "flame-cleaning")
_NO_JET = ("welding", "brazing", "soldering", "heating", "straightening", "flame-cleaning")

_OXYGEN: tuple[Used, ...] = (
    *datum("k", "heat capacity ratio of oxygen", (GASES["oxygen"].heat_capacity_ratio,) * 2, ""),
    *datum("R", "gas constant of oxygen", (GAS_CONSTANT / GASES["oxygen"].molar_mass,) * 2, "J/(kg K)"),
    *base_datum("oxygen"),
)
_CUTTING: dict[str, tuple[Any, ...]] = {"rig.job.process": ("cutting", "gouging")}

_jet = carried(cutting_oxygen_flow)


def _ratio(nozzle: Thing, look: Look) -> Any:
    """Gather the fuel that reaches a nozzle and its torch ratio; none on a torch without a fuel line."""
    line = fuel_line(nozzle, look)
    if line is None:
        return None
    gas = line.facts["gas"]
    return (
        Used("gas", line, "gas", gas),
        *_ratio_datum(str(gas), look.fact(nozzle.facts["rig"].facts["job"], "process")),
    )


@lru_cache(maxsize=64)
def _ratio_datum(gas: str, process: str) -> Any:
    flame = FLAMES[0] if process in _NEUTRAL else FLAMES[1]
    ratio = torch_ratio(fuel=gas, flame=flame)
    return datum(
        "r",
        f"torch oxygen to {gas} by volume, {flame} flame, give or take 15 %",
        give_or_take(ratio, _RATIO_ROUGHNESS),
        "",
    )


def _flame_oxygen(fuel: Span, process: str, gathered: tuple[Used, ...]) -> Span | None:
    ratio = amount(gathered, "r")
    return None if ratio is None else multiplied(fuel, ratio)


def _of_oxygen(nozzle: Thing, look: Look) -> tuple[Used, ...]:
    return _OXYGEN


def _jet_oxygen(bore: Span, pressure: Span, temperature: Span, air: Span, gathered: tuple[Used, ...]) -> Span | None:
    return _jet(
        bore=bore,
        pressure_gauge=pressure,
        atmosphere=air,
        temperature=temperature,
        discharge_coefficient=_DISCHARGE,
        base=BASE,
    )


def _gap(stated: Span, passes: Span) -> Span | None:
    """Return how far the greater flow passes the lesser one, as a share of the lesser; 0 where they overlap."""
    over, under = divided(stated, passes), divided(passes, stated)
    if over is None or under is None:
        return None
    return max(over[0], under[0], 1.0) - 1.0, max(over[1], under[1]) - 1.0


def _of_nozzles(facts: tuple[str, ...]) -> Callable[[Thing, Look], Any]:
    def gather(torch: Thing, look: Look) -> Any:
        found: list[Used] = []
        wanted: list[Any] = []
        for number, nozzle in enumerate(torch.facts.get("nozzle") or ()):
            for fact in facts:
                one = collected((nozzle,), fact, look, f"q{number}")
                if isinstance(one, Wants):
                    wanted += one
                else:
                    found += one
        if wanted:
            return Wants(dict.fromkeys(wanted))
        return tuple(found) or None

    return gather


def _greatest(gathered: tuple[Used, ...]) -> Span:
    """Return the flow of the nozzle that draws most; a nozzle's own flows are added."""
    names = dict.fromkeys(used.name for used in gathered)
    sums = [added(values_of(gathered, name)) for name in names]
    return max(lo for lo, _ in sums), max(hi for _, hi in sums)


_TABLES = "published nozzle tables, rules/tables/nozzles.yaml"

_NOZZLE_FUEL = Figure(
    "nozzle",
    "fuel_demand",
    (
        as_stated("fuel_flow", asks=True),
        Way(
            "q = what published rows give for this size",
            _TABLES,
            span_of("fuel_flow"),
            gather=rows_by_size,
            validity="a size is its maker's mark: the maker's own table comes first",
            asks=False,
        ),
        Way(
            "q = what published rows give for this thickness",
            _TABLES,
            span_of("fuel_flow"),
            gather=rows_by_thickness,
            validity="a nozzle that suits the thickness",
            asks=False,
        ),
    ),
    0.5,
    "sizes of different makers differ by half",
)

_FLAME_OXYGEN = Figure(
    "nozzle",
    "flame_oxygen",
    (
        as_stated("heating_oxygen_flow", asks=True, alone=True),
        Way(
            "q = r q_fuel; r = volumes of torch oxygen to one of fuel: "
            "neutral flame for welding, brazing and soldering, the hottest flame for the rest",
            "welding handbooks' fuel gas table (from memory); butane and ethylene estimated from propane and propylene",
            _flame_oxygen,
            inputs={"fuel": "fuel_demand", "process": "rig.job.process"},
            only={"rig.job.process": (*_NEUTRAL, *_HOTTEST)},
            gather=_ratio,
            asks=False,
        ),
    ),
)

_BORE_FLOW = Figure(
    "nozzle",
    "bore_flow",
    (
        Way(
            "q = C A p0 sqrt(k/(R T)) (2/(k + 1))^((k + 1)/(2 (k - 1))) / rho0; p0 = p + p_air, C = 0.8 to 1; "
            "below 0.9 bar the jet is not choked: "
            "q = C A p0 sqrt(2 k/((k - 1) R T) (s^(2/k) - s^((k + 1)/k))) / rho0, s = p_air/p0",
            "isentropic nozzle equation (any text on thermodynamics); C from memory",
            _jet_oxygen,
            inputs={
                "bore": "bore",
                "pressure": "oxygen_pressure",
                "temperature": "rig.site.ambient_temperature",
                "air": "rig.site.air_pressure",
            },
            only=_CUTTING,
            gather=_of_oxygen,
            validity="pressure at the torch, as the nozzle's table gives it",
        ),
    ),
)

_FLOW_GAP = Figure(
    "nozzle",
    "flow_gap",
    (
        Way(
            "gap = the greater of q/q_bore and q_bore/q, less 1",
            "arithmetic",
            _gap,
            inputs={"stated": "cutting_oxygen_flow", "passes": "bore_flow"},
            only=_CUTTING,
        ),
    ),
)

_JET_OXYGEN = Figure(
    "nozzle",
    "jet_oxygen",
    (
        Way(
            "q = 0: no cutting jet in this process",
            "common practice",
            lambda: (0.0, 0.0),
            only={"rig.job.process": _NO_JET},
            asks=False,
        ),
        as_stated("cutting_oxygen_flow", asks=True, alone=True),
        Way(
            "q = what the bore passes",
            "nozzle equation, as for the bore flow",
            lambda passes: passes,
            inputs={"passes": "bore_flow"},
            validity="pressure as the nozzle's table gives it",
            asks=False,
        ),
        Way(
            "q = what published rows give for this thickness",
            _TABLES,
            span_of("cutting_oxygen_flow"),
            gather=rows_by_thickness,
            validity="a nozzle that suits the thickness",
            asks=False,
        ),
    ),
)


_BY_EYE = (0.1, "rows of nozzle tables are rounded, and a flame is set by eye")


def _torch(name: str, stated: str, facts: tuple[str, ...], formula: str) -> Figure:
    greatest = Way(formula, "arithmetic", _greatest, gather=_of_nozzles(facts))
    return Figure("torch", name, (as_stated(stated), greatest), *_BY_EYE)


def _burning(torch: Thing, look: Look) -> Any:
    """Gather the duty of a torch where it is stated, without asking for it: the job's comes next."""
    value = torch.facts.get("duty_share", MISSING)
    return None if value is MISSING else (Used("d", torch, "duty_share", value),)


FIGURES: tuple[Figure, ...] = (
    _NOZZLE_FUEL,
    _FLAME_OXYGEN,
    _BORE_FLOW,
    _FLOW_GAP,
    _JET_OXYGEN,
    _torch("fuel_demand", "fuel_flow", ("fuel_demand",), "q = that of the nozzle that draws most"),
    _torch(
        "oxygen_demand",
        "oxygen_flow",
        ("flame_oxygen", "jet_oxygen"),
        "q = q_flame + q_jet of the nozzle that draws most",
    ),
    Figure(
        "torch",
        "burning_share",
        (
            Way("as stated", "stated", lambda gathered: values_of(gathered, "d")[0], gather=_burning),
            Way("d = that of the job", "stated", lambda job: job, inputs={"job": "rig.job.duty_share"}),
        ),
    ),
)
"""The figures of this topic."""
