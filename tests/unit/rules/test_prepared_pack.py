"""A prepared pack: used while it is what was laid there, and then the digest is that of what judges."""

from __future__ import annotations

import json
import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from msgspec import to_builtins
from msgspec.structs import replace
from support.small_rules import TILT_RULE, RulesFolder

from rigcheck.rig.fact import Fact
from rigcheck.rig.vocabulary import Kind, Vocabulary
from rigcheck.rules.folders import label_of, rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.looks import look_title, looks_of
from rigcheck.rules.pack import Pack
from rigcheck.rules.pack_from_yaml import prepare_pack
from rigcheck.rules.pack_json import PREPARED_NAME, from_json, laid_by, to_json
from rigcheck.rules.procedures import procedures_of
from rigcheck.rules.steps import Procedure
from rigcheck.text.faults import Refused


@pytest.fixture
def prepared(folder: RulesFolder) -> Path:
    path = folder.path / PREPARED_NAME
    path.write_bytes(prepare_pack(folder.path))
    return path


def _load(prepared: Path) -> tuple[str, str, list[str]]:
    """Return the signal that judges, the digest that is printed, and what was told."""
    told: list[str] = []
    pack = load_pack(prepared.parent, tell=told.append)
    return pack.rules["trolley/leans"].signal, pack.digest, told


def _head_and_content(prepared: Path) -> tuple[dict[str, str], bytes]:
    first, _, content = prepared.read_bytes().partition(b"\n")
    return json.loads(first), content


def test_a_prepared_pack_has_the_digest_of_the_files_that_it_was_made_from(prepared: Path) -> None:
    ready = _load(prepared)
    prepared.unlink()
    assert _load(prepared) == ready
    assert ready[2] == []


def _words(vocabulary: Vocabulary) -> dict[str, object]:
    return {
        name: (kind.lineage, {key: one.entry for key, one in kind.facts.items()}, kind.holds, kind.related, kind.shown)
        for name, kind in vocabulary.looked_at.items()
    } | {"words": vocabulary.choices}


def _told(procedures: Mapping[str, Procedure]) -> Any:
    hook = {Kind: lambda kind: kind.name, Fact: lambda fact: (fact.name, fact.entry, fact.words)}
    return to_builtins(procedures, enc_hook=lambda value: hook[type(value)](value))


def test_the_pack_that_ships_is_whole_once_it_is_prepared(pack: Pack) -> None:
    label = label_of(rules_folder())
    content = prepare_pack(rules_folder()).partition(b"\n")[2]
    made = from_json(content, label)
    assert _words(made["vocabulary"]) == _words(pack.vocabulary)
    assert made["tables"] == pack.tables
    assert to_builtins(made.pop("looks")) == to_builtins(looks_of(pack))
    assert _told(made.pop("procedures")) == _told(procedures_of(pack))
    ready = replace(pack, **made)
    assert to_json(ready, [], {}, label) == to_json(pack, [], {}, label)
    assert [one.place for one in ready.rules.values()] == [one.place for one in pack.rules.values()]


def test_a_prepared_pack_that_was_changed_does_not_judge_and_that_is_told(prepared: Path) -> None:
    genuine = _load(prepared)
    changed = prepared.read_text(encoding="utf-8").replace('"warning"', '"notice"')
    prepared.write_text(changed, encoding="utf-8")
    assert _load(prepared) == (*genuine[:2], [f"{prepared} is damaged; the rule files beside it are read instead."])


def test_one_that_was_changed_with_its_own_digest_has_another_digest_in_every_report(prepared: Path) -> None:
    genuine = _load(prepared)
    head, content = _head_and_content(prepared)
    prepared.write_bytes(laid_by(content.replace(b'"warning"', b'"notice"'), head["files"]))
    signal, digest, _ = _load(prepared)
    assert signal == "notice"  # nobody can tell such a file by itself: so its digest has to
    assert digest != genuine[1]


def test_a_rule_file_that_was_changed_since_is_read_in_place_of_the_prepared_pack(
    folder: RulesFolder, prepared: Path
) -> None:
    genuine = _load(prepared)
    folder.write("trolley/leans.yaml", TILT_RULE.replace("signal: warning", "signal: danger"))
    signal, digest, told = _load(prepared)
    assert (signal, told) == ("danger", [])
    assert digest != genuine[1]


def test_a_procedure_that_was_changed_changes_the_digest(folder: RulesFolder, prepared: Path) -> None:
    genuine = _load(prepared)
    folder.write("procedures/any.yaml", "procedure: any\n")
    prepared.write_bytes(prepare_pack(folder.path))
    assert _load(prepared)[1] != genuine[1]


def test_procedures_are_prepared_too_and_changing_one_in_the_prepared_pack_changes_the_digest(prepared: Path) -> None:
    shutil.copytree(rules_folder(), prepared.parent, dirs_exist_ok=True)
    prepared.write_bytes(prepare_pack(prepared.parent))
    genuine = load_pack(prepared.parent)
    assert "procedures" in genuine.kept
    head, content = _head_and_content(prepared)
    other = content.replace(b"look the rig over, and have every fault mended", b"go on")
    assert other != content
    prepared.write_bytes(laid_by(other, head["files"]))
    assert load_pack(prepared.parent).digest != genuine.digest


def test_looks_are_prepared_too_and_wrong_ones_are_told_to_whoever_asks(folder: RulesFolder, prepared: Path) -> None:
    assert "looks" in load_pack(folder.path).kept
    folder.write("looks/any.yaml", "look: any\n")
    prepared.write_bytes(prepare_pack(folder.path))
    pack = load_pack(folder.path)
    for _ in range(2):
        with pytest.raises(Refused, match=r"looks/any\.yaml"):
            looks_of(pack)
    assert look_title(pack, ("hose",), "bore") == ""


@pytest.mark.parametrize(
    "damage",
    [
        lambda text: text[: len(text) // 2],
        lambda text: "",
        lambda text: "null\n",
        lambda text: "[]\nnull",
        lambda text: "{}\n{}",
        lambda text: text.replace('"content"', '"contend"'),
        lambda text: "[" * 100_000,
    ],
)
def test_a_damaged_prepared_pack_is_told_and_the_files_are_read(prepared: Path, damage: object) -> None:
    genuine = _load(prepared)
    assert callable(damage)
    prepared.write_text(damage(prepared.read_text(encoding="utf-8")), encoding="utf-8")
    signal, digest, told = _load(prepared)
    assert (signal, digest) == genuine[:2]
    assert len(told) == 1 and "damaged" in told[0]


@pytest.mark.parametrize("content", ["null", "[]", "{}", '{"words": 1}', "[" * 100_000])
def test_content_of_another_shape_is_damaged_too_whatever_its_digest(prepared: Path, content: str) -> None:
    genuine = _load(prepared)
    head, _ = _head_and_content(prepared)
    prepared.write_bytes(laid_by(content.encode(), head["files"]))
    signal, digest, told = _load(prepared)
    assert (signal, digest) == genuine[:2]
    assert len(told) == 1
