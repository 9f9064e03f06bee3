"""How one description of a rig departs from another, and what the rules make of each departure.

Pure: no clock, no disk. Both rigs are judged on one day, each under its own local code unless one is given.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from msgspec.structs import replace

from rigcheck.condition.wording import value_words
from rigcheck.facts.known import is_fleeting
from rigcheck.judge.fact_uses import FactUses
from rigcheck.judge.judged import Judged, judge
from rigcheck.rig.matching import Pair, match_rigs, same_as_stated, stated_facts
from rigcheck.rig.thing import MISSING, Rig, Thing
from rigcheck.rules.by_fact import Touching, touching
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import GRAVITY, Rule
from rigcheck.tasks.departures import Comparison, Departure, How, Outcome, Side, Touched, Turn
from rigcheck.tasks.what_turned import moved_figures, stand_of

__all__ = ["compare_rigs"]


def compare_rigs(
    before: Rig, after: Rig, pack: Pack, *, day: int, local_code: str = "", as_standard: bool = False
) -> Comparison:
    """Return how `after` departs from `before`, both judged on a day (a proleptic Gregorian day number).

    `as_standard`: `before` is the standard rig of `after`, so what it does not say, what tells one rig from another,
    and what does not last is no departure from it.
    """
    first, second = (_Side(judge(rig, pack, day=day, local_code=local_code)) for rig in (before, after))
    codes = first.rules.local_code, second.rules.local_code
    comparer = _Comparer(first, second, touching(pack, codes), match_rigs(first.rig, second.rig), as_standard)
    return comparer.compare(day, codes, pack)


_OWN_ALONE = ("name", "tag")
"""What tells one rig of a standard from another."""


class _Side:
    """One of the two rigs, judged: its verdicts, and what each fact is used for."""

    def __init__(self, judged: Judged) -> None:
        self.judged, self.rig, self.rules = judged, judged.known.filled, judged.rules
        self.verdicts, self.uses = judged.verdicts(), FactUses(judged)

    def verdict(self, thing: Thing | None, rule: Rule) -> Outcome:
        """Return the verdict of a rule on a thing, if there is one."""
        return "does not apply" if thing is None else self.verdicts.get((thing, rule.name), "does not apply")


class _Comparer:
    def __init__(self, before: _Side, after: _Side, touching: Touching, pairs: list[Pair], as_standard: bool) -> None:
        self.as_standard = as_standard
        self.before, self.after, self.touching, self.pairs = before, after, touching, pairs
        self.pair_of = {thing: pair for pair in pairs for thing in (pair.before, pair.after) if thing is not None}
        self.turns = {key: turn for pair in pairs for key, turn in self._turns(pair)}
        self.claimed: set[tuple[Thing, str]] = set()
        self.still_open = 0

    def compare(self, day: int, codes: tuple[str, str], pack: Pack) -> Comparison:
        """Return the whole comparison."""
        found = [one for pair in self.pairs for one in self._departures(pair)]
        departures = self._attributed([departure for departure, left_open in found if not left_open])
        others = [turn for key, turn in self.turns.items() if key not in self.claimed]
        others.sort(key=lambda turn: -GRAVITY[turn.rule.signal])
        filled = tuple(departure for departure, left_open in found if left_open)
        both = self.before.judged, self.after.judged
        return Comparison(
            before=self.before.rig,
            after=self.after.rig,
            day=day,
            codes=codes,
            departures=departures,
            filled_in=filled,
            still_open=self.still_open,
            other_turns=tuple(others),
            pack=pack.digest,
            stands=(stand_of(both[0]), stand_of(both[1])),
            turns=tuple(sorted(self.turns.values(), key=_weight)),
            moved=moved_figures(*both, self.pairs),
            laid=pack.laid,
        )

    # --- verdicts ---

    def _turns(self, pair: Pair) -> Iterator[tuple[tuple[Thing, str], Turn]]:
        """Yield the verdicts that turned on a thing; on one that only one rig has, those that are broken."""
        rules = {rule.name: rule for rule in self._rules_on(pair)}
        thing = pair.after or pair.before
        assert thing is not None
        for rule in rules.values():
            before, after = self.before.verdict(pair.before, rule), self.after.verdict(pair.after, rule)
            both = pair.before is not None and pair.after is not None
            if before != after and (both or "broken" in (before, after)):
                yield (thing, rule.name), Turn(rule, thing.label, before, after)

    def _rules_on(self, pair: Pair) -> Iterator[Rule]:
        for judged, thing in ((self.before, pair.before), (self.after, pair.after)):
            if thing is not None:
                yield from (rule for rule, _, _ in judged.rules.rules_for(thing))

    # --- departures ---

    def _departures(self, pair: Pair) -> Iterator[tuple[Departure, bool]]:
        """Yield what differs of one thing, and whether the first rig had left it open for the site."""
        before, after = pair.before, pair.after
        if before is None or after is None:
            if not _is_joint(before or after):  # it comes and goes with the parts that it joins
                yield self._lone(pair), False
            return
        if pair.moved:
            yield self._part(pair, "moved", _follows(before), _follows(after)), False
        first, second = stated_facts(before), stated_facts(after)
        for name in before.kind.facts:
            if name in ("name", "invented") and before is self.before.rig.root:  # which rig it is, not how it is
                continue
            one, other = first.get(name, MISSING), second.get(name, MISSING)
            left_open = (one is MISSING and _left_open(self.before.rig, before, name)) or self._own(before, name, one)
            self.still_open += left_open and other is MISSING
            if not (one is other is MISSING or same_as_stated(one, other)):
                yield self._fact(before, after, name, one, other), left_open

    def _own(self, thing: Thing, name: str, standard: Any) -> bool:
        """Whether a fact is a rig's own business, and not its standard rig's."""
        return self.as_standard and (standard is MISSING or name in _OWN_ALONE or is_fleeting(thing.kind, name))

    def _may_differ(self, thing: Thing, name: str = "") -> bool:
        keys = [base.replace(" ", "_") for base in thing.kind.lineage]
        told = [f"{key}.{name}" for key in keys] if name else keys
        return not self.before.rig.may_differ.isdisjoint(told)

    def _fact(self, before: Thing, after: Thing, name: str, one: Any, other: Any) -> Departure:
        how: How = "stated" if one is MISSING else "no longer stated" if other is MISSING else "changed"
        return Departure(
            how=how,
            thing=after.label,
            line=_line(after),
            fact=name.replace("_", " "),
            before=None if one is MISSING else _side(self.before.rig, before, name),
            after=None if other is MISSING else _side(self.after.rig, after, name),
            touched=self._touched_by(before, after, name),
            allowed=self._may_differ(before, name),
        )

    def _lone(self, pair: Pair) -> Departure:
        thing = pair.after or pair.before
        assert thing is not None
        told = self._part(pair, "added" if pair.before is None else "missing", *map(_follows, (thing, thing)))
        return replace(told, inside=len(thing.facts.get("parts", ())) if thing.kind.name == "line" else 0)

    def _part(self, pair: Pair, how: How, before: str, after: str) -> Departure:
        thing = pair.after or pair.before
        assert thing is not None
        rules = {rule.name: rule for rule in (*self.touching.of_part(thing.kind), *self._turned_on(thing))}
        return Departure(
            how=how,
            thing=thing.label,
            line=_line(thing),
            fact="",
            before=_whole(self.before.rig, pair.before, before),
            after=_whole(self.after.rig, pair.after, after),
            touched=self._with_turns(rules, [thing], thing),
            allowed=self._may_differ(thing),
        )

    def _turned_on(self, thing: Thing) -> Iterable[Rule]:
        return [turn.rule for (owner, _), turn in self.turns.items() if owner is thing]

    # --- rules that are touched ---

    def _touched_by(self, before: Thing, after: Thing, name: str) -> tuple[Touched, ...]:
        reached = {**self.before.uses.consequences(before, name), **self.after.uses.consequences(after, name)}
        rules = {
            rule.name: rule
            for owner, fact in reached
            for rule in self.touching.of_fact(owner.kind, fact)
            if self._concerns(rule, owner)
        }
        things = list(dict.fromkeys(one for owner, _ in reached if (one := self._later(owner)) is not None))
        return self._with_turns(rules, things, after)

    def _concerns(self, rule: Rule, thing: Thing) -> bool:
        """Return whether a rule looks at other things, or at this one and concerns it."""
        told = [judged.verdicts.get((thing, rule.name)) for judged in (self.before, self.after)]
        return any(verdict not in (None, "not concerned") for verdict in told) or told == [None, None]

    def _later(self, thing: Thing) -> Thing | None:
        pair = self.pair_of.get(thing)
        return pair.after or pair.before if pair is not None else None

    def _with_turns(self, rules: Mapping[str, Rule], things: Iterable[Thing], near: Thing) -> tuple[Touched, ...]:
        """Return rules with the verdicts that turned on the things that the difference reaches, or else near them."""
        found = []
        for rule in sorted(rules.values(), key=lambda rule: (-GRAVITY[rule.signal], rule.name)):
            own = [(key, rule.name) for key in things if (key, rule.name) in self.turns]
            keys = own or [key for key in self.turns if key[1] == rule.name and self._near(key[0], near)]
            self.claimed |= set(keys)
            found.append(Touched(rule, tuple(self.turns[key] for key in keys)))
        return tuple(found)

    def _near(self, key: Thing, thing: Thing) -> bool:
        pair = self.pair_of[key]
        other = pair.after or pair.before
        return not _line(thing) or other is None or not _lines(other) or bool(_lines(other) & _lines(thing))

    def _attributed(self, departures: list[Departure]) -> tuple[Departure, ...]:
        """Give verdicts that no condition leads to by name to the one departure of their line, if it is only one."""
        by_line = Counter(departure.line for departure in departures)
        told = []
        for departure in departures:
            alone = by_line[departure.line] == 1 and departure.line
            keys = [key for key in self.turns if alone and key not in self.claimed and self._in(key[0], departure.line)]
            self.claimed |= set(keys)
            more = (Touched(self.turns[key].rule, (self.turns[key],)) for key in keys)
            told.append(replace(departure, touched=(*departure.touched, *more)))
        return tuple(told)

    def _in(self, key: Thing, line: str) -> bool:
        pair = self.pair_of[key]
        thing = pair.after or pair.before
        return thing is not None and _line(thing) == line


def _weight(turn: Turn) -> tuple[bool, bool, int]:
    """Order by which what is broken now comes first, then what no longer is, the gravest first."""
    return turn.after != "broken", turn.before != "broken", -GRAVITY[turn.rule.signal]


def _side(rig: Rig, thing: Thing, fact: str) -> Side:
    return Side(thing.label, value_words(thing.facts[fact]), rig.place(thing, fact))


def _whole(rig: Rig, thing: Thing | None, follows: str) -> Side | None:
    return None if thing is None else Side(thing.label, follows, rig.place(thing))


def _is_joint(thing: Thing | None) -> bool:
    return thing is not None and "joint" in thing.kind.lineage


def _line(thing: Thing) -> str:
    """Return the line that a thing stands in; nothing for a torch and for what belongs to the whole rig."""
    at: Thing | None = thing
    while at is not None:
        line = at.facts.get("line")
        if isinstance(line, Thing):
            return line.label
        at = at.parent
    return ""


def _lines(thing: Thing) -> frozenset[str]:
    """Return the lines that a thing stands in or ends."""
    fed = thing.facts.get("lines") if "torch" in thing.kind.lineage else None
    return frozenset(line.label for line in fed) if fed else frozenset(filter(None, [_line(thing)]))


def _follows(thing: Thing) -> str:
    """Return where a part stands in the order of flow."""
    if thing.parent is None or thing.parent.kind.name != "line":  # built into another part, or no part
        return ""
    before = thing.facts.get("upstream")
    return f"after the {before.label}" if isinstance(before, Thing) else "at the supply"


def _left_open(rig: Rig, thing: Thing, fact: str) -> bool:
    return any(f"{kind}.{fact}" in rig.on_site for kind in thing.kind.lineage)
