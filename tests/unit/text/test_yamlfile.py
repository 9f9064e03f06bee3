"""YAML: text and places are kept as written, and whatever is doubtful is refused with a place."""

from __future__ import annotations

import pytest

from rigcheck.text.faults import Refused
from rigcheck.text.yamlfile import DEEPEST, LARGEST, Mapping, Scalar, Sequence, read_yaml


def _refusals(data: bytes) -> list[str]:
    with pytest.raises(Refused) as refused:
        read_yaml(data, "rig.yaml")
    return [str(fault) for fault in refused.value.faults]


def test_keys_and_values_stay_the_text_that_was_written() -> None:
    root = read_yaml(b"on: no\n1: 017\nsince: 2026-11-20\nnothing:\n", "rig.yaml")
    assert isinstance(root, Mapping)
    written = {key: node.text for key, node in root.items.items() if isinstance(node, Scalar)}
    assert written == {"on": "no", "1": "017", "since": "2026-11-20", "nothing": ""}


def test_every_key_and_value_knows_its_line_and_column_in_code_points() -> None:
    root = read_yaml("hose:\n  färbe: [rot, 'blau']\n".encode(), "rig.yaml")
    assert isinstance(root, Mapping)
    hose = root.items["hose"]
    assert isinstance(hose, Mapping)
    words = hose.items["färbe"]
    assert isinstance(words, Sequence)
    second = words.items[1]
    assert isinstance(second, Scalar)
    assert (hose.keys["färbe"].line, hose.keys["färbe"].column) == (2, 3)
    assert (second.line, second.column, second.quoted) == (2, 16, True)


@pytest.mark.parametrize("data", [b"a: 1\r\nb: 2\r\n", b"\xef\xbb\xbfa: 1\nb: 2\n", b"%YAML 1.1\n---\na: 1\nb: 2\n"])
def test_windows_line_ends_a_byte_order_mark_and_a_directive_are_read(data: bytes) -> None:
    root = read_yaml(data, "rig.yaml")
    assert isinstance(root, Mapping)
    assert list(root.items) == ["a", "b"]


def test_a_merge_key_is_a_key_like_any_other() -> None:
    root = read_yaml(b"<<: {a: 1}\n", "rig.yaml")
    assert isinstance(root, Mapping)
    assert list(root.items) == ["<<"]


REFUSED = [  # bytes, place, a word of what was read, a word of what to write
    (b"", "1:1", "empty", "Write a description"),
    (b"# a remark only\n", "1:1", "empty", "Write a description"),
    (b"a: 1\na: 2\n", "2:1", "written twice, first in line 1", "Keep one"),
    (b"a: {b: 1, b: 2}\n", "1:11", "written twice", "Keep one"),
    (b"a: &x 1\n", "1:4", "anchor", "value itself"),
    (b"a: *x\n", "1:4", "alias", "out again"),
    (b"a: !!str 1\n", "1:4", "tag", "value itself"),
    (b"a: 1\n---\nb: 2\n", "2:1", "second document", "one document"),
    (b"? [a]\n: 1\n", "1:3", "stands as a key", "key: value"),
    (b"a: \x01\n", "1:4", "U+0001", "Take it out"),
    (b"a: b\x7f\n", "1:5", "U+007F", "Take it out"),
    (b'a: "\\x1b[2J"\n', "1:4", "U+001B", "Take it out"),
    (b'a: "\\u202e"\n', "1:4", "U+202E", "Take it out"),
    ("a: é\u2028\n".encode(), "1:5", "U+2028", "Take it out"),
    ("a: 1\nb: x\u0085\n".encode(), "2:5", "U+0085", "Take it out"),
    ("a: \u202eabc\n".encode(), "1:4", "U+202E", "Take it out"),
    (b"a: 1\rb: 2\n", "1:5", "U+000D", "Take it out"),
    (b"\xff\xfea\x00", "1:1", "0xFF is not UTF-8", "UTF-8"),
    (b"a: 1\nb: \xc3\n", "2:4", "0xC3 is not UTF-8", "UTF-8"),
    (b"\xed\xa0\x80", "1:1", "0xED is not UTF-8", "UTF-8"),
    (b"a: b\n c: d\n", "2:3", "mapping values", "in quotes; see that a blank stands"),
    (b"a: {b: 1\n", "2:1", "flow mapping", "Close the bracket"),
    (b"a: 'x\n", "2:1", "end of stream", "Close the quotes"),
    (b"a: 1\n- b\n", "2:1", "expected key", "one column"),
    (b"a: @b\n", "1:4", "cannot start", "in quotes"),
]


@pytest.mark.parametrize(("data", "place", "read", "write"), REFUSED)
def test_what_is_doubtful_is_refused_with_its_place(data: bytes, place: str, read: str, write: str) -> None:
    (said,) = _refusals(data)
    assert said.startswith(f"rig.yaml:{place}: ")
    assert read in said
    assert write in said


def test_all_doubled_keys_of_a_file_are_told_at_once() -> None:
    assert [said.split(": ")[0] for said in _refusals(b"a: 1\na: 2\nb: 1\nb: 2\na: 3\n")] == [
        "rig.yaml:2:1",
        "rig.yaml:4:1",
        "rig.yaml:5:1",
    ]


def test_a_syntax_error_does_not_hide_the_faults_before_it() -> None:
    twice, syntax = _refusals(b"a: 1\na: 2\nb: {c\n")
    assert "written twice" in twice
    assert "well-formed" in syntax


def test_an_alias_bomb_ends_at_its_first_alias() -> None:
    levels = [b"a0: &a0 [x, x]\n"] + [b"a%d: &a%d [*a%d, *a%d]\n" % (n, n, n - 1, n - 1) for n in range(1, 30)]
    said = _refusals(b"".join(levels))
    assert "alias" in said[-1]
    assert len(said) < 5


def test_nesting_is_read_to_the_deepest_level_and_refused_beyond() -> None:
    assert isinstance(read_yaml(b"[" * DEEPEST + b"]" * DEEPEST, "rig.yaml"), Sequence)
    (said,) = _refusals(b"[" * (DEEPEST + 1) + b"]" * (DEEPEST + 1))
    assert said.startswith(f"rig.yaml:1:{DEEPEST + 1}: This is nested too deep.")


def test_a_file_is_read_to_the_largest_size_and_refused_beyond() -> None:
    start = b"a: "
    full = start + b"x" * (LARGEST - len(start))
    assert isinstance(read_yaml(full, "rig.yaml"), Mapping)
    (said,) = _refusals(full + b"x")
    assert "more than 1,048,576 bytes" in said


def test_many_forbidden_letters_are_told_up_to_twenty() -> None:
    assert len(_refusals(b"a: \x01\n" * 50)) == 20
