"""One statement for many: of a folder, a rig, a line; which of two goes first, and whom it says nothing of."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigcheck.cli.site_input import read_rig
from rigcheck.rig.around import Around
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack
from rigcheck.rules.standard_rigs import presumption_of, standard_of

RIG = """\
rig: gate repair
every: {{{every}}}
lines:
  - gas: oxygen
    {line}
    parts: [cylinder, regulator: {{inlet_gauge: {{shows: inlet-pressure}}}}, hose: {{{hose}}}]
torch: {{form: cutting}}
"""


def rig(pack: Pack, every: str, line: str = "torch_inlet: oxygen", hose: str = "bore: 8 mm") -> Rig:
    text = RIG.format(every=every, line=line, hose=hose)
    return load_rig(text.encode(), "gate.yaml", pack.vocabulary, what_can_be_read=True)


def said(found: Rig, kind: str, fact: str) -> list[object]:
    return [one.facts.get(fact) for one in found.of_kind(kind)]


@pytest.mark.parametrize(
    ("every", "line", "hose", "cover"),
    [
        ("hose: {cover: sound}", "torch_inlet: oxygen", "bore: 8 mm", "sound"),
        ("hose: {cover: sound}", "every: {hose: {cover: cracked}}", "bore: 8 mm", "cracked"),  # the nearest
        ("hose: {cover: sound}", "every: {hose: {cover: cracked}}", "cover: cut", "cut"),  # its own
        ("hose: {cover: sound}", "torch_inlet: oxygen", "cover: unknown", None),  # and that it is not known
    ],
)
def test_the_nearest_statement_goes_first(every: str, line: str, hose: str, cover: str | None, pack: Pack) -> None:
    assert said(rig(pack, every, line, hose), "hose", "cover") == [cover]


def test_the_narrower_kind_goes_before_the_wider(pack: Pack) -> None:
    found = rig(pack, "part: {condition: sound}, hose: {condition: other-defect}")
    assert set(said(found, "hose", "condition")) != set(said(found, "regulator", "condition")) == {"sound"}


def test_what_is_said_of_every_joint_holds_of_joints_at_hoses_with_what_only_these_have(pack: Pack) -> None:
    found = rig(pack, "joint: {sealing: metal-to-metal, clip: o-clip}")
    assert not found.unread
    assert set(said(found, "joint", "sealing")) == {"metal-to-metal"}
    assert set(said(found, "hose end", "clip")) == {"o-clip"}
    assert all("clip" not in one.facts for one in found.of_kind("joint") if one.kind.name == "joint")


def test_it_speaks_of_lines_and_of_what_is_built_in(pack: Pack) -> None:
    found = rig(pack, "line: {purged: true}, gauge: {glass: whole}")
    assert said(found, "line", "purged") == [True]
    assert said(found, "gauge", "glass") == ["whole", "whole"]


def test_what_was_seen_of_every_thing_is_a_sight_of_each(pack: Pack) -> None:
    found = rig(pack, "hose: {cover: sound, seen: 2026-11-25, by: fitter}")
    [hose] = found.of_kind("hose")
    [statement] = hose.said["cover"]
    assert (statement.value, statement.basis, statement.by) == ("sound", "seen", "fitter")
    assert statement.place.line == 2


@pytest.mark.parametrize(
    ("every", "read", "write"),
    [
        ("regulator: {inlet_gauge: {glass: whole}}", "'inlet_gauge' is a thing inside", "'every: {gauge: {…}}'"),
        ("hoses: {cover: sound}", "'hoses' is no kind of thing", "Write a kind"),
        ("rig: {fire_drill: true}", "'rig' is no kind of thing", "Write a kind"),
    ],
)
def test_what_cannot_be_said_of_many_is_told_and_the_rest_is_read(
    every: str, read: str, write: str, pack: Pack
) -> None:
    found = rig(pack, f"{every}, hose: {{colour: blue}}" if "hoses" not in every else every)
    [fault] = found.unread
    assert fault.read.startswith(read)
    assert write in fault.write
    assert fault.place.line == 2


# --- a standard rig ---

SHOP = """\
rig: shop set
standard_rig: oxy-propane-cutting
every: {{part: {{{said}}}}}
lines: [{{gas: propane, parts: [hose: {{tag: H-1}}]}}]
"""


def test_it_goes_before_what_a_standard_rig_says_and_shows_no_part_to_be_there(pack: Pack) -> None:
    text = SHOP.format(said="condition: other-defect")
    found = load_rig(text.encode(), "shop.yaml", pack.vocabulary, Around(standard_of=standard_of(pack, "shop.yaml")))
    assert set(said(found, "part", "condition")) == {"other-defect"}
    presumed = presumption_of(found, pack) or {}
    hose, *others = (one for one in found.of_kind("hose"))
    assert "kind" not in presumed[hose]
    assert all("kind" in presumed[one] and "condition" not in presumed[one] for one in others)


# --- a folder's settings ---


def folder(tmp_path: Path, settings: str, every: str = "{}", hose: str = "bore: 8 mm") -> Path:
    (tmp_path / ".rigcheck.yaml").write_text(settings)
    (tmp_path / "rigs").mkdir(exist_ok=True)
    path = tmp_path / "rigs" / "gate.yaml"
    text = RIG.format(every="", line="torch_inlet: oxygen", hose=hose)
    path.write_text(text.replace("every: {}\n", "" if every == "{}" else f"every: {every}\n"))
    return path


def read(path: Path, pack: Pack) -> Rig:
    pack.kept.pop(("settings", str(path.parent.parent / ".rigcheck.yaml")), None)
    return read_rig(path.read_bytes(), str(path), pack)


def test_what_the_settings_say_is_said_of_every_rig_below_with_its_place(tmp_path: Path, pack: Pack) -> None:
    found = read(folder(tmp_path, "every: {rig: {fire_drill: true}, hose: {standard: ISO 3821}}\n"), pack)
    assert found.root.facts["fire_drill"] is True
    [hose] = found.of_kind("hose")
    assert hose.facts["standard"] == "ISO 3821"
    assert str(found.place(hose, "standard")).endswith(".rigcheck.yaml:1:51")
    assert found.settings.endswith(".rigcheck.yaml")


def test_the_rigs_own_statements_go_before_those_of_its_folder(tmp_path: Path, pack: Pack) -> None:
    settings = "every: {hose: {standard: ISO 3821, colour: red}}\n"
    found = read(folder(tmp_path, settings, "{part: {oil_free: true}, hose: {colour: blue}}", "standard: none"), pack)
    assert (said(found, "hose", "standard"), said(found, "hose", "colour")) == (["none"], ["blue"])


@pytest.mark.parametrize(
    ("every", "told"),
    [
        ("hose: {kinked: false}", "told of each rig anew"),
        ("arrester: {direction: with-flow}", "told of each rig anew"),
        ("hose: {tested: 2026-11-01}", "told of each rig anew"),
        ("hose: {tag: H-1}", "told of each rig anew"),
        ("hose: {cover: sound, seen: 2026-11-25}", "no look"),
        ("hsoe: {cover: sound}", "no kind of thing"),
    ],
)
def test_a_folder_says_nothing_that_somebody_has_to_see_anew(every: str, told: str, tmp_path: Path, pack: Pack) -> None:
    found = read(folder(tmp_path, f"every: {{{every}}}\n"), pack)
    [fault] = found.unread
    [hose] = found.of_kind("hose")
    assert not hose.facts.keys() & {"kinked", "tested", "tag", "cover"}
    assert told in fault.read
    assert fault.place.file.endswith(".rigcheck.yaml")
