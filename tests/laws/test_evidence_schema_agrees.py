"""The JSON Schemas of registers, looks, concessions and settings take what the readers take: tried by mutation."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from copy import deepcopy
from typing import Any, NamedTuple

import pytest
import yaml
from jsonschema_rs import Draft202012Validator
from support.editor_yaml import as_an_editor_reads

from rigcheck.rig.around import Around, Settings
from rigcheck.rig.concessions import load_beside
from rigcheck.rig.evidence_schema import concessions_schema, look_schema, register_schema, settings_schema
from rigcheck.rig.loader import load_rig
from rigcheck.rig.look_file import read_look
from rigcheck.rig.register_reader import load_register
from rigcheck.rig.vocabulary import Vocabulary
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Fault, Refused
from rigcheck.text.yamlfile import Mapping, laid_in, read_yaml

_COUNT = 150
_RIG = """\
rig: tried
lines:
  - gas: oxygen
    parts: [cylinder: {tag: C-1}, regulator: {tag: R-1}, arrester: {tag: A-1}, hose: {tag: H-1}]
torch: {form: cutting}
"""
_REGISTER = """\
register: stores
local_code: uk
kinds:
  hose-8: {hose: {bore: 8 mm, standard: ISO 3821, gases: [oxygen]}}
things:
  H-1: {as: hose-8, made: 2024-03, tested: 2026-02-10}
  H-2: {hose: {as: hose-8, length: 10 m, withdrawn: failed-test, withdrawn_since: 2026-10-02}}
  R-1: {regulator: {inlet_rating: 230 bar, inlet_gauge: {full_scale: 315 bar}}}
  P-1: {person: {trained: true, age: 34 year}}
"""
_LOOK = """\
look: tried.yaml
day: 2026-11-25
by: fitter
seen:
  - {thing: H-1, cover: sound, kinked: false}
  - {thing: R-1, inlet_gauge: {glass: cracked}}
  - every: {joint: {leak_test: tight, clip: o-clip}, gauge: {pointer: at-zero}}
cannot_tell:
  - {thing: H-1, fact: made, because: unreadable}
note: none
"""
_CONCESSIONS = """\
concessions:
  - {rig: yard/*, rule: hoses/twin_hoses_part_freely, thing: H-1, thing_made: 2024-03, reason: On Thursday,
     who: manager, until: 2026-12-31}
"""
_SETTINGS = """\
register: ../register
every: {rig: {fire_drill: true}, joint: {made_by: maker}, hose: {standard: ISO 3821}, line: {premix: false}}
"""


def _register(text: str, vocabulary: Vocabulary) -> None:
    load_register([(text.encode(), "tried.yaml")], vocabulary, "tried.yaml")


def _look(text: str, vocabulary: Vocabulary) -> None:
    look = read_look(text.encode(), "look.yaml", vocabulary)
    load_rig(_RIG.encode(), "tried.yaml", vocabulary, Around(looks=(look,)))


def _concessions(text: str, vocabulary: Vocabulary) -> None:
    load_beside(text.encode(), "tried.yaml", vocabulary)


def _settings(text: str, vocabulary: Vocabulary) -> None:
    root = read_yaml(text.encode(), "tried.yaml")
    items = root.items if isinstance(root, Mapping) else {}
    if set(items) - {"register", "every"} or not items:  # what the command refuses, see `cli/evidence_input`
        raise Refused([])
    every = items.get("every")
    told = Settings("tried.yaml", "", laid_in(every, "tried.yaml")) if every is not None else None
    load_rig(_RIG.encode(), "tried.yaml", vocabulary, Around(settings=told))


class File(NamedTuple):
    """A sort of file: a right one, its schema, and what reads it (and raises `Refused`)."""

    text: str
    schema: Callable[[Vocabulary], dict[str, Any]]
    read: Callable[[str, Vocabulary], None]


_FILES = {
    "register": File(_REGISTER, register_schema, _register),
    "look": File(_LOOK, look_schema, _look),
    "concessions": File(_CONCESSIONS, concessions_schema, _concessions),
    "settings": File(_SETTINGS, settings_schema, _settings),
}
_NAMES = (  # only the rig or the register knows what is called so, or of which kind it is
    "is no kind of this register",
    "leads back to itself",
    "is nothing of this rig",
    "is more than one thing",
    "is nothing known of a",
    "It is a fact of",
    "and to be of a kind",
    "are seen here, and",
    "stands in the register twice",
    "is on record as withdrawn",
    "is computed and cannot",
    "says how the",
)


def _places(tree: Any) -> Iterator[tuple[Any, Any]]:
    for key, value in tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ():
        yield tree, key
        yield from _places(value)


def _changed(tree: Any, chance: random.Random) -> Any:
    made = deepcopy(tree)
    held, key = chance.choice(list(_places(made)))
    way = chance.randrange(4)
    if way == 0:
        del held[key]
    elif way == 1 and isinstance(held, dict):
        held[chance.choice((f"{key}s", "seen", "by", "direction", "colour", "every", "tag", "glass"))] = held.pop(key)
    elif way == 2:
        held[key] = chance.choice(("none", "yes", "2026-11", "2026-11-20", "8 mm", "soud", "", "12", "unknown"))
    else:
        held[key] = chance.choice(([], {}, [held[key]], {"hose": {"cover": "sound"}}, "sound"))
    return made


def _faults(text: str, file: File, vocabulary: Vocabulary) -> list[Fault] | None:
    try:
        file.read(text, vocabulary)
    except Refused as refused:
        return list(refused.faults)
    return None


@pytest.mark.parametrize("name", _FILES)
def test_an_editor_marks_nothing_that_is_read_and_misses_only_what_takes_other_files(name: str, pack: Pack) -> None:
    file, chance = _FILES[name], random.Random(name)
    validator = Draft202012Validator(file.schema(pack.vocabulary))
    right = yaml.load(file.text, yaml.BaseLoader)
    assert _faults(file.text, file, pack.vocabulary) is None
    assert validator.is_valid(as_an_editor_reads(file.text)), [*validator.iter_errors(as_an_editor_reads(file.text))]
    refused = 0
    for _ in range(_COUNT):
        text = yaml.safe_dump(_changed(right, chance), sort_keys=False).replace("'", "")
        try:
            content = as_an_editor_reads(text)
        except yaml.YAMLError:
            continue
        fits, faults = validator.is_valid(content), _faults(text, file, pack.vocabulary)
        refused += faults is not None
        assert fits or faults is not None, text  # red in the editor, and read
        unseen = faults is not None and fits and not all(any(one in f.read for one in _NAMES) for f in faults)
        assert not unseen, (text, [str(one) for one in faults or ()])
    assert refused > _COUNT / 4
