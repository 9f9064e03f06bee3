"""Laws of evidence over the sites: in how many files a rig is described, and in which order, changes no verdict."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml
from support.in_full import sites_in_full

from rigcheck.cli.evidence_input import forget_evidence
from rigcheck.cli.site_input import read_rig
from rigcheck.judge.inspection import Inspection, explain
from rigcheck.judge.judged import judge
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack

_DAY = date(2026, 11, 25).toordinal()
_SITES = sorted(sites_in_full().glob("*.yaml"))
_SHORT = sorted((configs_folder() / "sites").glob("[!.]*.yaml"))
_STRUCTURE = ("branches", "tag")


@pytest.fixture
def fresh(pack: Pack) -> Iterator[Pack]:
    """The pack, without what it keeps of files: each rig here has evidence of its own."""
    kept = dict(pack.kept)
    yield pack
    pack.kept.clear()
    pack.kept.update(kept)


def _plain(path: Path) -> dict[str, Any]:
    read: dict[str, Any] = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    return read


def _parts(rig: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    for line in rig["lines"]:
        for item in line["parts"]:
            if isinstance(item, dict):
                [(key, body)] = item.items()
                if key not in ("joint", "header", "manifold") and isinstance(body, dict):
                    yield key, body


def _split(rig: dict[str, Any], pack: Pack, dice: random.Random) -> tuple[dict[str, Any], list[dict[str, Any]]]:
    """Take facts out of the parts of a rig: some into a register, some into a look; what is inside a part stays."""
    things: dict[str, Any] = {}
    seen: list[dict[str, Any]] = []
    for number, (key, body) in enumerate(_parts(rig), start=1):
        tag = body.get("tag", f"T-{number}")
        on_record, looked = {}, {}
        for name, value in list(body.items()):
            if isinstance(value, str) and name not in _STRUCTURE and value not in ("unknown", "?"):
                fitted = pack.vocabulary.by_key[key].facts[name].entry.as_fitted  # no register can say it
                where = dice.choice((None, looked if fitted else on_record, looked))
                if where is not None:
                    where[name] = body.pop(name)
        body["tag"] = tag
        things[tag] = {key: on_record}
        seen += [{"thing": tag, **looked}] if looked else []
    dice.shuffle(seen)
    return {"register": "invented stores", "things": things}, seen


def _write(folder: Path, name: str, content: object) -> Path:
    path = folder / name
    path.parent.mkdir(exist_ok=True, parents=True)
    path.write_text(yaml.safe_dump(content, allow_unicode=True, sort_keys=False), encoding="utf-8")
    return path


def _inspected(path: Path, pack: Pack, register: str = "") -> Inspection:
    rig = read_rig(path.read_bytes(), str(path), pack, register)
    return explain(judge(rig, pack, day=_DAY), tell_holds=True)


def _told(inspection: Inspection) -> tuple[object, ...]:
    found = Counter((one.rule, one.at.path) for one in inspection.findings)
    held = Counter((one.rule, one.presumed) for one in inspection.held)
    return found, held, {(one.at.path, one.fact) for one in inspection.questions}, dict(inspection.verdicts)


@pytest.mark.parametrize("path", _SHORT, ids=lambda path: path.stem)
def test_a_shipped_site_has_the_verdicts_that_it_has_in_full_in_under_150_lines(path: Path, pack: Pack) -> None:
    whole, short = _inspected(sites_in_full() / path.name, pack), _inspected(path, pack)
    assert _told(short) == _told(whole)
    assert short.state("warning") == whole.state("warning")
    assert len(path.read_text(encoding="utf-8").splitlines()) < 150
    assert short.register.endswith("register")


@pytest.mark.parametrize("path", _SITES, ids=lambda path: path.stem)
def test_in_full_or_by_register_and_looks_a_rig_has_the_same_verdicts(path: Path, fresh: Pack, tmp_path: Path) -> None:
    dice, rig = random.Random(path.stem), _plain(path)
    whole = _inspected(_write(tmp_path / "whole", "rig.yaml", rig), fresh)
    register, seen = _split(rig, fresh, dice)
    folder = tmp_path / "split"
    half = len(seen) // 2
    for number, part in enumerate((seen[:half], seen[half:])):
        look = {"look": "../rig.yaml", "day": "2026-11-25", "by": "fitter", "seen": part}
        _write(folder, f"looks/{dice.randrange(1000)}-{number}.yaml", look)
    stores = _write(tmp_path, "stores.yaml", register)
    split = _inspected(_write(folder, "rig.yaml", rig), fresh, str(stores))
    assert _told(split) == _told(whole)
    assert sum(whole.verdicts.values()) > 400


@pytest.mark.parametrize("path", _SITES[::2], ids=lambda path: path.stem)
def test_what_is_said_of_every_thing_of_a_kind_is_as_if_each_said_it(path: Path, pack: Pack, tmp_path: Path) -> None:
    rig = _plain(path)
    whole = _inspected(_write(tmp_path / "whole", "rig.yaml", rig), pack)
    by_kind: dict[str, list[dict[str, Any]]] = {}
    for key, body in _parts(rig):
        by_kind.setdefault(key, []).append(body)
    every: dict[str, dict[str, str]] = {}
    for key, bodies in by_kind.items():
        names = set.intersection(*(set(body) for body in bodies))
        for name in sorted(names - {"tag"}):
            values = {str(body[name]) for body in bodies}
            if len(values) == 1 and all(isinstance(body[name], str) for body in bodies):
                every.setdefault(key, {})[name] = bodies[0][name]
                for body in bodies:
                    del body[name]
    assert sum(map(len, every.values())) > 20
    short = _inspected(_write(tmp_path / "short", "rig.yaml", {**rig, "every": rig.get("every", {}) | every}), pack)
    assert _told(short) == _told(whole)


_RIG = """\
rig: one bad hose
lines:
  - gas: oxygen
    parts: [cylinder, regulator, hose: {{tag: H-1, bend_test: no-cracks, {own}}}]
torch: {{form: cutting}}
"""
_REGISTER = "register: stores\nthings:\n  H-1: {hose: {cover: sound}}\n"
_LOOK = "look: rig.yaml\nday: {day}\nby: fitter\nseen: [{{thing: H-1, cover: sound}}]\n"
_EVERY = "{{every: {{hose: {{cover: sound}}}}}}"


@pytest.mark.parametrize(
    ("own", "register", "look", "verdict"),
    [
        ("cover: cut", "", "", "broken"),
        ("cover: cut", _REGISTER, "", "unproven"),  # two statements, and nobody has looked since
        ("cover: cut, seen: 2026-11-20", _REGISTER, "", "unproven"),
        ("cover: cut, seen: 2026-11-20", "", "2026-11-19", "broken"),
        ("cover: cut, seen: 2026-11-20", "", "2026-11-20", "unproven"),  # two sights of one day
        ("cover: cut, seen: 2026-11-20", "", "2026-11-21", "holds"),  # a later sight of the same thing
        ("cover: cut, seen: 2026-11-20", "", "2026-11-26", "broken"),  # one that is still to come
        ("cover: cut, seen: 2026-11-20", "", "every 2026-11-21", "unproven"),  # later, but not of this very thing
        ("cover: sound, seen: 2026-11-20", "", "every 2026-11-21", "holds"),
    ],
)
def test_only_a_later_sight_of_the_same_thing_takes_a_finding_away(
    own: str, register: str, look: str, verdict: str, fresh: Pack, tmp_path: Path
) -> None:

    rig = tmp_path / "rig.yaml"
    rig.write_text(_RIG.format(own=own))
    (tmp_path / "stores.yaml").write_text(register or "register: stores\nthings: {H-1: {hose: {}}}\n")
    if look:
        text = _LOOK.replace("{{thing: H-1, cover: sound}}", _EVERY) if look.startswith("every") else _LOOK
        (tmp_path / "look.yaml").write_text(text.format(day=look.split()[-1]))
    judged = judge(read_rig(rig.read_bytes(), str(rig), fresh, str(tmp_path / "stores.yaml")), fresh, day=_DAY)
    told = {(thing.tag, rule.name): got for thing, rule, got, _ in judged.judgements()}
    assert told["H-1", "hoses/hose_cover_is_sound"] == verdict
    disagree = [one.signal for one in explain(judged).findings if one.rule == "rig/statements_agree"]
    assert disagree == (["warning"] if verdict == "unproven" else [])  # as grave as the finding that it keeps open


def test_what_was_seen_of_a_part_goes_with_its_tag_to_another_rig(fresh: Pack, tmp_path: Path) -> None:
    for name in ("before", "now"):
        (tmp_path / f"{name}.yaml").write_text(_RIG.format(own="condition: sound" if name == "now" else "colour: blue"))
    (tmp_path / "looks").mkdir()
    look = "look: ../before.yaml\nday: 2026-11-20\nby: fitter\nseen:\n"
    look += "  - {thing: h-1, cover: cut, run: under-wheels, flashback_seen: yes}\n"
    (tmp_path / "looks" / "one.yaml").write_text(look)
    (tmp_path / "looks" / "of-another.yaml").write_text(look.replace("h-1", "H-2").replace("20", "21"))
    rig = tmp_path / "now.yaml"

    def found(wanted: str = "broken") -> set[str]:
        judged = judge(read_rig(rig.read_bytes(), str(rig), fresh), fresh, day=_DAY)
        return {rule.name for _, rule, verdict, _ in judged.judgements() if verdict == wanted}

    assert "hoses/hose_cover_is_sound" in found()
    assert "hoses/hose_clear_of_traffic" not in found(), "how it lay there is not how it lies here"
    assert "hoses/hose_after_flashback_is_replaced" in found(), "what went into it that day is in it here too"
    (tmp_path / "looks" / "now.yaml").write_text(_LOOK.format(day="2026-11-22").replace("rig.yaml", "../now.yaml"))
    forget_evidence(fresh)
    assert "hoses/hose_cover_is_sound" not in found(), "seen here since"
    today = look.replace("11-20", "11-25").replace("flashback_seen: yes", "flashback_seen: no")
    (tmp_path / "looks" / "one.yaml").write_text(today)
    forget_evidence(fresh)
    assert "hoses/hose_after_flashback_is_replaced" in found("unproven"), (
        "that nothing was wrong there shows nothing here"
    )


def test_a_part_that_left_its_rig_makes_no_fault_of_the_look_that_saw_it_there(fresh: Pack, tmp_path: Path) -> None:
    rig = tmp_path / "rig.yaml"
    rig.write_text(_RIG.format(own="colour: blue"))
    (tmp_path / "look.yaml").write_text(_LOOK.format(day="2026-11-20").replace("H-1", "H-2"))
    for stores, told in (("H-1: {hose: {}}", (0, 1)), ("H-1: {hose: {}}, H-2: {hose: {}}", (1, 0))):
        (tmp_path / f"{told[0]}.yaml").write_text(f"register: stores\nthings: {{{stores}}}\n")
        read = read_rig(rig.read_bytes(), str(rig), fresh, str(tmp_path / f"{told[0]}.yaml"))
        assert (len(read.gone), len(read.unread)) == told
    assert read.gone[0].startswith("H-2, seen 2026-11-20, is in this rig no more")


def test_a_look_that_cannot_be_read_silences_no_rig(fresh: Pack, tmp_path: Path) -> None:
    rig = tmp_path / "rig.yaml"
    rig.write_text(_RIG.format(own="cover: cut").replace("tag: H-1, ", ""))
    (tmp_path / "look.yaml").write_text(_LOOK.format(day="3/4/2026"))
    found = read_rig(rig.read_bytes(), str(rig), fresh)
    inspection = explain(judge(found, fresh, day=_DAY))
    assert [one.place.line for one in inspection.unread] == [2]
    assert "hoses/hose_cover_is_sound" in {one.rule for one in inspection.findings}
    assert inspection.state("warning") == "on hold"
