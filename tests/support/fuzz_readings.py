"""Small inputs to one reader each, in this process: values, days, words, formulas, and small files of every kind.

A whole command on a whole rig takes a hundred times as long, and most of what is wrong in a file is wrong for its
reader already. What is made depends on seed and number alone.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from io import BytesIO, TextIOWrapper
from pathlib import Path
from time import process_time
from typing import Any

import yaml

from rigcheck.asking.page_name import UnknownPage, read_page_name
from rigcheck.asking.typed_sheet import read_sheet
from rigcheck.judge.inspection import inspect_rig
from rigcheck.procedure.clock import read_clock
from rigcheck.procedure.record_reader import read_record
from rigcheck.quantity.formula import read_formula
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.notation import NotRead, read_day, read_quantity
from rigcheck.quantity.units import UNITS
from rigcheck.report.json.inspection_json import rig_entry
from rigcheck.report.summary.earlier_report import NoReport, earlier_report
from rigcheck.rig.concessions import load_beside
from rigcheck.rig.loader import load_rig
from rigcheck.rig.look_file import read_look
from rigcheck.rig.premises import load_premises
from rigcheck.rig.register_reader import RegisterReader, load_register
from rigcheck.rig.register_table import read_table
from rigcheck.rig.vocabulary_reader import read_vocabulary_file
from rigcheck.rules.cases import read_cases
from rigcheck.rules.figure_reading import FigureReader
from rigcheck.rules.folders import rules_folder
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule_reading import RuleReader
from rigcheck.text.faults import Refused
from support.fuzz_grammar import ODD, ODD_DAYS, TEXTS, Grammar, broken

__all__ = ["Reading", "readings"]

_DAY = 739_945
_DIMENSIONS = sorted({unit.dimension for unit in UNITS.values()})
_NUMBERS = ("0", "1", "-1", "+2.5", "1/4", "1 1/4", "1e9", "1e-9", ".5", "5.", "1_0", "1,5", "٣", "¼", "9" * 14, "∞")
_JOINTS = (" ", "", "\u00a0", " ± ", " +/- ", " to ", "-", " - ", "–", " at ", " (a)", " abs", " gauge", "~", "≤", "%")
_PIECES = (
    "x",
    "1",
    "+",
    "-",
    "*",
    "/",
    "**",
    "(",
    ")",
    "min(",
    "max(",
    "sqrt(",
    ",",
    " ",
    "exp(",
    "a.b",
    "[0]",
    "1e99",
)


@dataclass(frozen=True, slots=True)
class Reading:
    """One input to one reader; `wrong` is what came out beside a value or a refusal that says where."""

    number: int
    kind: str
    given: bytes
    seconds: float
    wrong: str


def readings(pack: Pack, seed: int, numbers: Iterator[int]) -> Iterator[Reading]:
    """Yield what the readers do with one input after another."""
    made = _Made(pack)
    for number in numbers:
        dice = random.Random(f"small {seed}/{number}")
        made.grammar.dice = dice
        kind = dice.choice(list(_KINDS))
        given = _KINDS[kind][0](made, dice)
        began = process_time()
        wrong = _wrong(made, kind, given)
        yield Reading(number, kind, given, process_time() - began, wrong)


def _wrong(made: _Made, kind: str, given: bytes) -> str:
    try:
        _KINDS[kind][1](made, given)
    except Refused as refused:
        return _badly_refused(refused, given)
    except NotRead as error:
        return "" if error.wrong.isprintable() and error.write.isprintable() else f"unseen letters: {error!r}"
    except (NoReport, UnknownPage):
        return ""
    except Exception as error:
        return repr(error)
    return ""


def _badly_refused(refused: Refused, given: bytes) -> str:
    """Return what is wrong with a refusal: it names a place that the file has, and says what to write instead."""
    lines = given.count(b"\n") + given.count(b"\r") + 2
    for fault in refused.faults:
        if not (fault.read.strip() and fault.write.strip() and 1 <= fault.place.line <= lines and fault.place.column):
            return f"a refusal without place or words: {fault!r}"
        if not str(fault).isprintable():
            return f"unseen letters in a refusal: {str(fault)!r}"
    return "" if refused.faults else "refused for nothing"


class _Made:
    """What the readers read by, and the small files that are broken."""

    def __init__(self, pack: Pack) -> None:
        self.pack, self.vocabulary = pack, pack.vocabulary
        self.grammar = Grammar(pack, random.Random(0))
        self.limits = {name: one.dimension for name, one in pack.definitions.items()}
        self.rules = RuleReader(pack.vocabulary, pack.documents, self.limits)
        self.figures = FigureReader(pack.vocabulary, self.limits)
        self.facts = [(k, f) for k in pack.vocabulary.kinds.values() for f in k.facts.values() if f.entry.ask]
        every = [path for path in sorted(rules_folder().rglob("*.yaml")) if path.stat().st_size < 4_000]
        self.rule_files = _contents(path for path in every if path.stem in {name.split("/")[-1] for name in pack.rules})
        self.figure_files = _contents(path for path in every if path.parent.name == "figures")
        self.vocabulary_files = _contents(path for path in every if path.parent.name in ("vocabulary", "traits"))


def _contents(paths: Iterator[Path]) -> list[bytes]:
    return [path.read_bytes() for path in paths]


# --- texts ---


def _letters(made: _Made, dice: random.Random) -> str:
    """Return a text that may mean a quantity: numbers, signs and units, put together well and badly."""
    units = list(UNITS)
    pieces = [dice.choice(_NUMBERS), dice.choice(_JOINTS), dice.choice(units)]
    for _ in range(dice.randint(0, 3)):
        pieces.insert(dice.randint(0, len(pieces)), dice.choice((*_NUMBERS, *_JOINTS, dice.choice(units), *ODD)))
    return _slipped("".join(pieces), dice)


def _slipped(text: str, dice: random.Random) -> str:
    """Return a text with a letter dropped, doubled, changed or moved, sometimes."""
    if dice.random() < 0.5 or not text:
        return text
    at = dice.randrange(len(text))
    put = dice.choice(("", text[at] * 2, chr(dice.randrange(32, 0x250)), chr(dice.randrange(0x10FFFF)), *TEXTS))
    return (text[:at] + put + text[at + 1 :]).encode("utf-8", "replace").decode()


def _day_text(made: _Made, dice: random.Random) -> str:
    parts = (
        dice.choice(("2026", "1", "0000", "9999", "20260")),
        dice.choice(("1", "02", "13", "x")),
        dice.choice("129"),
    )
    return _slipped(dice.choice(("-", "/", ".", "")).join(parts[: dice.randint(1, 3)]), dice)


def _any_text(made: _Made, dice: random.Random) -> str:
    """Return a text for any fact: right or wrong for it."""
    _, fact = dice.choice(made.facts)
    value = made.grammar.value(fact)
    return dice.choice((_letters, _day_text, lambda *_: _slipped(str(value), dice)))(made, dice)


def _encoded(text: str) -> bytes:
    return text.encode("utf-8", "replace")


# --- small files ---


def _file(tree: Any, dice: random.Random, share: float = 0.7) -> bytes:
    """Return a small file as people write it, most of them with a few bytes wrong."""
    data = yaml.dump(tree, Dumper=yaml.CSafeDumper, sort_keys=False, allow_unicode=True).encode("utf-8", "replace")
    return broken(data, dice) if dice.random() < share else data


def _thing(made: _Made, dice: random.Random) -> dict[str, Any]:
    kind, fact = dice.choice(made.facts)
    value = _any_text(made, dice) if dice.random() < 0.5 else made.grammar.value(fact)
    return {"kind": kind, "fact": fact, "body": {fact.name: value}}


def _rig_with_a_value(made: _Made, dice: random.Random) -> bytes:
    one = _thing(made, dice)
    head, run = {"rig": "Yard", "local_code": "uk"}, ["cylinder", "regulator", "hose"]
    key = next((key for key, kind in made.vocabulary.by_key.items() if kind is one["kind"]), None)
    if key in made.vocabulary.parts:
        run = [*run[: dice.randint(0, 3)], {key: one["body"]}, "hose"]
    held = {inner.kind: name for name, inner in made.vocabulary.kinds["rig"].holds.items()}
    more = {held[one["kind"].name]: one["body"]} if one["kind"].name in held else {}
    own = one["body"] if one["kind"].name == "rig" else {}
    line = {"gas": "propane", **(one["body"] if one["kind"].name == "line" else {}), "parts": run}
    return _file({**head, **own, "lines": [line], **more}, dice, 0.3)


def _small_look(made: _Made, dice: random.Random) -> bytes:
    seen = [{"thing": dice.choice(("hose 1", "lines[0].parts[2]", "H-1")), **_thing(made, dice)["body"]}]
    return _file({"look": "rig.yaml", "day": dice.choice(ODD_DAYS), "by": "fitter", "seen": seen}, dice)


def _small_record(made: _Made, dice: random.Random) -> bytes:
    steps = ["open_fuel_cylinder_valve", {"read_gauges": {"at": dice.choice(("07:31", "24:01"))}}]
    return _file(
        {"record": "start-up", "rig": "rig.yaml", "done": dice.choice(ODD_DAYS), "by": "x", "steps": steps}, dice
    )


def _small_register(made: _Made, dice: random.Random) -> bytes:
    key = dice.choice(list(made.vocabulary.by_key))
    tree = {
        "register": "yard",
        "things": {"H-1": {key: _thing(made, dice)["body"]}, "H-2": {"as": "k"}},
        "kinds": {"k": {}},
    }
    return _file(tree, dice)


def _small_site(made: _Made, dice: random.Random) -> bytes:
    stores = [{"name": "cage", "stands_in": dice.choice(("outdoors", "hall")), **_thing(made, dice)["body"]}]
    gap = {"first": "cage", "second": "Yard", "distance": _letters(made, dice)}
    return _file({"site": "Yard", "buildings": [{"name": "hall"}], "stores": stores, "separations": [gap]}, dice)


def _small_concessions(made: _Made, dice: random.Random) -> bytes:
    entry = {
        "rig": "*",
        "rule": dice.choice(list(made.pack.rules)),
        "reason": "r",
        "who": "w",
        "until": _day_text(made, dice),
    }
    return _file({"concessions": [entry]}, dice)


def _small_answers(made: _Made, dice: random.Random) -> bytes:
    return _file({"sheet": "rig.yaml", "day": "2026-11-25", "by": "x", "answers": {"a1": _any_text(made, dice)}}, dice)


def _small_table(made: _Made, dice: random.Random) -> bytes:
    facts = [dice.choice(made.facts)[1].name for _ in range(3)]
    cells = [dice.choice((_any_text(made, dice), "", '"', "=1+1")) for _ in facts]
    rows = [",".join(("tag", "kind", *facts)), ",".join(("H-1", "hose", *cells)), "H-2;hose"]
    return broken("\n".join(rows).encode("utf-8", "replace"), dice)


def _small_baseline(made: _Made, dice: random.Random) -> bytes:
    return broken(b'{"form":"rigcheck report 1","pack":"x","entries":[\n{"outcome":"judged","rig":"r"}\n]}', dice)


def _one_of(name: str) -> Callable[[_Made, random.Random], bytes]:
    return lambda made, dice: broken(dice.choice(getattr(made, name)), dice)


def _text_of(make: Callable[[_Made, random.Random], str]) -> Callable[[_Made, random.Random], bytes]:
    return lambda made, dice: _encoded(make(made, dice))


# --- readers ---


def _read_quantity(made: _Made, given: bytes) -> None:
    for dimension in _DIMENSIONS:
        try:
            value = read_quantity(given.decode(), dimension)
        except NotRead as error:
            last = error
        else:
            assert value.lo <= value.hi, value
            return
    raise last


def _read_fact(made: _Made, given: bytes) -> None:
    number = given[0] * 256 + given[-1] if given else 0
    value = made.facts[number % len(made.facts)][1].read(given.decode())
    assert value is None or isinstance(value, Interval | str | bool | tuple)


def _read_rig(made: _Made, given: bytes) -> None:
    rig = load_rig(given, "fuzz.yaml", made.vocabulary, what_can_be_read=len(given) % 2 == 0)
    if sum(given) % 50 == 0:  # judged and told: ten times the work
        rig_entry(inspect_rig(rig, made.pack, day=_DAY), hold_at="warning", on_unproven=None).model_dump_json()


def _read_site(made: _Made, given: bytes) -> None:
    def no_rig(path: str) -> Any:
        raise FileNotFoundError(2, "No such file", path)

    load_premises(given, "fuzz.yaml", made.vocabulary, no_rig)


def _read_rule(made: _Made, given: bytes) -> None:
    read_cases(made.rules.read(given, "fuzz.yaml", "fuzz/fuzz"), made.vocabulary)


_KINDS: dict[str, tuple[Callable[[_Made, random.Random], bytes], Callable[[_Made, bytes], object]]] = {
    "quantity": (_text_of(_letters), _read_quantity),
    "day": (_text_of(_day_text), lambda made, given: read_day(given.decode())),
    "clock": (_text_of(_day_text), lambda made, given: read_clock(given.decode(), _DAY)),
    "fact": (_text_of(_any_text), _read_fact),
    "page name": (_text_of(_any_text), lambda made, given: read_page_name(given.decode())),
    "formula": (
        lambda made, dice: _encoded("x = " + "".join(dice.choices(_PIECES, k=dice.randint(1, 12)))),
        lambda made, given: read_formula(given.decode()),
    ),
    "rig": (_rig_with_a_value, _read_rig),
    "look": (_small_look, lambda made, given: read_look(given, "fuzz.yaml", made.vocabulary)),
    "record": (_small_record, lambda made, given: read_record(given, "fuzz.yaml")),
    "register": (
        _small_register,
        lambda made, given: load_register([(given, "fuzz.yaml")], made.vocabulary, "fuzz.yaml"),
    ),
    "table": (
        _small_table,
        lambda made, given: read_table(given, "fuzz.csv", made.vocabulary, RegisterReader(made.vocabulary, "fuzz.csv")),
    ),
    "site": (_small_site, _read_site),
    "concessions": (_small_concessions, lambda made, given: load_beside(given, "fuzz.yaml", made.vocabulary)),
    "typed sheet": (_small_answers, lambda made, given: read_sheet(given, "fuzz.yaml")),
    "baseline": (
        _small_baseline,
        lambda made, given: earlier_report(TextIOWrapper(BytesIO(given), encoding="utf-8"), "fuzz.json", "x"),
    ),
    "rule": (_one_of("rule_files"), _read_rule),
    "figure": (_one_of("figure_files"), lambda made, given: made.figures.read(given, "fuzz.yaml")),
    "vocabulary": (
        _one_of("vocabulary_files"),
        lambda made, given: read_vocabulary_file("fuzz", given, "fuzz.yaml"),
    ),
}
