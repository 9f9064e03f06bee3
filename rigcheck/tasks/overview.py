"""Many inspections folded into one overview: what is on hold, broken and asked, and what changed since a report.

Pure. One inspection is folded at a time; what stays of it are counts, its name, and the keys of its findings
where they are compared with an earlier report.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from itertools import takewhile
from typing import NamedTuple

from msgspec import Struct, field

from rigcheck.facts.known import Purpose
from rigcheck.judge.causes import alike_questions
from rigcheck.judge.inspection import Finding, Inspection, Question, State
from rigcheck.rules.overlay import Laid
from rigcheck.rules.rule import GRAVITY, SIGNALS, Signal
from rigcheck.tasks.changes import Changes, Seen, Value
from rigcheck.text.address import folder_of
from rigcheck.text.faults import Fault

__all__ = ["Asked", "Broken", "Gist", "Overview", "Standing", "called", "gist_of", "standing_of"]


class Gist(NamedTuple):
    """What an overview needs of one inspection.

    `findings`: rule, signal word, claim, thing, whether it is conceded, the tag of the thing, and what was found.
    `questions`: the kind of thing that it is asked of, what is asked, and the gravest signal word that waits for it;
    `asked`: how many they are where one that is asked of several things counts once.
    `unread`: what of the file could not be read; the rest was judged without it.
    `site`: the file of the site that it stands at.
    """

    file: str
    rig: str
    record: str
    state: State
    findings: tuple[tuple[str, Signal, str, str, bool, str, tuple[Value, ...]], ...]
    questions: tuple[tuple[str, str, Signal], ...]
    asked: int
    invented: bool
    unread: tuple[Fault, ...] = ()
    site: str = ""

    def seen(self) -> Iterator[tuple[str, str, Seen]]:
        """Yield the rule, the thing and the rest of each finding, as they are compared with an earlier report."""
        for rule, signal, _, thing, conceded, _, values in self.findings:
            yield rule, thing, Seen(signal, conceded, values)


def gist_of(inspection: Inspection, hold_at: Signal, *, on_unproven: Signal | None = None) -> Gist:
    """Return the gist of an inspection, its state held at a signal word and what is graver."""
    return Gist(
        inspection.file,
        inspection.title,
        inspection.record,
        inspection.state(hold_at, on_unproven=on_unproven),
        tuple(
            (f.rule, f.signal, f.claim, f.thing, f.conceded is not None, f.at.tag, _values(f))
            for f in inspection.findings
        ),
        tuple((question.kind, _asked(question), question.signal) for question in inspection.questions),
        len(alike_questions(inspection.questions)),
        inspection.invented,
        inspection.unread,
        inspection.site,
    )


def _values(finding: Finding) -> tuple[Value, ...]:
    """Return what was found, as far as it is compared with an earlier report."""
    return tuple(Value(one.thing, one.fact, one.value, one.ends, one.graver, one.counted_from) for one in finding.found)


def _asked(question: Question) -> str:
    """Return what is asked, the same for every thing that it is asked of."""
    spoken = question.fact.replace("_", " ")
    return f"Too close to call: measure the {spoken} more closely." if question.too_close else question.ask


def called(rig: str, record: str) -> str:
    """Return what an inspection is called: the rig, or the record of work with it."""
    return f"record of {record}, {rig}" if record else rig


class Standing(NamedTuple):
    """How one rig, or all rigs of a folder, stand: findings that are not conceded, by signal word, gravest first."""

    name: str
    file: str
    state: str
    counts: tuple[int, ...]
    conceded: int
    questions: int
    rigs: int = 1
    held: int = 0
    invented: bool = False

    @property
    def order(self) -> tuple[object, ...]:
        """The worst first: one graver finding outweighs any number of lesser ones."""
        return (tuple(-count for count in self.counts), -self.held, -self.questions, self.file, self.name)


class Broken(Struct):
    """How often one rule is broken, and on how many rigs; `conceded` of the findings are conceded."""

    signal: Signal
    claim: str
    findings: int = 0
    rigs: int = 0
    conceded: int = 0


class Asked(Struct):
    """How often one question is asked, and on how many rigs; `signal` is the gravest that waits for it."""

    signal: Signal
    questions: int = 0
    rigs: int = 0


class Overview(Struct):
    """What is folded so far; `registers`: the files of registers that were met and passed over.

    `folders`, `sites` and `tags` have the standing of all rigs in a folder, at a site (by its file), or with findings
    on the thing of a tag (these findings alone).
    """

    changes: Changes | None = None
    states: Counter[str] = field(default_factory=Counter)
    signals: Counter[Signal] = field(default_factory=Counter)
    conceded: int = 0
    invented: int = 0
    broken: dict[str, Broken] = field(default_factory=dict)
    asked: dict[tuple[str, str], Asked] = field(default_factory=dict)
    standings: list[Standing] = field(default_factory=list)
    folders: dict[str, Standing] = field(default_factory=dict)
    sites: dict[str, Standing] = field(default_factory=dict)
    tags: dict[str, Standing] = field(default_factory=dict)
    refused: list[tuple[str, tuple[Fault, ...]]] = field(default_factory=list)
    in_part: list[tuple[str, tuple[Fault, ...]]] = field(default_factory=list)
    laid: tuple[Laid, ...] = ()
    registers: tuple[str, ...] = ()
    purpose: Purpose = "commissioning"

    def fold(self, gist: Gist) -> None:
        """Take one inspection in."""
        self.states[gist.state] += 1
        self.invented += gist.invented
        standing = _standing_of_gist(gist)
        self.standings.append(standing)
        _fold_into(self.folders, folder_of(gist.file), standing)
        if gist.site:
            _fold_into(self.sites, gist.site, standing)
        for tag, of_tag in _by_tag(gist, standing):
            _fold_into(self.tags, tag, of_tag)
        self._fold_findings(gist)
        self._fold_questions(gist)
        if gist.unread:
            self.in_part.append((gist.file, gist.unread))
        if self.changes is not None:
            self.changes.fold(called(gist.rig, gist.record), gist.seen())

    def refuse(self, file: str, faults: tuple[Fault, ...]) -> None:
        """Take one file in that could not be read."""
        self.refused.append((file, faults))

    def _fold_findings(self, gist: Gist) -> None:
        for rule, signal, claim, _, conceded, *_ in gist.findings:
            broken = self.broken.setdefault(rule, Broken(signal, claim))
            broken.findings += 1
            broken.conceded += conceded
            self.conceded += conceded
            self.signals[signal] += not conceded
        for rule in {finding[0] for finding in gist.findings}:
            self.broken[rule].rigs += 1

    def _fold_questions(self, gist: Gist) -> None:
        for kind, ask, signal in gist.questions:
            asked = self.asked.setdefault((kind, ask), Asked(signal))
            asked.questions += 1
            asked.signal = max(asked.signal, signal, key=GRAVITY.__getitem__)
        for asked_of in {question[:2] for question in gist.questions}:
            self.asked[asked_of].rigs += 1

    # --- in order ---

    def on_hold(self) -> list[Standing]:
        """Return the rigs that are on hold, the worst first."""
        return _worst(one for one in self.standings if one.state == "on hold")

    def worst_rigs(self) -> list[Standing]:
        """Return the rigs that have findings, the worst first."""
        return _worst(one for one in self.standings if any(one.counts))

    def worst_folders(self) -> list[Standing]:
        """Return the folders, the worst first."""
        return _worst(self.folders.values())

    def worst_customers(self) -> list[Standing]:
        """Return the folders in the one that has all of them, each with what lies below it, the worst first."""
        parts = {folder: folder.split("/") for folder in self.folders}
        common = sum(1 for _ in takewhile(lambda level: len(set(level)) == 1, zip(*parts.values(), strict=False)))
        found: dict[str, Standing] = {}
        for folder, standing in self.folders.items():
            _fold_into(found, "/".join(parts[folder][: common + 1]), standing)
        return _worst(found.values())

    def worst_sites(self) -> list[Standing]:
        """Return the sites that rigs stand at, the worst first."""
        return _worst(self.sites.values())

    def worst_tags(self) -> list[Standing]:
        """Return the tags on whose thing something was found, the worst first."""
        return _worst(self.tags.values())

    def most_broken(self) -> list[tuple[str, Broken]]:
        """Return the rules that are broken, those on most rigs first."""
        return sorted(self.broken.items(), key=lambda one: (-one[1].rigs, -GRAVITY[one[1].signal], one[0]))

    def most_asked(self) -> list[tuple[tuple[str, str], Asked]]:
        """Return the kinds of thing and what is asked of them, those on most rigs first."""
        return sorted(self.asked.items(), key=lambda one: (-one[1].rigs, -GRAVITY[one[1].signal], one[0]))

    @property
    def totals(self) -> Mapping[str, int]:
        """How many files came out how."""
        return {**self.states, **({"not read": len(self.refused)} if self.refused else {})}


def standing_of(inspection: Inspection, state: State) -> Standing:
    """Return how an inspected rig stands; `state`: the one that it is in."""
    found = ((one.signal, one.conceded is not None) for one in inspection.findings)
    name, asked = called(inspection.title, inspection.record), len(alike_questions(inspection.questions))
    return _standing(name, inspection.file, state, found, asked)._replace(invented=inspection.invented)


def _standing_of_gist(gist: Gist) -> Standing:
    found = ((signal, conceded) for _, signal, _, _, conceded, *_ in gist.findings)
    return _standing(called(gist.rig, gist.record), gist.file, gist.state, found, gist.asked)


def _standing(name: str, file: str, state: State, found: Iterable[tuple[Signal, bool]], asked: int) -> Standing:
    counted = Counter(found)
    counts = tuple(counted[signal, False] for signal in SIGNALS)
    conceded = sum(counted[signal, True] for signal in SIGNALS)
    return Standing(name, file, state, counts, conceded, asked, 1, int(state == "on hold"))


def _by_tag(gist: Gist, standing: Standing) -> Iterator[tuple[str, Standing]]:
    """Yield each tag on whose thing something was found in a rig, with the standing of that thing alone."""
    for tag in dict.fromkeys(finding[5] for finding in gist.findings if finding[5]):
        found = ((signal, conceded) for _, signal, _, _, conceded, of, _ in gist.findings if of == tag)
        alone = _standing(standing.name, standing.file, gist.state, found, 0)
        yield tag, alone


def _fold_into(groups: dict[str, Standing], name: str, one: Standing) -> None:
    groups[name] = _together(groups.get(name), one, name)


def _together(before: Standing | None, one: Standing, folder: str) -> Standing:
    if before is None:
        return one._replace(name=folder, file=folder, state="")
    counts = tuple(a + b for a, b in zip(before.counts, one.counts, strict=True))
    added = (
        before.conceded + one.conceded,
        before.questions + one.questions,
        before.rigs + one.rigs,
        before.held + one.held,
    )
    return Standing(folder, folder, "", counts, *added)


def _worst(standings: Iterable[Standing]) -> list[Standing]:
    return sorted(standings, key=lambda one: one.order)
