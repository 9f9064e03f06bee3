"""No text of rigcheck says or implies that a rig may be used, is ready or is safe; its reports stand in `sites`."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from support.every_form import SHIPPED_RIGS, told
from support.leave import found_in, leave_in, plain, texts_of_pack, texts_of_schema

import rigcheck
from rigcheck.cli import pack_option
from rigcheck.cli.arguments import build_parser
from rigcheck.cli.options import SCHEMAS
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rules.folders import configs_folder, rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack

_ROOT = Path(__file__).parents[2]
_CONFIGS = sorted(configs_folder().rglob("*.yaml"))


@pytest.fixture(autouse=True)
def _pack_read_once(monkeypatch: pytest.MonkeyPatch, pack: Pack) -> None:
    def loaded(*folders: Path, **more: Any) -> Pack:
        return pack if len(folders) == 1 else load_pack(*folders, **more)

    monkeypatch.setattr(pack_option, "load_pack", loaded)


# --- what gives leave, and what does not ---


@pytest.mark.parametrize(
    "text",
    [
        "The rig is safe.",
        "It is now quite safe to use.",
        "From a rig that was left for a break to a rig that may be lit.",
        "a rig that may stand alone until the next shift",
        "a full one, tested and ready for start-up",
        "The torch is ready.",
        "From work that is done to a place that may be left.",
        "Findings that the rig may now be used with for a time.",
        "The set can be used.",
        "It is fit for use, and good to go.",
        "approved for use",
        "There is no danger.",
        "nothing is wrong with it",
    ],
)
def test_words_that_give_leave_are_recognised(text: str) -> None:
    assert leave_in(text)


@pytest.mark.parametrize(
    "text",
    [
        "The safety valve blows off into open air.",
        "A fire extinguisher stands ready beside the rig.",
        "DANGER",
        "An optional step may be left out.",
        "Do not use the rig.",
        CAUTION,
    ],
)
def test_words_that_give_none_are_left_alone(text: str) -> None:
    assert leave_in(text) == []


# --- every text that a person can meet ---


def test_no_text_of_the_pack_gives_leave(pack: Pack) -> None:
    assert found_in(texts_of_pack(pack)) == []


@pytest.mark.parametrize("path", _CONFIGS, ids=lambda path: path.stem)
def test_no_description_that_ships_gives_leave(path: Path) -> None:
    assert found_in([(path.name, path.read_text(encoding="utf-8").replace("#", " "))]) == []


@pytest.mark.parametrize("what", SCHEMAS)
def test_no_schema_gives_leave(what: str) -> None:
    assert found_in((what, text) for text in texts_of_schema(told("schema", what))) == []


def test_no_help_gives_leave_and_it_says_who_decides() -> None:
    parsers = list(_parsers(build_parser()))
    assert len(parsers) > 10
    assert found_in((parser.prog, parser.format_help()) for parser in parsers) == []
    assert "competent person decide" in plain(parsers[0].format_help())


def _parsers(parser: argparse.ArgumentParser) -> Iterator[argparse.ArgumentParser]:
    yield parser
    inner = [one.choices for one in parser._actions if isinstance(one, argparse._SubParsersAction)]
    yield from (found for choices in inner for one in choices.values() for found in _parsers(one))


# --- one that gives leave is noticed, wherever it is put ---

_PUT_IN = {
    "procedures/restart.yaml": ("Lighting comes next.", "The rig may be lit."),
    "vocabulary/manifold.yaml": ("into open air, away from", "to a safe place, away from"),
    "people/certificate_is_valid.yaml": ("harm: ", "harm: The set is ready. "),
}


@pytest.mark.parametrize("file", _PUT_IN)
def test_leave_that_is_put_into_the_pack_is_noticed(file: str, tmp_path: Path) -> None:
    good, bad = _PUT_IN[file]
    text = (rules_folder() / file).read_text(encoding="utf-8")
    assert good in text
    (tmp_path / file).parent.mkdir()
    (tmp_path / file).write_text(f"because: tried out\n{text.replace(good, bad, 1)}", encoding="utf-8")
    if file.startswith("procedures/"):
        sheet = told("sheet", SHIPPED_RIGS[0], "restart", "--rules", tmp_path)
        assert found_in([("sheet", plain(sheet))])
    assert found_in(texts_of_pack(load_pack(rules_folder(), tmp_path)))


# --- states ---


def test_the_best_state_is_only_that_nothing_was_found() -> None:
    states = set(rigcheck.judge.inspection.State.__args__)
    assert states == {"on hold", "not yet shown", "lesser findings only", "nothing found against it"}


def test_the_caution_names_the_local_code_the_maker_and_a_competent_person() -> None:
    assert all(words in CAUTION for words in ("local code", "makers' instructions", "competent or licensed person"))
