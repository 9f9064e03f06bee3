"""A tree bound to a model: every fault of the file at its place."""

from __future__ import annotations

import pytest
from pydantic import BaseModel, ConfigDict, Field, field_validator

from rigcheck.text.binding import bind, node_at, plain_data
from rigcheck.text.faults import Fault, Refused
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, Scalar, read_yaml


class Inner(BaseModel):
    model_config = ConfigDict(extra="forbid")
    count: int


class Outer(BaseModel):
    model_config = ConfigDict(extra="forbid", arbitrary_types_allowed=True)
    title: str = Field(min_length=3)
    inner: Inner
    several: list[Inner] = []
    kept: object = None


def _faults(text: str) -> list[Fault]:
    with pytest.raises(Refused) as refused:
        bind(Outer, read_yaml(text.encode(), "f.yaml"), "f.yaml")
    return list(refused.value.faults)


def test_a_tree_fills_its_model() -> None:
    made = bind(Outer, read_yaml(b"title: abc\ninner: {count: 3}\n", "f.yaml"), "f.yaml")
    assert (made.title, made.inner.count) == ("abc", 3)


def test_a_kept_key_stays_a_placed_node() -> None:
    made = bind(Outer, read_yaml(b"title: abc\ninner: {count: 3}\nkept: here\n", "f.yaml"), "f.yaml", ("kept",))
    assert isinstance(made.kept, Scalar)
    assert (made.kept.text, made.kept.line, made.kept.column) == ("here", 3, 7)


def test_an_unknown_key_is_told_at_the_key_with_the_nearest_one() -> None:
    (fault,) = _faults("titel: x\ntitle: abc\ninner: {count: 3}\n")
    assert (fault.place, fault.near) == (Place("f.yaml", 1, 1), "title")
    assert "'titel' is no key here" in fault.read
    assert "title, inner, several, kept" in fault.write


def test_an_unknown_key_in_a_list_of_things_is_told_with_the_keys_of_the_thing() -> None:
    (fault,) = _faults("title: abc\ninner: {count: 3}\nseveral:\n  - {count: 1}\n  - {count: 2, cuont: 3}\n")
    assert (fault.place, fault.near) == (Place("f.yaml", 5, 16), "count")


def test_a_missing_key_is_told_at_the_thing_that_lacks_it() -> None:
    (fault,) = _faults("title: abc\ninner: {}\n")
    assert fault.place == Place("f.yaml", 2, 8)
    assert "'count' is not written" in fault.read
    assert fault.write == "Add 'count: …'."


def test_a_wrong_value_is_told_at_the_value_with_what_was_read() -> None:
    (fault,) = _faults("title: abc\ninner: {count: many}\n")
    assert fault.place == Place("f.yaml", 2, 16)
    assert "(read: 'many')" in fault.read


def test_what_a_model_says_of_a_value_shows_each_letter_of_it() -> None:
    class Checked(BaseModel):
        title: str

        @field_validator("title")
        @classmethod
        def check(cls, title: str) -> str:
            raise ValueError(f"{title} is no word")

    with pytest.raises(Refused) as refused:
        bind(Checked, read_yaml(b'title: "left\tin"\n', "f.yaml"), "f.yaml")
    assert refused.value.faults[0].read == "title: left[U+0009]in is no word (read: 'left[U+0009]in')."


def test_all_faults_of_a_file_are_told_at_once() -> None:
    assert len(_faults("title: a\ninner: {count: x, strange: 1}\nother: 1\n")) == 4


@pytest.mark.parametrize("text", ["[a, b]\n", "text\n"])
def test_what_is_no_mapping_is_refused(text: str) -> None:
    (fault,) = _faults(text)
    assert "not a mapping" in fault.read


def test_plain_data_is_dicts_lists_and_text() -> None:
    node = read_yaml(b"a: [1, {b: yes}]\n", "f.yaml")
    assert plain_data(node) == {"a": ["1", {"b": "yes"}]}


def test_node_at_stops_where_the_path_was_not_written() -> None:
    node = read_yaml(b"a:\n  - b: 1\n", "f.yaml")
    assert node_at(node, ("a", 0, "b")).column == 8
    assert isinstance(node_at(node, ("a", 0, "missing", "more")), Mapping)
    assert node_at(node, ("a", 7)).line == 2
