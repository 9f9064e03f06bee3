"""Whether a record follows its procedure: steps out of order, left out, or done twice."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from msgspec.structs import replace

from rigcheck.condition.wording import listed_words
from rigcheck.judge.inspection import Finding
from rigcheck.procedure.expansion import Instance
from rigcheck.procedure.misplaced import Misplaced, misplaced_steps
from rigcheck.procedure.record_findings import Telling, entry_words
from rigcheck.procedure.record_reader import Done
from rigcheck.procedure.record_values import has_failed
from rigcheck.rules.rule import GRAVITY

__all__ = ["judge_order", "judge_presence", "judge_repeats"]

Tries = Mapping[int, Sequence[int]]
"""For the number of each instance, the entries of the record that name it, in their order."""


def judge_order(telling: Telling, steps: Sequence[Done], tries: Tries) -> None:
    """Find the steps that were done before one that comes first."""
    counting = {number: _counting(telling, steps, entries) for number, entries in tries.items()}
    numbers = [done.instance.number for done in steps]
    found = misplaced_steps(numbers, counting, telling.expansion.before)
    telling.held(len(steps) - len(found))
    for one in found:
        telling.tell(_misplaced(telling, steps, one))


def _counting(telling: Telling, steps: Sequence[Done], entries: Sequence[int]) -> int:
    """Return the entry by which a step counts as done: the first that did not fail."""
    return next((entry for entry in entries if not has_failed(telling, steps[entry])), entries[0])


def _misplaced(telling: Telling, steps: Sequence[Done], one: Misplaced) -> Finding:
    pairs = [(steps[first], steps[early]) for first, early in one.pairs]
    gravest = max((first for first, _ in pairs), key=lambda done: GRAVITY[done.instance.step.signal])
    involved = [done.instance.step for pair in pairs for done in pair]
    found = [("order", f"{entry_words(early)} came before {entry_words(first)}", early.place) for first, early in pairs]
    made = telling.finding(gravest.instance, steps[one.entry].place, found, _right_order(pairs))
    return replace(made, signal=max((step.signal for step in involved), key=GRAVITY.__getitem__))


def _right_order(pairs: Sequence[tuple[Done, Done]]) -> str:
    """Return which step had to come before which, without saying either over and over."""
    firsts = list(dict.fromkeys(first.instance.label for first, _ in pairs))
    earlies = list(dict.fromkeys(early.instance.label for _, early in pairs))
    return f"{_few(firsts)} before {_few(earlies)}"


def _few(labels: Sequence[str]) -> str:
    return labels[0] if len(labels) == 1 else f"each of these {len(labels)} ({labels[0]}, …)"


def judge_presence(telling: Telling, tries: Tries) -> None:
    """Find the steps that were left out, and ask about those of which it is not known whether they apply.

    Where a record says that it was stopped, the steps that nobody had come to are told once, together.
    """
    not_reached = _not_reached(telling, tries)
    if not_reached:
        telling.tell(_stopped(telling, not_reached))
    for step in telling.expansion.procedure.steps.values():
        of_step = telling.expansion.of_step(step.name)
        gone = [one for one in of_step if one.number not in tries]
        telling.held(len(of_step) - len(gone))
        required = [one for one in gone if one.required and one not in not_reached]
        if required:
            telling.tell(_left_out(telling, required))
        for one in gone:
            if one.if_so and not step.optional:
                telling.counts["unproven"] += 1
                for owner, fact in one.if_so:
                    telling.ask_of_rig(step, owner, fact)


def _not_reached(telling: Telling, tries: Tries) -> list[Instance]:
    """Return the steps that a stopped record had not come to: none that was done waits for them."""
    if telling.record.stopped_place is None:
        return []
    expansion = telling.expansion
    passed_over = frozenset().union(*(expansion.before[number] for number in tries))
    gone = (one for one in expansion.instances if one.number not in tries and one.number not in passed_over)
    return [one for one in gone if one.required]


def _stopped(telling: Telling, gone: Sequence[Instance]) -> Finding:
    record, procedure = telling.record, telling.expansion.procedure
    place = record.stopped_place or record.steps_place
    gravest = max(gone, key=lambda one: GRAVITY[one.step.signal])
    found = [("not done", one.label, place) for one in gone]
    made = telling.finding(gravest, place, found, "every step of it, or the rig shut down")
    return replace(
        made,
        rule=f"procedures/{procedure.name}",
        claim=f"What was begun is brought to its end: {procedure.title}. It was stopped at {record.stopped}.",
        thing="rig",
        found=tuple(replace(one, thing="rig") for one in made.found),
        harm="Whoever comes next takes a rig that was left half way for one that is set, or for one that is empty.",
        put_right="Go on from there, or shut the rig down and record that.",
        rule_place=procedure.place,
    )


def _left_out(telling: Telling, gone: Sequence[Instance]) -> Finding:
    place, first = telling.record.steps_place, gone[0]
    found = [("not in the record", one.label, place) for one in gone]
    made = telling.finding(first, place, found, f"{first.label} recorded")
    if len(gone) == 1:
        return made
    thing = f"{made.thing} and {len(gone) - 1} more"
    return replace(
        made,
        claim=telling.speaker.do(first, _listed([one.called for one in gone])),
        thing=thing,
        found=tuple(replace(one, thing=thing) for one in made.found),
        required=f"{first.step.label} recorded for each of these {len(gone)}",
    )


def _listed(labels: Sequence[str]) -> str:
    """Return up to three labels in words, and how many more there are."""
    return listed_words([*labels[:3], *([f"{len(labels) - 3} more"] if len(labels) > 3 else [])], "and")


def judge_repeats(telling: Telling, steps: Sequence[Done], tries: Tries) -> None:
    """Find the steps that were done again though they had not failed, or without what is done between two tries."""
    between = {name for done in steps for name in done.instance.step.between_tries}
    for entries in tries.values():
        for first, again in pairwise(entries):
            step = steps[first].instance.step
            if step.between_tries:
                _judge_again(telling, steps[first : again + 1])
            elif not has_failed(telling, steps[first]) and step.name not in between:
                telling.tell(_twice(telling, steps[first], steps[again]))


def _judge_again(telling: Telling, span: Sequence[Done]) -> None:
    """Judge a second try; one whose texts are others, as the name of another torch, is a deed of its own."""
    first, again = span[0], span[-1]
    texts = [name for name, value in first.instance.step.values.items() if value.fact.measure == "text"]
    others = any(first.values.get(one) != again.values.get(one) for one in texts if again.values.get(one))
    done = {one.instance.step.name for one in span}
    gone = [] if others else [name for name in again.instance.step.between_tries if name not in done]
    steps = telling.expansion.procedure.steps
    for instance in (one for name in gone for one in telling.expansion.of_step(steps[name].name)):
        found = [("tried again", f"{entry_words(first)} and {entry_words(again)}", again.place)]
        telling.tell(telling.finding(instance, again.place, found, f"{instance.label} before {again.instance.label}"))
    telling.held(not gone)


def _twice(telling: Telling, first: Done, again: Done) -> Finding:
    told = f"in line {first.place.line} and again in line {again.place.line}"
    required = "each step once, or again only where it failed at first"
    made = telling.finding(again.instance, again.place, [("recorded", told, again.place)], required)
    return replace(
        made,
        signal="notice",
        harm="A record that names a step twice may hide that another step was not done.",
        put_right="See which of the two is meant for another step or thing, and correct the record.",
    )
