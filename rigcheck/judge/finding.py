"""What an inspection says: findings with their addresses, questions, concessions, the state of the rig."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, NamedTuple

from msgspec import Struct, field

from rigcheck.facts.explanation import ShownWorking
from rigcheck.facts.known import Purpose
from rigcheck.judge.breach_wording import Found, found_words
from rigcheck.judge.judged import Verdict
from rigcheck.quantity.wording import counted, shown_day
from rigcheck.rig.shared_tags import MetTag
from rigcheck.rig.thing import Thing, titled
from rigcheck.rules.documents import Source
from rigcheck.rules.gravity import reaches
from rigcheck.rules.limits import DatedLimit
from rigcheck.rules.overlay import Laid
from rigcheck.rules.rule import GRAVITY, Signal
from rigcheck.text.faults import Fault
from rigcheck.text.place import Place

__all__ = [
    "Conceded",
    "Finding",
    "Found",
    "Held",
    "Inspection",
    "Question",
    "State",
    "ThingRef",
    "Waiting",
    "ref_of",
]

_ONE_OF = {"findings": "finding", "questions": "question", "held": "check that held"}

State = Literal["on hold", "not yet shown", "lesser findings only", "nothing found against it"]


class ThingRef(NamedTuple):
    """Which thing of a rig is meant: where it stands in the rig, its tag (or nothing), what a report calls it."""

    path: str = ""
    tag: str = ""
    label: str = ""


_NO_THING = ThingRef()


def ref_of(thing: Thing) -> ThingRef:
    """Return what a report refers to a thing by."""
    return ThingRef(thing.path, thing.tag, thing.label)


class Conceded(Struct, frozen=True):
    """Leave to go on with a finding: why, given by whom (a role), until and including which day (a day number)."""

    reason: str
    who: str
    until: int
    place: Place

    @property
    def words(self) -> str:
        """What a report says of it."""
        day = shown_day(self.until)
        return f"{self.reason.rstrip('.')}; leave given by {self.who} until {day} ({self.place})"


class Finding(Struct, frozen=True):
    """A rule that is broken on one thing, with its two addresses; a conceded one does not hold the rig."""

    rule: str
    signal: Signal
    claim: str
    thing: str
    place: Place
    found: tuple[Found, ...]
    required: str
    harm: str
    put_right: str
    sources: tuple[Source, ...]
    limits: tuple[DatedLimit, ...]
    rule_place: Place
    conceded: Conceded | None = None
    at: ThingRef = _NO_THING

    @property
    def found_words(self) -> str:
        """What broke the rule: facts with their values, and whose they are where it is another thing's."""
        return found_words(self.thing, self.found)

    @property
    def told(self) -> str:
        """The finding in a sentence that cannot be read as fulfilled: what was found comes before what must be."""
        return f"{self.found_words}. Must be: {self.claim}" if self.found else f"Not so: {self.claim}"


class Waiting(Struct, frozen=True):
    """A rule that waits for an answer."""

    rule: str
    signal: Signal
    claim: str
    rule_place: Place


class Question(Struct, frozen=True):
    """A fact that is not known, or known too coarsely, with the rules that wait for it.

    `working` shows how a value that is too close to call was worked out, if it was.
    `kind`: what kind of thing it is asked of; empty for a step of a procedure.
    `write`: its words, or its units with an example; `look`: the title of the act of looking that answers it.
    """

    thing: str
    fact: str
    ask: str
    place: Place
    waiting: tuple[Waiting, ...]
    too_close: str = ""
    left_open: bool = False
    working: ShownWorking | None = None
    kind: str = ""
    at: ThingRef = _NO_THING
    write: str = ""
    look: str = ""

    @property
    def signal(self) -> Signal:
        """The gravest signal word among the rules that wait."""
        return max((one.signal for one in self.waiting), key=GRAVITY.__getitem__)


class Held(Struct, frozen=True):
    """A check that held: a rule and the thing that meets it; `presumed`: only by what a standard rig says."""

    rule: str
    claim: str
    thing: str
    place: Place
    presumed: bool = False


class Inspection(Struct, frozen=True):
    """What came out for one rig, or for a record of work with it: then `record` is the title of the procedure.

    `begun_from`: the standard rig that the description was begun from, if it says so; `standard_changed`: what to do
    where that is another one since, in words; `presumed` counts, by their
    signal word, the checks that come out only because it says so; `presumed_holds`: the signal word from which on
    such checks put the rig on hold, none unless that was asked for.
    `about`: the kind of thing that it is about: a rig, or premises or a register, whose name and file then stand for
    those of the rig.
    `withdrawn`: what a register says is out of use, in words, and was not judged.
    `register`, `settings`: where what is on record of its things, and what is said of every rig of its folder, stands.
    `gone`: what a look saw and that is in the rig no more, in words; `seen_by_place`: as of the rig.
    `tags` are those of its things, to be held against other rigs'.
    `unread` holds what of the file could not be read, and was judged as if it were not there.
    `held` is filled only where that was asked for; `verdicts` counts in any case.
    `site`: the file of the site that the rig stands at, or that it is of.
    `left_out`: how many findings, questions and held checks a report leaves out that would be too long.
    """

    rig: str
    file: str
    day: int
    local_code: str
    code_stated: bool
    findings: tuple[Finding, ...]
    questions: tuple[Question, ...]
    verdicts: Mapping[Verdict, int]
    laid: tuple[Laid, ...]
    pack: str
    record: str = ""
    held: tuple[Held, ...] = ()
    begun_from: str = ""
    standard_changed: str = ""
    about: str = "rig"
    presumed: Mapping[Signal, int] = field(default_factory=dict)
    presumed_holds: Signal | None = None
    purpose: Purpose = "commissioning"
    unread: tuple[Fault, ...] = ()
    withdrawn: tuple[str, ...] = ()
    tags: tuple[MetTag, ...] = ()
    invented: bool = False
    site: str = ""
    left_out: Mapping[str, int] = field(default_factory=dict)
    register: str = ""
    settings: str = ""
    gone: tuple[str, ...] = ()
    seen_by_place: tuple[str, ...] = ()

    @property
    def checks_words(self) -> str:
        """What stood, in words: '240 checks presumed, 12 held', or '606 checks held'."""
        held, presumed = self.verdicts.get("holds", 0), self.verdicts.get("presumed", 0)
        if not presumed and (self.record or not self.begun_from):
            rest = f"; {sum(self.presumed.values())} checks of the rig itself are presumed as in its standard rig"
            return f"{held} checks held{rest if self.presumed else ''}"
        changed = " (changed since)" if self.standard_changed else ""
        as_in = f"presumed as in the standard rig {self.begun_from}{changed}"
        return f"{presumed} checks {as_in}, {held} held by this rig's own facts"

    @property
    def left_out_words(self) -> str:
        """What a report says that leaves some out; nothing where all are told."""
        left = [counted(count, _ONE_OF[part]) for part, count in self.left_out.items()]
        told = f"Left out of this report, which would be too long: {', '.join(left)}; the gravest are told."
        return f"{told} --questions all leaves none out." if left else ""

    @property
    def title(self) -> str:
        """What a report calls the rig."""
        return titled(self.rig, self.invented)

    def seen_from(self, place: Place) -> Place:
        """Return a place, or the top of the rig's own file where it lies in a standard rig that is known by its name.

        Such a standard rig ships with rigcheck: nobody finds its file beside the rigs.
        """
        named = place.file != self.file and place.file == f"{self.begun_from}.yaml"
        return Place(self.file, 1, 1) if named else place

    def state(self, hold_at: Signal, *, on_unproven: Signal | None = None) -> State:
        """Return the plain state of the rig, held at a signal word and what is graver.

        `on_unproven`: the word from which on what an open question keeps unproven holds it too.
        A conceded finding holds nothing, but stays something that was found.
        """
        found = (f.signal for f in self.findings if f.conceded is None)
        asked = (q.signal for q in self.questions)
        if reaches(hold_at, found) or reaches(on_unproven, asked) or reaches(self.presumed_holds, self.presumed):
            return "on hold"
        if self.questions:
            return "not yet shown"
        if self.unread:
            return "not yet shown"
        if self.presumed:  # nobody has looked: that is not the same as nothing found
            return "not yet shown"
        return "lesser findings only" if self.findings else "nothing found against it"
