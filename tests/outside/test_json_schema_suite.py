"""Conditions against the official JSON Schema Test Suite, draft 2020-12.

Source: the suite as it stands in the source distribution of the `jsonschema` package 4.26.0
(`json/tests/draft2020-12/`), fetched by that name and version and held to its SHA-256 sum.
"""

from __future__ import annotations

import json
import tarfile
from collections import Counter
from collections.abc import Iterator
from typing import Any, NamedTuple

import pytest
from jsonschema_specifications import REGISTRY
from support.json_schema import from_json_schema
from support.published_files import Published
from support.three_values import oracle

from rigcheck.condition.compiler import Judge
from rigcheck.condition.parser import KEYWORDS
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN

SUITE = Published(
    package="jsonschema",
    version="4.26.0",
    archive="jsonschema-4.26.0.tar.gz",
    sha_256="0c26707e2efad8aa1bfc5b7ce170f3fccc2e4918ff85989ba9ffa9facb2be326",
)
FOLDER = f"jsonschema-{SUITE.version}/json/tests/draft2020-12/"

FILES = sorted(
    {"if-then-else" if key in ("if", "then", "else") else key for key in KEYWORDS}
    | {"boolean_schema", "optional/bignum", "optional/float-overflow"}
    | {"optional/ecmascript-regex", "optional/non-bmp-regex"}
)
PYTHON_READS_OTHERWISE = "optional/ecmascript-regex"  # the ordinary validator has Python's patterns


class Example(NamedTuple):
    """One test of the suite."""

    file: str
    about: str
    schema: Any
    instance: Any
    valid: bool


@pytest.fixture(scope="module")
def suite() -> dict[str, list[Example]]:
    """The tests of the suite by file."""
    with tarfile.open(SUITE.fetched()) as opened:
        return {file: list(_examples(file, opened)) for file in FILES}


def _examples(file: str, opened: tarfile.TarFile) -> Iterator[Example]:
    member = opened.extractfile(f"{FOLDER}{file}.json")
    assert member is not None
    for group in json.load(member):
        for test in group["tests"]:
            about = f"{group['description']}: {test['description']}"
            yield Example(file, about, group["schema"], test["data"], test["valid"])


def _refused(example: Example) -> str:
    """Return why a schema is not read, or an empty string."""
    try:
        from_json_schema(example.schema)
    except ValueError as error:
        return str(error)
    return ""


def _verdict(example: Example) -> object:
    return Judge({}).check(from_json_schema(example.schema))(example.instance, example.instance)


@pytest.mark.parametrize("file", FILES)
def test_no_verdict_contradicts_the_suite(file: str, suite: dict[str, list[Example]]) -> None:
    taken = [one for one in suite[file] if not _refused(one)]
    for one in taken:
        assert _verdict(one) in (UNKNOWN, TRUE if one.valid else FALSE), one


@pytest.mark.parametrize("file", [file for file in FILES if file != PYTHON_READS_OTHERWISE])
def test_every_verdict_on_the_suite_is_that_of_the_oracle(file: str, suite: dict[str, list[Example]]) -> None:
    for one in suite[file]:
        if not _refused(one):
            assert _verdict(one) is oracle(one.schema, one.instance), one


# --- pinned, so that neither what is unknown nor what is refused can grow unseen ---

UNKNOWNS = {"allOf": 6, "enum": 3, "not": 1, "oneOf": 9, "properties": 4, "required": 9}
REFUSALS = {
    "not read here: $defs": 6,
    "not read here: additionalProperties, patternProperties": 25,
    "not read here: multipleOf": 22,
    "not read here: patternProperties": 5,
    "not read here: unevaluatedProperties": 2,
    r"'\\p' is not read here": 7,  # no such escape in Python
    r"invalid escape sequence: \c": 4,
}
KEYWORDS_REFUSED = [
    *("$anchor", "$defs", "$dynamicAnchor", "$dynamicRef", "$id", "$ref", "$vocabulary"),
    *("additionalProperties", "contentEncoding", "contentMediaType", "contentSchema"),
    *("default", "dependentRequired", "dependentSchemas", "deprecated", "examples", "format"),
    *("maxProperties", "minProperties", "multipleOf", "patternProperties", "propertyNames"),
    *("readOnly", "unevaluatedItems", "unevaluatedProperties", "writeOnly"),
]


def test_the_number_of_unknown_verdicts_is_pinned_for_each_file(suite: dict[str, list[Example]]) -> None:
    taken = [one for tests in suite.values() for one in tests if not _refused(one)]
    assert Counter(one.file for one in taken if _verdict(one) is UNKNOWN) == UNKNOWNS
    assert (len(taken), sum(map(len, suite.values()))) == (635, 706)


def test_what_is_refused_of_the_suite_is_pinned(suite: dict[str, list[Example]]) -> None:
    refused = (_refused(one) for tests in suite.values() for one in tests)
    assert Counter(filter(None, refused)) == REFUSALS


def test_the_keywords_of_the_standard_are_either_read_or_refused_by_name() -> None:
    known = _standard_keywords()
    assert sorted(known - KEYWORDS - {"$schema", "$comment", "title", "description"}) == KEYWORDS_REFUSED
    assert known >= KEYWORDS


def _standard_keywords() -> set[str]:
    """Return the keywords that the meta-schemas of draft 2020-12 define (jsonschema-specifications)."""
    parts = "core applicator unevaluated validation meta-data format-annotation content".split()
    found: set[str] = set()
    for part in parts:
        schema = REGISTRY.contents(f"https://json-schema.org/draft/2020-12/meta/{part}")
        found |= set(schema["properties"])
    return found


@pytest.mark.parametrize("keyword", KEYWORDS_REFUSED)
def test_a_keyword_that_is_not_read_is_refused_and_never_passed_over(keyword: str) -> None:
    with pytest.raises(ValueError, match="not read here: " + keyword.replace("$", r"\$")):
        from_json_schema({"properties": {"bore": {keyword: {}}}})
