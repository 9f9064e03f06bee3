"""The facts of one rig on one day: stated, following and worked out, each with its witnesses.

The rig itself is left as it is: facts are kept with copies of its things, each worked out once, when it is first
asked for.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from typing import Any, Literal

from msgspec.structs import replace

from rigcheck.condition.compiler import Judge
from rigcheck.facts.concession_facts import CONCESSION_FACTS
from rigcheck.facts.consequences import Drawn, drawn_by_kind
from rigcheck.facts.dates import time_since
from rigcheck.facts.description_facts import DESCRIPTION_FACTS
from rigcheck.facts.evaluation import Reckoner, Work, work_of_figure
from rigcheck.facts.figure import Figure, Look, Wants
from rigcheck.facts.neighbours import ORDER_FACTS
from rigcheck.facts.registry import figures_of
from rigcheck.facts.site_facts import SITE_FACTS
from rigcheck.facts.witness import Witness, as_stated, heard, settled
from rigcheck.rig.fact import Fact
from rigcheck.rig.thing import MISSING, Rig, Thing, open_copies, take_apart
from rigcheck.rig.vocabulary import Kind, Vocabulary
from rigcheck.rules.consequence import Consequence
from rigcheck.rules.written_figure import WrittenFigure

__all__ = ["FactPlan", "Known", "Purpose", "is_fleeting", "uncomputed"]

Purpose = Literal["standard", "commissioning", "use"]
"""What a rig is judged for: as a standard rig, by what lasts, on whatever day; to be commissioned, by all that is
written as of the day; to be used, where what lasts for a job or a day alone counts only if it was seen within it."""


_PLAIN_FACTS = {**ORDER_FACTS, **CONCESSION_FACTS, **SITE_FACTS, **DESCRIPTION_FACTS}
"""Computed facts that are no figures: no arithmetic is shown of them."""

_LIVES = {"day": "seen_for_the_day", "deed": "seen_for_the_day", "job": "seen_for_the_job"}
"""The limits that say how long a sight of a fact counts that does not last."""

_Without = Mapping[Thing, Iterable[str]]
_Named = tuple[tuple[str, Work], ...]


class FactPlan:
    """What works each fact of each kind out, made once for a set of rules under one code on one day.

    `names`: the facts that rules read; others are worked out when somebody asks for them.
    `alone`: each thing stands by itself, in no rig: nothing is worked out of what is around it, nor asked for.
    """

    def __init__(
        self,
        judge: Judge,
        tables: Mapping[str, tuple[Any, ...]],
        follows: Iterable[Consequence],
        names: frozenset[str],
        purpose: Purpose = "commissioning",
        figures: Iterable[WrittenFigure] = (),
        *,
        alone: bool = False,
    ) -> None:
        self.alone = alone
        self.figures = {} if alone else figures_of(figures)  # they follow what stands round a thing
        self.judge, self.tables, self.names, self.purpose = judge, tables, names, purpose
        self._drawn = drawn_by_kind(follows, judge)
        self._work: dict[Kind, dict[str, Work]] = {}
        self._wanted: dict[Kind, _Named] = {}
        self._settled: dict[Kind, Mapping[str, Work]] = {}
        self._plain: dict[tuple[Kind, str], Work] = {}

    @property
    def timeless(self) -> bool:
        """Whether only what lasts counts, on whatever day."""
        return self.purpose == "standard"

    def asks(self, kind: Kind, name: str) -> bool:
        """Whether a fact of a kind that is not known is asked for; else a check that waits for it is not judged.

        A rule for several kinds may wait for what this one does not have, where the kind itself is presumed.
        """
        fact = kind.facts.get(name)
        if fact is None or (self.timeless and is_fleeting(kind, name)):
            return False
        entry = fact.entry
        return not (self.alone and (entry.computed or entry.lasts in _LIVES or entry.as_fitted))

    def work_of(self, kind: Kind) -> dict[str, Work]:
        """Return what works out each fact of a kind that need not be stated."""
        kept = self._work.get(kind)
        if kept is None:
            kept = self._work[kind] = dict(self._worked(kind))
        return kept

    def wanted(self, kind: Kind) -> _Named:
        """Return the computed facts of a kind that rules read, each with what works it out."""
        kept = self._wanted.get(kind)
        if kept is None:
            work = self.work_of(kind).items()
            kept = self._wanted[kind] = tuple((name, one) for name, one in work if name in self.names)
        return kept

    def settled(self, kind: Kind) -> Mapping[str, Work]:
        """Return the facts of a kind that can be stated and that may have another witness besides."""
        kept = self._settled.get(kind)
        if kept is None:
            stated = (name for name, fact in kind.facts.items() if not fact.computed)
            work = self.work_of(kind)
            kept = self._settled[kind] = {name: work[name] for name in stated if name in work}
        return kept

    def plain(self, kind: Kind, fact: Fact) -> Work:
        """Return what hears all who state a fact that nothing else is known of."""
        key = kind, fact.name
        kept = self._plain.get(key)
        if kept is None:
            kept = self._plain[key] = _with_consequences(fact, None, [], self.purpose, 0.0)
        return kept

    def _worked(self, kind: Kind) -> Iterator[tuple[str, Work]]:
        for name, fact in kind.facts.items():
            plain = _not_now(name) if self.timeless and fact.entry.from_day else _function(kind, fact, self.figures)
            tolerance = _tolerance(kind, name, self.figures)
            drawn = [one for base in kind.lineage for one in self._drawn.get((base, name), ())]
            if drawn:
                yield name, _with_consequences(fact, plain, drawn, self.purpose, tolerance)
            elif plain is not None:
                yield name, plain if fact.computed else _with_consequences(fact, plain, [], self.purpose, tolerance)


class Known:
    """What is known of a rig: copies of its things, with facts that are worked out and kept when first asked for.

    `of` leads from a thing of the rig to its copy, `filled` is the rig with the copies in it, for whoever shows it.
    `presumed` names the facts that only a standard rig states, by thing of the rig.
    `without` names stated facts that are left out, by thing of the rig: what would be known if nobody had said so;
    the kind of a thing with `kind` among them is not known.
    `as_last_seen`: a sight counts until a later one, however old it is: a defect does not pass with its day.
    `later`: things of the rig of which nothing is worked out before somebody asks (`take_in`).
    """

    def __init__(
        self,
        rig: Rig,
        plan: FactPlan,
        day: int,
        without: _Without | None = None,
        presumed: _Without | None = None,
        *,
        as_last_seen: bool = False,
        later: Container[Thing] = (),
    ) -> None:
        self.rig, self.plan = rig, plan
        self.of = open_copies(rig.things)
        self.things = tuple(self.of.values())
        self.root = self.of[rig.root]
        self.filled = replace(rig, root=self.root, things=self.things)
        for thing, names in (without or {}).items():
            copy = self.of[thing]
            copy.places = {name: place for name, place in copy.places.items() if name not in names}
            for name in names:
                copy.facts.pop(name, None)
        for thing, names in (presumed or {}).items():
            self.of[thing].presumed = frozenset(names)
        for copy in self.things:
            if copy.said:
                copy.places = dict(copy.places)
        if plan.timeless:
            self._forget_what_passes()
        self.look = Reckoner(day, plan.judge.limits, plan.tables, plan.work_of, self._settle, as_last_seen=as_last_seen)
        self._settled: set[tuple[Thing, str]] = set()
        # Where nothing was seen or is on record, each stated fact has its one witness, and no more is to be heard.
        self._witnessed = plan.purpose == "use" or any(one.said or one.seen is not None for one in self.things)
        self._left = {self.of[thing]: None for thing in rig.things if thing in later} if later else {}
        self._establish([one for one in self.things if one not in self._left] if later else self.things)

    def _forget_what_passes(self) -> None:
        for copy in self.things:
            passing = [name for name in (*copy.places, *copy.said) if is_fleeting(copy.kind, name)]
            if passing:
                copy.places = {name: place for name, place in copy.places.items() if name not in passing}
                copy.said = {name: said for name, said in copy.said.items() if name not in passing}
                for name in passing:
                    copy.facts.pop(name, None)

    def _establish(self, things: Iterable[Thing]) -> None:
        """Hold what is stated against what follows and what is worked out, and work out what rules read."""
        for thing in things:
            for name in self.plan.settled(thing.kind):
                self._settle(thing, name)
            for name in thing.said:
                self._settle(thing, name)
            if thing.last_seen is not None or self.plan.purpose == "use":
                for name in tuple(thing.places):
                    if thing.kind.facts[name].entry.lasts:
                        self._settle(thing, name)
        for thing in things:
            facts, wanting = thing.facts, thing.wanting
            for name, work in self.plan.wanted(thing.kind):
                if name not in facts and name not in wanting:
                    self.look.work_out(work, thing, name)

    def _settle(self, thing: Thing, name: str) -> None:
        """Bring the witnesses of a fact that can be stated together; once, and before anything reads it."""
        work = self.plan.settled(thing.kind).get(name)
        if work is None and self._witnessed:
            fact = thing.kind.facts.get(name)
            if fact is not None and not fact.computed and self._has_more(thing, name, fact):
                work = self.plan.plain(thing.kind, fact)
        if work is None or (thing, name) in self._settled:
            return
        self._settled.add((thing, name))  # what leads back here finds what is stated
        found = work(thing, self.look)
        if isinstance(found, Wants):
            thing.wanting[name] = found
            thing.facts.pop(name, None)
        else:
            thing.facts[name] = found

    def _has_more(self, thing: Thing, name: str, fact: Fact) -> bool:
        """Whether more is to be heard of a stated fact than that it is written."""
        if name in thing.said:
            return True
        return bool(fact.entry.lasts) and (thing.last_seen is not None or self.plan.purpose == "use")

    def take_in(self, things: Iterable[Thing]) -> None:
        """Work out the facts of things that were left, or that lead to those of the rig: concessions, disagreements."""
        further = list(things)
        for thing in further:
            self._left.pop(thing, None)
        self._establish(further)

    def work_all_out(self) -> None:
        """Work every fact out, also those that no rule reads: a calculation sheet shows them."""
        self.take_in(self._left)
        for thing in self.things:
            for name, work in self.plan.work_of(thing.kind).items():
                if name not in thing.facts and name not in thing.wanting:
                    self.look.work_out(work, thing, name)

    def fact(self, thing: Thing, name: str) -> Any:
        """Return a fact of one of the copies, or MISSING."""
        return self.look.fact(thing, name)

    def take_apart(self) -> None:
        """Give the memory back at once, where many rigs are judged."""
        take_apart(self.things)
        self.of.clear()
        del self.look, self.filled


def uncomputed(
    vocabulary: Vocabulary, follows: Iterable[Consequence] = (), figures: Iterable[WrittenFigure] = ()
) -> Iterator[str]:
    """Yield the facts that are declared as computed and that nothing works out."""
    known = figures_of(figures)
    derived = {(one.rule.kind.name, fact.name) for one in follows for fact in one.then}
    for kind in vocabulary.kinds.values():
        for fact in kind.facts.values():
            worked_out = fact.name == "kind" or _function(kind, fact, known) is not None
            if fact.computed and not worked_out and not any((base, fact.name) in derived for base in kind.lineage):
                yield f"{kind.name}.{fact.name}"


def is_fleeting(kind: Kind, name: str) -> bool:
    """Whether a fact of a kind of thing does not last: it is of a job or a day, or counted from a day."""
    fact = kind.facts.get(name)
    return fact is not None and bool(fact.entry.lasts in _LIVES or fact.entry.from_day)


def _not_now(name: str) -> Work:
    """Return what leaves a time since a day open: no day counts."""
    return lambda thing, look: Wants(((thing, name),))


def _function(kind: Kind, fact: Fact, figures: Mapping[tuple[str, str], Figure]) -> Work | None:
    if fact.entry.from_day:
        return time_since(fact.entry.from_day, fact.measure)
    for ancestor in kind.lineage:
        key = (ancestor, fact.name)
        if key in _PLAIN_FACTS:
            return _PLAIN_FACTS[key]
        if key in figures:
            return work_of_figure(figures[key], fact.measure)
    return None


def _with_consequences(fact: Fact, work: Work | None, drawn: list[Drawn], purpose: Purpose, tolerance: float) -> Work:
    """Return what brings all witnesses of a fact together: stated, worked out, following."""
    name = fact.name

    def together(thing: Thing, look: Look) -> Any:
        witnesses = _heard(thing, fact, look, purpose)
        worked = work(thing, look) if work is not None else Wants()
        if not isinstance(worked, Wants):
            working = thing.workings.get(name)
            says = working.way.formula if working is not None else ""
            witnesses.append(Witness(worked, "worked out", (thing, name), says=says))
        following = [one.witness(thing, look) for one in drawn if not (witnesses and one.consequence.gives_way)]
        witnesses += [one for one in following if isinstance(one, Witness)]
        if not witnesses:
            if not fact.computed:
                return Wants(((thing, name),))
            wants = [one for found in following if isinstance(found, Wants) for one in found]
            return worked or Wants(dict.fromkeys(wants))  # what it is worked out from is asked for first
        if witnesses[0].place is not None and name not in thing.places:
            thing.places[name] = witnesses[0].place
        if len(witnesses) == 1 and witnesses[0].basis in ("written", "presumed", "worked out"):
            return witnesses[0].value
        value, agree = settled(witnesses, tolerance)
        thing.witnesses[name] = tuple(witnesses)
        if not agree:
            thing.disputes[name] = tuple(witnesses)
        return value

    return together


def _heard(thing: Thing, fact: Fact, look: Look, purpose: Purpose) -> list[Witness]:
    """Return who states a fact, without sights that have outlived it; those are kept where nothing else is heard."""
    name = fact.name
    stated = [as_stated(thing, name)] if name in thing.places else []
    stated += [
        Witness(one.value, one.basis, (thing, name), one.day, one.by, one.place, "", one.of_many, one.elsewhere)
        for one in thing.said.get(name, ())
    ]
    current = [
        one
        for one in stated
        if one.basis != "seen" or _counts_still(one, fact, look) or _unanswered(one, fact, stated, look)
    ]
    if len(current) < len(stated):
        values = [one.value for one in current]
        look.outlived |= any(one.value not in values for one in stated if one.day is not None and one.day <= look.day)
    if fact.entry.lasts in _LIVES and purpose == "use":
        current = [one for one in current if one.basis == "seen"]
    if stated and not current:
        thing.witnesses[name] = tuple(stated)
    return heard(current, passing=bool(fact.entry.lasts))


def _unanswered(witness: Witness, fact: Fact, stated: list[Witness], look: Look) -> bool:
    """Whether a thing itself was last seen so, and all that was said of it since was said otherwise of every one."""
    if witness.of_many or witness.day is None or fact.entry.lasts == "deed":
        return False
    since = [one for one in stated if one.day is not None and witness.day < one.day <= look.day]
    return bool(since) and all(one.of_many and one.value != witness.value for one in since)


def _counts_still(witness: Witness, fact: Fact, look: Look) -> bool:
    """Whether a sight still counts on the day of the judgement; one of a later day does not count yet."""
    if witness.day is None or witness.day > look.day:
        return witness.day is None
    if look.as_last_seen and fact.entry.lasts != "deed":  # a defect stands; how a valve was opened that day is over
        return True
    life: Any = look.limit(_LIVES[fact.entry.lasts]) if fact.entry.lasts in _LIVES else MISSING
    if witness.elsewhere and life is not MISSING:  # a defect goes along; that there was none does not
        return False
    return life is MISSING or (look.day - witness.day) * 86_400 <= life.hi


def _tolerance(kind: Kind, name: str, figures: Mapping[tuple[str, str], Figure]) -> float:
    found = (figures.get((base, name)) for base in kind.lineage)
    return next((one.tolerance for one in found if one is not None), 0.0)
