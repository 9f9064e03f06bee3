"""A site written in full and the same by its standard rig, a register and looks come out alike, verdict by verdict."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml
from support.in_full import Plain, site_in_full, things_of

from rigcheck.cli.site_input import read_rig
from rigcheck.judge.judged import judge
from rigcheck.rig.vocabulary import Kind, Vocabulary
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack

_DAY = date(2026, 11, 25).toordinal()
_STANDARD = {  # the shipped sites whose lines have the parts of a standard rig, in its order; the other three have more
    "breakers-corner-drum": "oxy-propane-cutting",
    "outer-quay-long-hose": "oxy-acetylene-cutting",
    "pipe-loft-brazing": "air-aspirated-propane-brazing",
    "plate-shop-cutting": "oxy-acetylene-cutting",
    "pump-chamber-purge": "oxy-acetylene-cutting",
    "tool-room-welding": "oxy-acetylene-welding",
    "van-pipe-repair": "portable-small-set",
    "wharf-crane-rail": "oxy-acetylene-cutting",
}
_NOT_MOVED = ("tag", "name", "kind", "role", "gas", "stands", "torch_inlet")
_KEPT_BY_REGISTER = ("part", "trolley", "tools", "person", "site")


@pytest.mark.parametrize("site", _STANDARD)
def test_a_site_by_standard_rig_register_and_look_has_the_verdicts_of_its_full_form(
    site: str, pack: Pack, tmp_path: Path
) -> None:
    full = _tagged(site_in_full(site), pack.vocabulary)
    _write(tmp_path / "full.yaml", full)
    own = _tagged(site_in_full(site), pack.vocabulary)
    seen, on_record = _parted(own, pack.vocabulary)
    _say_what_is_not_known(own, _standard(site), pack.vocabulary.kinds["rig"], pack.vocabulary)
    _write(tmp_path / "register.yaml", {"register": "stores", "things": on_record})
    _write(tmp_path / "own.yaml", {**own, "standard_rig": _STANDARD[site], "register": "register.yaml"})
    _write(tmp_path / "look.yaml", {"look": "own.yaml", "day": "2026-11-25", "by": "fitter", "seen": seen})
    assert len(seen) > 5 and len(on_record) > 5
    in_full, by_standard = (_verdicts(tmp_path / name, pack) for name in ("full.yaml", "own.yaml"))
    other = {key: (told, by_standard.get(key)) for key, told in in_full.items() if by_standard.get(key) != told}
    assert not other and len(by_standard) == len(in_full)


def _verdicts(path: Path, pack: Pack) -> dict[tuple[str, str], str]:
    rig = read_rig(path.read_bytes(), str(path), pack)
    assert rig.unread == (), rig.unread
    return {(one.label, rule.name): told for one, rule, told, _ in judge(rig, pack, day=_DAY).judgements()}


def _write(path: Path, content: Plain) -> None:
    path.write_text(yaml.dump(content, Dumper=yaml.CSafeDumper, sort_keys=False, allow_unicode=True), encoding="utf-8")


def _standard(site: str) -> Plain:
    path = configs_folder() / "templates" / f"{_STANDARD[site]}.yaml"
    read: Plain = yaml.load(path.read_text(encoding="utf-8"), yaml.CBaseLoader)
    return read


def _tagged(rig: Plain, vocabulary: Vocabulary) -> Plain:
    """Return a rig in which every thing that a register may keep bears a tag."""
    for number, (kind, thing) in enumerate(things_of(vocabulary.kinds["rig"], rig, vocabulary)):
        if any(one in kind.lineage for one in _KEPT_BY_REGISTER):
            thing["tag"] = f"{kind.key.upper()}-{number}"
    return rig


def _parted(rig: Plain, vocabulary: Vocabulary) -> tuple[list[Plain], Plain]:
    """Take two of three facts of each tagged thing out of a rig, into the rows of a look and into a register."""
    seen: list[Plain] = []
    on_record: Plain = {}
    for kind, thing in things_of(vocabulary.kinds["rig"], rig, vocabulary):
        if "tag" not in thing:
            continue
        row, entry = {"thing": thing["tag"]}, {}
        for number, name in enumerate(_facts(kind, thing)):
            if number % 3 == 0:
                row[name] = thing.pop(name)
            elif number % 3 == 1 and not kind.facts[name].entry.lasts and not kind.facts[name].entry.as_fitted:
                entry[name] = thing.pop(name)
        seen += [row] if len(row) > 1 else []
        on_record[thing["tag"]] = {kind.key: entry}
    return seen, on_record


def _facts(kind: Kind, thing: Plain) -> list[str]:
    return [name for name in thing if name in kind.facts and name not in _NOT_MOVED]


# --- what the standard rig says and the site does not ---

_OF_THE_STANDARD = ("rig", "invented", "on_site", "may_differ", "$schema")


def _say_what_is_not_known(own: Plain, standard: Plain, kind: Kind, vocabulary: Vocabulary) -> None:
    """Write of each thing as not known what its standard rig says of it and the site does not."""
    for key, value in standard.items():
        if key in _OF_THE_STANDARD:
            continue
        if key in kind.holds:
            _inside(own, key, value, kind, vocabulary)
        elif key == "every_joint":
            own[key] = {**dict.fromkeys(value, "unknown"), **own.get(key, {})}
        elif key == "parts":
            own[key] = list(_parts(own[key], value, own.get("every_joint", {}), vocabulary))
        elif key not in own:
            own[key] = "unknown"


def _inside(own: Plain, key: str, value: Any, kind: Kind, vocabulary: Vocabulary) -> None:
    held = kind.holds[key]
    inner = vocabulary.kinds[held.kind]
    if key not in own and not held.implied:
        own[key] = "none"
        return
    for ours, theirs in _matched(own, key, value):
        _say_what_is_not_known(ours, theirs, inner, vocabulary)


def _matched(own: Plain, key: str, value: Any) -> Iterator[tuple[Plain, Plain]]:
    """Yield what is written inside a thing beside what its standard rig has there."""
    if isinstance(value, dict):
        yield own.setdefault(key, {}), value
        return
    by = {"lines": "gas", "people": "role"}.get(key)
    for number, theirs in enumerate(value):
        if by is None:
            yield own[key][number], theirs
        else:
            yield from ((ours, theirs) for ours in own[key] if ours[by] == theirs[by])


def _parts(own: list[Plain], standard: list[Plain], joint: Plain, vocabulary: Vocabulary) -> Iterator[Plain]:
    """Yield the parts of a line, each with what is not known of it, and with a joint where the standard rig has one."""
    last = ""
    for (ours, before), (theirs, other) in zip(_with_joints(own), _with_joints(standard), strict=True):
        [(key, body)], [(_, said)] = ours.items(), theirs.items()
        if before is not None or other is not None:
            told = {**dict.fromkeys(other or {}, "unknown"), **joint, **(before or {})}
            known = vocabulary.kinds["hose end" if "hose" in (last, key) else "joint"].facts
            yield {"joint": {name: value for name, value in told.items() if name in known}}
        last = key
        _say_what_is_not_known(body, said, vocabulary.by_key[key], vocabulary)
        yield {key: body}
    yield from own[-1:] if "joint" in own[-1] else ()  # at the torch


def _with_joints(parts: list[Any]) -> Iterator[tuple[Plain, Plain | None]]:
    joint = None
    for part in parts:
        entry = part if isinstance(part, dict) else {part: {}}
        if "joint" in entry:
            joint = entry["joint"]
        else:
            yield entry, joint
            joint = None
