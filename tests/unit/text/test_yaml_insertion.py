"""Text is put into YAML, and what stands there stays to the letter.

How collections nest on one line and over several is YAML 1.2, chapters 7 and 8 (from memory); PyYAML reads it back.
"""

from __future__ import annotations

import pytest
import yaml

from rigcheck.text.yaml_insertion import Entry, Insertion, Row, value_of

_ROW = Row({"seen": "2026-11-25", "cover": "sound"})
_TOLD = [{"seen": "2026-11-25", "cover": "sound"}]


def _is_kept(before: str, after: str) -> bool:
    """Whether every character stands where it stood, with more between."""
    letters = iter(after)
    return all(letter in letters for letter in before)


def _hose(text: str) -> tuple[str, object]:
    """Return a text with sights put into the last entry of its list, and what a reader of YAML makes of that entry."""
    into = Insertion(text)
    listed = value_of(into.root, "parts")
    assert listed is not None
    last = listed.value[-1]
    more = into.more_in(last if isinstance(last.value, str) else last.value[0][1])
    assert more is not None
    more["sights"] = [_ROW]
    made = into.text()
    return made, yaml.load(made, yaml.BaseLoader)["parts"][-1]


@pytest.mark.parametrize(
    "text",
    [
        "parts:\n  - hose:\n      bore: 8 mm\n",
        "parts:\n  - hose:\n      bore: 8 mm   # marked\n\n  # the end of the parts\nend: x\n",
        "parts:\n- hose: {bore: 8 mm}   # marked\n# the end\n",
        "parts: [cylinder, {hose: {bore: 8 mm,}}]\n",
        "parts: [hose: {bore: 8 mm}]",
        "parts:\n  - hose:\n      bore: |\n        8 mm\n  # after\n",
        "parts:\r\n  - hose:\r\n      bore: '8 mm' # a\r\n",
        "\ufeffparts:\n  - hose: {\n      bore: 8 mm  # marked\n    }\n",
        "größe: ü\nparts:\n  - hose:\n      bore: 8 mm\n",
    ],
)
def test_a_mapping_takes_more_and_keeps_what_it_has(text: str) -> None:
    made, hose = _hose(text)
    assert _is_kept(text, made)
    assert isinstance(hose, dict)
    assert hose["hose"]["sights"] == _TOLD
    assert hose["hose"]["bore"].strip() == "8 mm"
    comments = [row.strip() for row in text.splitlines() if row.strip().startswith("#")]
    assert [row.strip() for row in made.splitlines() if row.strip() in comments] == comments
    assert ("\r\n" in made) == ("\r\n" in text)


@pytest.mark.parametrize(
    "text", ["parts:\n  - hose  # new\n", "parts:\n  - hose:  # new\n", "parts: [cylinder, hose]\n"]
)
def test_a_word_alone_becomes_a_mapping(text: str) -> None:
    made, hose = _hose(text)
    assert _is_kept(text, made)
    assert hose == {"hose": {"sights": _TOLD}}


def test_comments_stay_with_the_entry_that_they_stand_above() -> None:
    into = Insertion("parts:\n  # bought second-hand\n  - hose\n  # the new one\n  - torch\n")
    listed = value_of(into.root, "parts")
    assert listed is not None
    into.more_after(listed, -1).append(Entry("cylinder"))  # type: ignore[arg-type]
    into.more_after(listed, 0).append(Entry("coupler", {"sights": [_ROW]}))  # type: ignore[arg-type]
    rows = [row.strip() for row in into.text().splitlines()]
    assert rows[1:4] == ["- cylinder", "# bought second-hand", "- hose"]
    assert rows[4] == "- coupler:"
    assert rows[-2:] == ["# the new one", "- torch"]


def test_where_several_mappings_end_each_gets_its_own() -> None:
    into = Insertion("torch:\n  nozzle:\n    size: 1/16\n")
    torch = value_of(into.root, "torch")
    assert torch is not None
    for node, word in ((torch, "torch"), (value_of(torch, "nozzle"), "nozzle"), (into.root, "rig")):
        more = into.more_in(node)  # type: ignore[arg-type]
        assert more is not None
        more["of"] = word
    read = yaml.load(into.text(), yaml.BaseLoader)
    assert (read["of"], read["torch"]["of"], read["torch"]["nozzle"]["of"]) == ("rig", "torch", "nozzle")


@pytest.mark.parametrize("text", ["torch: none\n", "torch: [a]\n", "{torch: }\n"])
def test_where_a_mapping_would_take_the_place_of_what_is_written_nothing_goes_in(text: str) -> None:
    into = Insertion(text)
    torch = value_of(into.root, "torch")
    assert torch is not None
    assert into.more_in(torch) is None
    assert into.text() == text


def test_notes_stand_above_the_row_on_one_line_too() -> None:
    into = Insertion("hose: {length: 10 m}\n")
    more = into.more_in(value_of(into.root, "hose"))  # type: ignore[arg-type]
    assert more is not None
    more["sights"] = [Row({"seen": "2026-11-25", "length": "15 m"}, ("length: 10 m is written here too",))]
    made = into.text()
    assert "# length: 10 m is written here too\n" in made
    assert yaml.load(made, yaml.BaseLoader)["hose"]["sights"] == [{"seen": "2026-11-25", "length": "15 m"}]
