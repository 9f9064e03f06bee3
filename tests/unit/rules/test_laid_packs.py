"""Folders that lie on another: what leaves its rules as they are is laid on the pack of that, ready or just read."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from support.small_rules import TILT_RULE, RulesFolder

from rigcheck.judge.judged import judge
from rigcheck.rig.around import Around
from rigcheck.rig.loader import load_rig
from rigcheck.rules import pack_from_yaml
from rigcheck.rules.folders import rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack
from rigcheck.rules.pack_from_yaml import prepare_pack
from rigcheck.rules.pack_json import PREPARED_NAME, laid_by, to_json
from rigcheck.rules.standard_rigs import standard_of
from rigcheck.text.faults import Refused

_LIMIT = (
    "local_code: general\nlimits:\n  trolley_tilt:\n    values:\n"
    "      - {since: 2020-01-01, value: 25 deg, drawn_from: OURS, because: A wider wheel base}\n"
)
_OWN = "Works rule:\n  title: A rule of an invented works\n  clauses: {s.1: from memory}\n"
_CHANGED = "Yard rule:\n  because: Read now\n  title: An invented rule\n  clauses: {'': published, s.1: published}\n"
_BESIDE = {
    "a limit": {"limits/general.yaml": _LIMIT.replace("OURS", "Yard rule s.1")},
    "a limit by a document of its own": {
        "documents.yaml": _OWN,
        "limits/general.yaml": _LIMIT.replace("OURS", "Works rule s.1"),
    },
    "a rule": {"yard/own.yaml": TILT_RULE},
    "a rule in place of another": {"trolley/leans.yaml": f"{TILT_RULE}because: Ours\n".replace("warning", "danger")},
    "a procedure": {"procedures/any.yaml": "procedure: any\n"},
    "a look": {"looks/any.yaml": "look: any\n"},
    "a standard rig": {"standard_rigs/yard-set.yaml": "rig: Yard set\n"},
}
_ANEW = {
    "a document that is cited below": {"documents.yaml": _CHANGED},
    "a fact": {
        "vocabulary/trolley.yaml": "kind: trolley\nmeans: It.\nbecause: Ours\n"
        "facts: {colour: {means: Paint., words: {red: ''}, ask: Which?}}\n"
    },
}


def _written(overlay: RulesFolder, files: dict[str, str]) -> Path:
    for name, text in files.items():
        overlay.write(name, text)
    return overlay.path


def _content(pack: Pack) -> tuple[object, ...]:
    judges = to_json(pack, [], {}, "")
    return (
        judges,
        list(pack.vocabulary.kinds),
        pack.tables,
        pack.laid,
        pack.procedure_files,
        pack.look_files,
        pack.folders,
    )


@pytest.mark.parametrize("files", [*_BESIDE.values(), *_ANEW.values()], ids=[*_BESIDE, *_ANEW])
def test_what_is_laid_on_a_pack_is_what_reading_all_anew_gives(
    files: dict[str, str], folder: RulesFolder, overlay: RulesFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    laid = load_pack(folder.path, _written(overlay, files))
    monkeypatch.setattr(pack_from_yaml, "_leave_rules_as_they_are", lambda layers: False)
    assert _content(laid) == _content(load_pack(folder.path, overlay.path))


@pytest.mark.parametrize("files", _BESIDE.values(), ids=_BESIDE)
def test_on_a_prepared_pack_no_rule_below_is_read_again(
    files: dict[str, str], folder: RulesFolder, overlay: RulesFolder
) -> None:
    read = load_pack(folder.path, _written(overlay, files))
    prepared = folder.path / PREPARED_NAME
    content = prepare_pack(folder.path)
    prepared.write_bytes(content)
    ready = load_pack(folder.path, overlay.path)
    assert (_content(ready), ready.digest) == (_content(read), read.digest)

    head, _, judges = content.partition(b"\n")
    other = judges.replace(b"falls over and breaks a valve", b"falls over")
    assert other != judges
    prepared.write_bytes(laid_by(other, json.loads(head)["files"]))
    changed = load_pack(folder.path, overlay.path)  # it is the prepared one that judges: so the digest has to tell
    assert changed.digest != read.digest
    if "trolley/leans.yaml" not in files:
        assert changed.rules["trolley/leans"].harm != read.rules["trolley/leans"].harm


def test_a_damaged_prepared_pack_is_told_where_a_folder_lies_on_it_too(
    folder: RulesFolder, overlay: RulesFolder
) -> None:
    (folder.path / PREPARED_NAME).write_text("{}\n", encoding="utf-8")
    told: list[str] = []
    pack = load_pack(folder.path, _written(overlay, _BESIDE["a rule"]), tell=told.append)
    assert "yard/own" in pack.rules and len(told) == 1 and "damaged" in told[0]


# --- standard rigs of a company ---

_SET = "rig: Yard set\nlines:\n  - {gas: oxygen, parts: [cylinder, regulator, hose: {bore: 8 mm}]}\ntorch: {}\n"


def test_a_company_has_standard_rigs_of_its_own_and_a_report_says_so(pack: Pack, overlay: RulesFolder) -> None:
    overlay.write("standard_rigs/yard-set.yaml", _SET)
    laid = load_pack(rules_folder(), overlay.path)
    assert [(one.sort, one.name, one.how) for one in laid.laid] == [("standard rig", "yard-set", "added")]
    around = Around(standard_of=standard_of(laid, "rig.yaml"))
    rig = load_rig(b"rig: Ours\nstandard_rig: yard-set\n", "rig.yaml", laid.vocabulary, around)
    judged = judge(rig, laid, day=739_580)
    (hose,) = rig.of_kind("hose")
    assert "bore" in hose.facts
    assert (hose, "presumed") in {(thing.origin, verdict) for thing, _, verdict, _ in judged.judgements()}
    with pytest.raises(Refused, match="yard-set"):
        around = Around(standard_of=standard_of(pack, "rig.yaml"))
        load_rig(b"rig: Ours\nstandard_rig: yard-set\n", "rig.yaml", pack.vocabulary, around)


@pytest.mark.parametrize(
    ("name", "told"),
    [("portable-small-set", "A standard rig of that name comes with rigcheck"), ("deeper/set", "lies right in")],
)
def test_a_standard_rig_that_would_be_taken_for_another_or_passed_over_is_refused(
    name: str, told: str, folder: RulesFolder, overlay: RulesFolder
) -> None:
    overlay.write(f"standard_rigs/{name}.yaml", _SET)
    (fault,) = folder.faults(overlay)
    assert told in fault.read
