"""People who are asked about a rig, simulated: what each of them answers on a page.

The rig as it truly is stands in a rig of its own; somebody who looks well answers what stands there.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date

from rigcheck.asking.answers import Answer, Told, begun_look, dated, told_in, with_answer
from rigcheck.asking.state import Walk, walk_on
from rigcheck.asking.walk import Page
from rigcheck.judge.judged import Judged, judge
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.notation import NotRead, example_of
from rigcheck.rig.around import Around
from rigcheck.rig.fact import Fact
from rigcheck.rig.loader import load_rig
from rigcheck.rig.look_file import LookFile, read_look
from rigcheck.rig.thing import MISSING, Rig, Thing
from rigcheck.rules.looks import looks_of
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Signal
from rigcheck.rules.standard_rigs import standard_of
from support.in_full import sites_in_full
from support.lawful_rigs import rig_text

__all__ = [
    "DAY",
    "DISAGREEMENT_RULE",
    "Person",
    "Round",
    "answers_anyhow",
    "bare",
    "cannot_tell",
    "knows_all",
    "knows_half",
    "seen_whole",
    "sound",
    "ticked_right",
    "walked",
]

DAY = date(2026, 11, 25).toordinal()
DISAGREEMENT_RULE = "rig/statements_agree"
_DAY_TEXT = "2026-11-25"

_RIGHT_ANYWHERE = {  # what no donor has, or not for every rig
    "purge_time": "90 s",
    "filler": "holds-no-cadmium",
    "flux": "without-fluoride",
    "tight_against_outside": "yes",
    "leak_checked": "yes",
}
_SUMS = ("contents_mass", "supply_content", "withdrawal_share")  # of another rig they are others

Person = Callable[[Page], Answer]


@dataclass
class Round:
    """One walk round one rig: the description, what was written so far, and how it came out after each answer.

    `record`: a look of a day before, if there is one; `came`: the rig as judged and the walk, after the last answer.
    """

    description: bytes
    pack: Pack
    purpose: str = "commissioning"
    only: Signal | None = None
    text: str = field(default_factory=lambda: begun_look("rig.yaml", _DAY_TEXT, "fitter"))
    lefts: list[dict[Signal, int]] = field(default_factory=list)
    disputed: list[int] = field(default_factory=list)
    pages: list[Page] = field(default_factory=list)
    hot: frozenset[str] = frozenset()
    record: str = ""
    came: tuple[Judged, Walk] | None = None

    def looks(self) -> tuple[LookFile, ...]:
        texts = {"look.yaml": self.text} | ({"record.yaml": self.record} if self.record else {})
        return tuple(read_look(text.encode(), name, self.pack.vocabulary) for name, text in texts.items())

    def rig(self, looks: tuple[LookFile, ...] | None = None) -> Rig:
        around = Around(standard_of=standard_of(self.pack, "rig.yaml"), looks=looks or self.looks())
        return load_rig(self.description, "rig.yaml", self.pack.vocabulary, around)

    def judged(self, rig: Rig | None = None) -> Judged:
        return judge(rig or self.rig(), self.pack, day=DAY, purpose=self.purpose)  # type: ignore[arg-type]

    def told(self, rig: Rig) -> Told:
        return told_in(self.looks()[0], rig)

    def walk(self) -> Walk:
        looks = self.looks()
        rig = self.rig(looks)
        judged, told = self.judged(rig), told_in(looks[0], rig)
        walk = walk_on(judged, looks_of(self.pack), told, only=self.only, after_find=self.hot)
        self.came = judged, walk
        return walk

    def answer(self, page: Page, answer: Answer) -> None:
        self.pages.append(page)
        self.text = with_answer(self.text, dated(page, answer, _DAY_TEXT))


def walked(
    round_: Round, person: Person, most: int = 600, choose: Callable[[Walk], Page] | None = None, finds: bool = True
) -> Walk:
    """Have a person asked until nothing is left to ask; return where the walk ended."""
    walk = round_.walk()
    for _ in range(most):
        if walk.next_page is None:
            return walk
        round_.lefts.append(dict(walk.left))
        round_.disputed.append(sum(one.rule == DISAGREEMENT_RULE for one in walk.findings))
        page = choose(walk) if choose else walk.next_page
        before = {(one.rule, one.at.path) for one in walk.findings}
        round_.answer(page, person(page))
        walk = round_.walk()
        hot = {one.path for one in page.things} & {
            one.at.path for one in walk.findings if (one.rule, one.at.path) not in before
        }
        if finds and hot:
            round_.hot = frozenset(hot)
            walk = round_.walk()
    raise AssertionError(f"{most} answers, and still asked: {walk.next_page}")


def knows_all(truth: Rig) -> Person:
    """Return somebody who answers every page as the rig truly is, and cannot tell what nobody wrote of it."""
    things = {thing.path: thing for thing in truth.things}

    def answer(page: Page) -> Answer:
        values: dict[tuple[str, str], str | tuple[str, ...]] = {}
        not_told = {}
        for path, name in page.open:
            thing = things.get(path)
            known = thing is not None and name in thing.kind.facts  # a bare beginning may have another part there
            written = _stated(thing.kind.facts[name], thing.facts.get(name, MISSING)) if known else None
            if name == "tag":
                written = f"T-{re.sub('[^0-9]', '', path) or '1'}"
            if written is None:
                not_told[path, name] = "do not know it"
            else:
                values[path, name] = written
        return Answer(values, not_told)

    return answer


def knows_half(truth: Rig, seed: int) -> Person:
    """Return somebody who answers as the rig truly is what he can tell, and says of the rest that he cannot."""
    whole = knows_all(truth)

    def answer(page: Page) -> Answer:
        told = whole(page)
        known = {key: value for key, value in told.values.items() if zlib.crc32(f"{seed} {key}".encode()) % 2}
        return Answer(known, {key: told.cannot_tell.get(key, "no light") for key in page.open if key not in known})

    return answer


def sound(description: bytes, pack: Pack, day: str = _DAY_TEXT) -> str:
    """Return a look at a rig that states all that its description leaves open, as it is where nothing is wrong.

    What is right stands in rigs that nothing is found against: the tool room's, and for what that one has not the same
    on a bank of cylinders, and the headers of a third. What no thing there has is left open.
    """
    donors = [one for text in _nothing_wrong() for one in load_rig(text, "donor.yaml", pack.vocabulary).things]
    donors += [one for one in _with_headers(pack) if one.kind.name == "header"]
    around = Around(standard_of=standard_of(pack, "rig.yaml"))
    values: dict[tuple[str, str], str | tuple[str, ...]] = {}
    for thing in load_rig(description, "rig.yaml", pack.vocabulary, around).things:
        likest = sorted((one for one in donors if one.kind is thing.kind), key=lambda one: _unlike(one, thing))
        for name, fact in thing.kind.facts.items():
            given = next((one.facts[name] for one in likest if name in one.facts), MISSING)
            if name == "static_pressure":  # of one that does not creep
                given = thing.facts.get("set_pressure", given)
            if name in _RIGHT_ANYWHERE:
                given = fact.read(_RIGHT_ANYWHERE[name])
            if likest and name in ("valve_outlet", "inlet_connection") and _gas(thing) == "hydrogen":
                given = fact.read("CGA 350")
            written = _written(given)
            if not (fact.computed or name in thing.facts or name in _SUMS or written is None):
                values[thing.path, name] = written
    return with_answer(begun_look("rig.yaml", day, "fitter"), Answer(values))


def _nothing_wrong() -> tuple[bytes, bytes]:
    path = sites_in_full() / "tool-room-welding.yaml"
    return path.read_bytes(), rig_text("banks of two", "uk").encode()


def _with_headers(pack: Pack) -> tuple[Thing, ...]:
    path = sites_in_full() / "boiler-house-heating.yaml"
    return load_rig(path.read_bytes(), path.name, pack.vocabulary).things


def seen_whole(truth: Rig, day: str, of: Callable[[str, str], bool] = lambda path, name: True) -> str:
    """Return a look of a day that states all that can be stated of a rig; `of`: which facts, by path of the thing."""
    values = {
        (thing.path, name): written
        for thing in truth.things
        for name, fact in thing.kind.facts.items()
        if of(thing.path, name)
        and not fact.computed
        and (written := _stated(fact, thing.facts.get(name, MISSING))) is not None
    }
    return with_answer(begun_look("rig.yaml", day, "fitter"), Answer(values))


def ticked_right(truth: Rig, day: str) -> str:
    """Return a look by somebody who looked at nothing: every choice as where nothing is wrong, every number at will."""
    values = {}
    for thing in truth.things:
        for name, fact in thing.kind.facts.items():
            written = _stated(fact, thing.facts.get(name, MISSING))
            if not fact.computed and written is not None:
                read_off = fact.measure not in ("words", "several_words", "yes_no", "text")
                values[thing.path, name] = fact.entry.example or written if read_off else written
    return with_answer(begun_look("rig.yaml", day, "fitter"), Answer(values))


def _gas(thing: Thing) -> str:
    """Return the gas of the line that a thing is in."""
    return getattr(thing.facts.get("line"), "gas_word", "")


def _unlike(one: Thing, thing: Thing) -> tuple[bool, bool, bool]:
    gases = [_gas(at) for at in (one, thing)]
    oxygen = [gas == "oxygen" for gas in gases]
    return gases[0] != gases[1], oxygen[0] != oxygen[1], one.path != thing.path


def _stated(fact: Fact, value: object) -> str | tuple[str, ...] | None:
    """Return a value as somebody would write it; a bound that follows ("at least") is nothing that is seen."""
    written = _written(value)
    return written if not isinstance(written, str) or fact.takes([written]) else None


def _written(value: object) -> str | tuple[str, ...] | None:
    if value is MISSING:
        return None
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Interval):
        return value.text
    return value if isinstance(value, (str, tuple)) else None


def bare(description: str) -> bytes:
    """Return a description with its lines and parts alone: somebody wrote down what there is, and looked at nothing."""
    import yaml

    rig = yaml.load(description, yaml.BaseLoader)
    kept: dict[str, object] = {"rig": rig["rig"], "local_code": rig.get("local_code", "general")}
    kept["lines"] = [{"gas": line["gas"], "parts": _bare_parts(line["parts"])} for line in rig["lines"]]
    kept |= {name: _named(rig[name]) for name in ("torch", "trolley") if name in rig}
    return yaml.safe_dump(kept, sort_keys=False).encode()


def _named(things: object) -> object:
    """Return one thing, or each of several by the name that the branches of a line call it by."""
    several = things if isinstance(things, list) else []
    return [{"name": one["name"]} for one in several if "name" in one] or {}


def _bare_parts(parts: list[object]) -> list[object]:
    return [_bare_part(part) for part in parts if _kind(part) != "joint"]


def _bare_part(part: object) -> object:
    """Return a part by its kind alone, with what branches off it."""
    kind, stated = _kind(part), next(iter(part.values())) if isinstance(part, dict) else {}
    branches = stated.get("branches") if isinstance(stated, dict) else None
    if not branches:
        return kind
    return {kind: {"branches": [{**branch, "parts": _bare_parts(branch["parts"])} for branch in branches]}}


def _kind(part: object) -> str:
    return part if isinstance(part, str) else next(iter(part))  # type: ignore[call-overload,no-any-return]


def answers_anyhow(seed: int) -> Person:
    """Return somebody who answers whatever: of each fact of each thing always the same, right or wrong."""

    def answer(page: Page) -> Answer:
        return Answer({key: _anything(page, key, seed) for key in page.open})

    return answer


def _anything(page: Page, key: tuple[str, str], seed: int) -> str | tuple[str, ...]:
    path, name = key
    fact = next(one for one in page.things if one.path == path).kind.facts[name]
    pick = zlib.crc32(f"{seed} {path} {name}".encode())
    if fact.words:
        word = list(fact.words)[pick % len(fact.words)]
        return (word,) if fact.measure == "several_words" else word
    if fact.measure == "yes_no":
        return ("yes", "no")[pick % 2]
    return "as found" if fact.measure == "text" else _within(fact)


def _within(fact: Fact) -> str:
    """Return a value that can be meant."""
    example = example_of(fact.measure)
    try:
        fact.read(example)
    except NotRead:
        return fact.entry.least or fact.entry.greatest
    return example


def cannot_tell(page: Page) -> Answer:
    """Somebody who cannot tell anything."""
    return Answer(cannot_tell=dict.fromkeys(page.open, "no light"))
