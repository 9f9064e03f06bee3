"""Laws of witnesses over the standard rigs and the sites: what more is known settles, and does not flip."""

from __future__ import annotations

import random
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml
from support.in_full import sites_in_full
from support.sampling import sampled
from support.tool_room import text_of, tool_room_but

from rigcheck.judge.compiled_rules import compiled_for
from rigcheck.judge.inspection import explain, inspect_rig
from rigcheck.judge.judged import Judged, judge
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack

DAY = date(2026, 11, 25).toordinal()
TEMPLATES = sorted((configs_folder() / "templates").glob("*.yaml"))
RIGS = [*TEMPLATES, *sorted(sites_in_full().glob("*.yaml"))]


def loaded(path: Path, pack: Pack, text: str = "") -> Rig:
    return load_rig((text or path.read_text(encoding="utf-8")).encode(), path.name, pack.vocabulary)


def by_path(judged: Judged) -> Mapping[tuple[str, str], str]:
    return {(thing.path, rule.name): verdict for thing, rule, verdict, _ in judged.judgements()}


@pytest.mark.parametrize("path", sampled(RIGS, 5), ids=lambda path: path.stem)
def test_judged_twice_is_the_same_and_looking_at_it_changes_nothing(path: Path, pack: Pack) -> None:
    rig = loaded(path, pack)
    judged = judge(rig, pack, day=DAY)
    first = explain(judged)
    judged.known.work_all_out()
    assert explain(judged) == first == inspect_rig(rig, pack, day=DAY)


@pytest.mark.parametrize("path", sampled(TEMPLATES, 5, 1), ids=lambda path: path.stem)
def test_what_a_standard_rig_alone_supports_never_holds(path: Path, pack: Pack) -> None:
    text = path.read_text(encoding="utf-8").replace("\nrig:", f"\nbegun_from: {path.stem}\nrig:", 1)
    assert "holds" not in inspect_rig(loaded(path, pack, text), pack, day=DAY).verdicts


@pytest.mark.parametrize("path", sampled(TEMPLATES, 5, 2), ids=lambda path: path.stem)
def test_presumed_or_written_a_rig_is_broken_and_open_alike(path: Path, pack: Pack) -> None:
    text = path.read_text(encoding="utf-8")
    begun = text.replace("\nrig:", f"\nbegun_from: {path.stem}\nrig:", 1)
    written, presumed = (by_path(judge(loaded(path, pack, one), pack, day=DAY)) for one in (text, begun))
    turned = {key for key in written if presumed[key] not in (written[key], "presumed")}
    assert turned == set()


@pytest.mark.parametrize("path", RIGS[::3], ids=lambda path: path.stem)
def test_the_order_in_which_facts_are_written_changes_no_verdict(path: Path, pack: Pack) -> None:
    dice = random.Random(path.stem)

    def shuffled(node: object) -> object:
        if isinstance(node, list):
            return [shuffled(one) for one in node]
        if isinstance(node, dict):
            keys = [*node]
            dice.shuffle(keys)
            return {key: shuffled(node[key]) for key in keys}
        return node

    text = path.read_text(encoding="utf-8")
    other = yaml.safe_dump(shuffled(yaml.load(text, yaml.BaseLoader)), sort_keys=False, allow_unicode=True)
    assert by_path(judge(loaded(path, pack), pack, day=DAY)) == by_path(judge(loaded(path, pack, other), pack, day=DAY))


_SETTLED = ("holds", "broken")


@pytest.mark.parametrize("where", ["fuel line", "fuel regulator", "fuel hose", "oxygen cylinder", "trolley", "job"])
def test_what_is_left_out_opens_verdicts_and_turns_none(where: str, pack: Pack) -> None:
    # Read the other way round: more knowledge never turns what is settled. The gauge of this rig fell in the test.
    fallen = {"fuel line": {"pressure_drop": "0.05 bar"}}
    told = tool_room_but(fallen)
    place = told["lines"][0] if where == "fuel line" else told[where] if where in told else _part(told, *where.split())
    full = by_path(_judged(told, pack))
    turned = {}
    for fact in [key for key, value in place.items() if isinstance(value, str) and key not in ("gas", "kind")]:
        kept = place.pop(fact)
        less = by_path(_judged(told, pack))
        place[fact] = kept
        turned |= {(fact, key): (less[key], full[key]) for key in less if _turns(less[key], full.get(key, ""))}
    assert turned == {}


def _turns(less: str, full: str) -> bool:
    return less in _SETTLED and full in (*_SETTLED, "unproven") and less != full


def _part(rig: dict[str, Any], line: str, kind: str) -> dict[str, Any]:
    return next(part[kind] for part in rig["lines"][line == "oxygen"]["parts"] if kind in part)


def _judged(told: dict[str, Any], pack: Pack) -> Judged:
    return judge(load_rig(text_of(told).encode(), "told.yaml", pack.vocabulary), pack, day=DAY)


def test_many_packs_that_were_dropped_leave_nothing_behind(pack: Pack) -> None:
    # What is made of a pack is kept with it, so that it dies with it: nothing else may hold on to one.
    import gc
    import weakref

    from msgspec.structs import replace

    other = replace(pack, digest="another")
    rig = loaded(RIGS[-1], pack)
    explain(judge(rig, other, day=DAY))
    compiled = weakref.ref(compiled_for(other, "general", DAY).judge)
    del other
    gc.collect()
    assert compiled() is None
