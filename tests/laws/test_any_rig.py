"""Any rig that the vocabulary lets one write is judged: whatever it says, in whatever order, without a stumble."""

from __future__ import annotations

import random
from datetime import date
from typing import Any

import pytest
import yaml
from support.sampling import sampled

from rigcheck.judge.inspection import inspect_rig
from rigcheck.procedure.sheet import make_sheet
from rigcheck.quantity.notation import NotRead
from rigcheck.report.drawing.drawing import drawing_document
from rigcheck.report.plot.plot_sheet import figures_plot
from rigcheck.report.sheet.sheet_text import sheet_lines
from rigcheck.report.text.calculation_text import calculation_lines
from rigcheck.report.text.inspection_text import inspection_lines
from rigcheck.report.text.layout import plain_text
from rigcheck.rig.fact import Fact
from rigcheck.rig.loader import load_rig
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.limits import LOCAL_CODES
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of
from rigcheck.tasks.calculation_sheet import calculate_rig

DAY = date(2026, 11, 25).toordinal()
UNITS = {
    "angle": "deg",
    "pressure": "bar",
    "length": "m",
    "area": "m2",
    "volume": "L",
    "mass": "kg",
    "temperature": "degC",
    "flow": "L/min",
    "time": "min",
    "age": "month",
    "force": "N",
    "speed": "m/s",
    "share": "%",
    "share_per_hour": "%/h",
    "count": "",
}
NUMBERS = ("0", "0.001", "1", "2.5 ± 2.5", "3", "8", "20", "19.5 ± 1", "150", "300", "1e6")


class Writer:
    """Writes rigs by chance; the same seed writes the same rig."""

    def __init__(self, pack: Pack, seed: int) -> None:
        self.kinds, self.dice = pack.vocabulary.kinds, random.Random(seed)
        self.parts = list(pack.vocabulary.parts.values())
        self.share = self.dice.choice((0.05, 0.3, 0.8))

    def rig(self) -> str:
        """Return a rig as YAML text."""
        torches = self.dice.choice((0, 1, 1, 2))
        body: dict[str, Any] = {"rig": "by chance", **self.thing(self.kinds["rig"], ("torch", "lines", "hose_pair"))}
        body["torch"] = [{"name": f"T{n}", **self.thing(self.kinds["torch"], ())} for n in range(torches)]
        body["lines"] = [self.line(torches) for _ in range(self.dice.randint(1, 3))]
        return yaml.safe_dump(body, allow_unicode=True, sort_keys=False)

    def line(self, torches: int) -> dict[str, Any]:
        line = {**self.thing(self.kinds["line"], ()), "gas": self.dice.choice([*self.kinds["line"].facts["gas"].words])}
        parts = [self.part() for _ in range(self.dice.randint(1, 6))]
        if torches and self.dice.random() < 0.3:
            parts.insert(self.dice.randint(1, len(parts)), {"joint": self.thing(self.kinds["joint"], ())})
        return line | {"parts": parts} | ({"to": f"T{self.dice.randrange(torches)}"} if torches > 1 else {})

    def part(self) -> dict[str, Any]:
        kind = self.dice.choice(self.parts)
        body = self.thing(kind, ())
        if kind.key == "manifold" and self.dice.random() < 0.7:
            branches = [{"parts": [{"cylinder": self.thing(self.kinds["cylinder"], ())}]} for _ in range(2)]
            body["branches"] = branches
        return {kind.key: body}

    def thing(self, kind: Kind, without: tuple[str, ...]) -> dict[str, Any]:
        stated = [f for f in kind.facts.values() if not f.computed and f.name != "name"]
        body = {fact.name: self.value(fact) for fact in stated if self.dice.random() < self.share}
        for key, held in kind.holds.items():
            if key not in without and self.dice.random() < self.share:
                body[key] = self.thing(self.kinds[held.kind], ()) if self.dice.random() < 0.9 else "none"
        return body

    def value(self, fact: Fact) -> Any:
        if fact.entry.may_be_none and self.dice.random() < 0.2:
            return "none"
        if fact.measure in ("words", "several_words"):
            word = self.dice.choice([*fact.words])
            return [word] if fact.measure == "several_words" else word
        if fact.measure == "yes_no":
            return self.dice.choice(("yes", "no"))
        if fact.measure == "day":
            return self.dice.choice(("2026-11-25", "2020-02", "2031", "1999-12-31"))
        return "text" if fact.measure == "text" else self.number(fact)

    def number(self, fact: Fact) -> str:
        """Return one of the numbers that can be meant, its ends among them."""
        entry = fact.entry
        written = [f"{number} {UNITS[fact.measure]}".strip() for number in NUMBERS]
        meant = [text for text in (*written, entry.least, entry.greatest, *entry.likely) if _can_be_meant(fact, text)]
        return self.dice.choice(meant)


def _can_be_meant(fact: Fact, text: str) -> bool:
    try:
        return bool(text) and fact.read(text) is not None
    except NotRead:
        return False


@pytest.mark.parametrize("seed", sampled(range(150), 15))
def test_any_rig_is_judged_worked_out_and_drawn(pack: Pack, seed: int) -> None:
    text = Writer(pack, seed).rig()
    rig = load_rig(text.encode(), "chance.yaml", pack.vocabulary)
    code = LOCAL_CODES[seed % len(LOCAL_CODES)]
    inspection = inspect_rig(rig, pack, day=DAY, local_code=code)
    assert sum(inspection.verdicts.values()) > 50
    assert inspection.rig in plain_text(inspection_lines(inspection, 80, hold_at="warning"))
    calculation = calculate_rig(rig, pack, day=DAY, local_code=code)
    assert plain_text(calculation_lines(calculation, 80))
    assert "</svg>" in figures_plot(calculation)
    assert "</svg>" in drawing_document(rig, inspection)


@pytest.mark.parametrize("seed", sampled(range(30), 15))
def test_every_procedure_of_any_rig_has_its_sheet(pack: Pack, seed: int) -> None:
    rig = load_rig(Writer(pack, seed).rig().encode(), "chance.yaml", pack.vocabulary)
    code = LOCAL_CODES[seed % len(LOCAL_CODES)]
    for procedure in procedures_of(pack).values():
        sheet = make_sheet(rig, procedure, pack, day=DAY, local_code=code, hold_at="warning")
        assert plain_text(sheet_lines(sheet, 80))
