"""What somebody is told who writes a fact at a thing that has no such fact: where it belongs, or what is meant."""

from __future__ import annotations

import pytest

from rigcheck.rig.thing import Thing
from rigcheck.rig.thing_reader import Reading
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.pack import Pack
from rigcheck.text.yamlfile import read_yaml

_SLIPS = [
    # a fact of another kind
    ("hose", "clip: crimped", "'- joint: {clip: crimped}'", "every: {joint: {clip: …}}"),
    ("torch", "leak_test: leaks", "'- joint: {leak_test: leaks}'"),
    ("line", "clip: crimped", "Write it at a joint", "every: {joint: {clip: …}}"),
    ("joint", "cover: cut", "a fact of a hose"),
    ("trolley", "secured: chain", "a fact of a cylinder"),
    ("hose", "tilt: 5 deg", "a fact of a trolley"),
    ("regulator", "pointer: at-zero", "a fact of a gauge"),
    ("job", "place: outside", "a fact of a site"),
    ("nozzle", "oil_free: yes", "a fact of a joint, or of a part"),
    # under another name of it
    ("hose", "clips: crimped", "'- joint: {clip: crimped}'"),
    ("torch", "lit_with: match", "a fact of tools"),
    # with a value that it does not take there either
    ("hose", "tail: barbed", "'- joint: {tail: …}'", "Its words are: hose-tail, "),
    ("rig", "gloves: yes", "a fact of a person", "Its words are: dry-leather, "),
    # where another fact of the thing itself is like it
    ("cylinder", "set_pressure: 3 bar", "a fact of a regulator", "this very cylinder is meant, write 'pressure'"),
    # a word of a fact as if it were one
    ("cylinder", "chained: yes", "'secured: chain'"),
    ("trolley", "chained: yes", "'secured: chain' at a cylinder"),
    ("arrester", "cracked: yes", "'condition: cracked'"),
    ("hose", "taped: yes", "'repaired_with: tape'"),
    ("hose", "tied: yes", "'secured: rope' at a cylinder or 'held_by: cable-tie' at a hose pair"),
    # where yes would turn round
    ("regulator", "leaks: yes", "'tight_against_outside'", "show no bubbles?"),
    # blanks that are none
    ("rig", "\N{NO-BREAK SPACE} place: workshop", "no plain one", "write 'place'"),
    # a thing in the wrong place
    ("tools", "hose: {}", "under the 'parts' of its line"),
    ("line", "trolley: {}", "in the rig itself"),
]


@pytest.mark.parametrize(("kind", "row", "told"), [(kind, row, told) for kind, row, *told in _SLIPS])
def test_a_fact_at_the_wrong_thing_leads_to_what_is_meant(pack: Pack, kind: str, row: str, told: list[str]) -> None:
    written = _written(pack, kind, row)
    assert all(words in written for words in told), written


def test_every_fact_at_every_other_kind_leads_to_a_kind_that_bears_it(pack: Pack) -> None:
    kinds = [one for one in pack.vocabulary.kinds.values() if one.name not in ("rig", "register", "premises", "fleet")]
    own = ((kind, fact) for kind in kinds for fact in kind.facts.values() if not _inherits(pack, kind, fact.name))
    stated = [(kind, fact) for kind, fact in own if fact.measure == "yes_no" and not fact.computed]
    lost = []
    for number, (bearer, fact) in enumerate(stated):
        at = next(one for one in kinds[number % len(kinds) :] + kinds if fact.name not in one.facts)
        written = _written(pack, at.name, f"{fact.name}: yes")
        spoken = "joint" if "joint" in bearer.lineage else bearer.name
        if spoken not in written:
            lost.append(f"{fact.name} of {bearer.name} at {at.name}: {written}")
    assert len(stated) > 100 and not lost, lost


def _inherits(pack: Pack, kind: Kind, name: str) -> bool:
    return bool(kind.base) and name in pack.vocabulary.kinds[kind.base].facts


def _written(pack: Pack, kind: str, row: str) -> str:
    reading, known = Reading("rig.yaml", pack.vocabulary), pack.vocabulary.kinds[kind]
    body = read_yaml(f"{{{row}}}".encode(), "rig.yaml", [])
    reading.fill(Thing(known, known.key, None, 1, 1), body)
    [fault] = reading.faults
    return fault.write
