"""Every mistake of these folders is refused with the exact text that stands beside it.

One wrong file a mistake: `name.yaml` and what it must give in `name.txt`; what no text file can
hold is in `bytes.yaml`. They are read with the small pack of this folder, so that a new fact in
the rules that ship changes no text here.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from rigcheck.rig.concessions import load_beside
from rigcheck.rig.loader import load_rig
from rigcheck.rig.vocabulary import build_vocabulary
from rigcheck.rig.vocabulary_reader import read_vocabulary_file
from rigcheck.rules.cases import read_cases
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule_reading import RuleReader
from rigcheck.text.faults import Refused

_HERE = Path(__file__).parent
_BASE = _HERE / "pack"


def _wrong(folder: str) -> list[Any]:
    return [pytest.param(path, id=path.stem) for path in sorted((_HERE / folder).glob("*.yaml"))]


@pytest.fixture(scope="module")
def small_pack() -> Pack:
    return load_pack(_BASE)


def _told(refused: pytest.ExceptionInfo[Refused]) -> list[str]:
    return str(refused.value).split("\n")


def _wanted(path: Path) -> list[str]:
    return path.with_suffix(".txt").read_text(encoding="utf-8").rstrip("\n").split("\n")


@pytest.mark.parametrize("path", _wrong("rigs"))
def test_a_wrong_rig_file_is_refused_with_these_words(path: Path, small_pack: Pack) -> None:
    with pytest.raises(Refused) as refused:
        load_rig(path.read_bytes(), path.name, small_pack.vocabulary)
    assert _told(refused) == _wanted(path)


@pytest.mark.parametrize("row", yaml.safe_load((_HERE / "bytes.yaml").read_bytes()), ids=lambda row: row["name"])
def test_wrong_bytes_are_refused_with_these_words(row: dict[str, Any], small_pack: Pack) -> None:
    data = (row["text"] * row.get("times", 1)).encode(row.get("encoding", "utf-8"))
    with pytest.raises(Refused) as refused:
        load_rig(data, row["name"], small_pack.vocabulary)
    assert _told(refused) == row["tells"]


@pytest.mark.parametrize("path", _wrong("rules"))
def test_a_wrong_rule_file_is_refused_with_these_words(path: Path, small_pack: Pack) -> None:
    limits = {name: one.dimension for name, one in small_pack.definitions.items()}
    reader = RuleReader(small_pack.vocabulary, small_pack.documents, limits)
    with pytest.raises(Refused) as refused:
        read_cases(reader.read(path.read_bytes(), path.name, path.stem), small_pack.vocabulary)
    assert _told(refused) == _wanted(path)


@pytest.mark.parametrize("path", _wrong("concessions"))
def test_a_wrong_file_of_concessions_is_refused_with_these_words(path: Path, small_pack: Pack) -> None:
    with pytest.raises(Refused) as refused:
        load_beside(path.read_bytes(), path.name, small_pack.vocabulary)
    assert _told(refused) == _wanted(path)


@pytest.mark.parametrize("path", _wrong("vocabulary"))
def test_a_wrong_vocabulary_file_is_refused_with_these_words(path: Path) -> None:
    with pytest.raises(Refused) as refused:
        build_vocabulary([(path.name, read_vocabulary_file(path.name, path.read_bytes(), path.name))])
    assert _told(refused) == _wanted(path)


@pytest.mark.parametrize(
    ("path", "place"),
    [pytest.param(*wrong.values, "limits/own.yaml", id=f"limits-{wrong.id}") for wrong in _wrong("limits")]
    + [pytest.param(*wrong.values, "documents.yaml", id=f"documents-{wrong.id}") for wrong in _wrong("documents")]
    + [pytest.param(*wrong.values, "figures/own.yaml", id=f"figures-{wrong.id}") for wrong in _wrong("figures")],
)
def test_a_wrong_file_in_a_folder_of_ones_own_is_refused_with_these_words(
    path: Path, place: str, tmp_path: Path
) -> None:
    own = tmp_path / place
    own.parent.mkdir(exist_ok=True)
    own.write_bytes(path.read_bytes())
    with pytest.raises(Refused) as refused:
        load_pack(_BASE, tmp_path)
    assert [line.replace(str(own), path.name) for line in _told(refused)] == _wanted(path)


def test_every_wrong_file_has_its_words_and_all_words_their_file() -> None:
    folders = ("rigs", "rules", "limits", "documents", "vocabulary", "concessions", "figures")
    files = {path.relative_to(_HERE) for folder in folders for path in (_HERE / folder).iterdir()}
    wrong = {path for path in files if path.suffix == ".yaml"}
    assert files - wrong == {path.with_suffix(".txt") for path in wrong}


@pytest.mark.parametrize("path", sorted(_HERE.glob("*/all_faults_at_once.txt")), ids=lambda path: path.parent.name)
def test_all_faults_of_a_file_are_told_at_once_in_the_order_of_their_places(path: Path) -> None:
    places = [tuple(map(int, line.split(":")[1:3])) for line in _wanted(path.with_suffix(".yaml"))]
    assert len(places) >= 5
    assert places == sorted(places)
