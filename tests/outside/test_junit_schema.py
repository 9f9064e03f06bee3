"""JUnit reports against the XSD that continuous-integration servers go by, and read back by a general library.

Source: `testing/example_scripts/junit-10.xsd` (2014) in the source distribution of `pytest`
9.2.0, fetched by that name and version and held to its SHA-256 sum. The library is `junitparser`.
"""

from __future__ import annotations

import json
import tarfile
from pathlib import Path

import pytest
from junitparser import Error, Failure, JUnitXml, Skipped
from lxml import etree
from support.published_files import Published
from support.small_reports import HOSTILE, reported, shipped

from rigcheck.rules.rule import GRAVITY

SOURCES = Published(
    package="pytest",
    version="9.2.0",
    archive="pytest-9.2.0.tar.gz",
    sha_256="97c4f3b1f3c7414aa36465e09b8220f1d03627993bd51b1282e193753c80557b",
)


@pytest.fixture(scope="module")
def xsd() -> etree.XMLSchema:
    """The published schema."""
    with tarfile.open(SOURCES.fetched()) as opened:
        member = opened.extractfile(f"pytest-{SOURCES.version}/testing/example_scripts/junit-10.xsd")
        assert member is not None
        return etree.XMLSchema(etree.parse(member))


def _suites(tmp_path: Path, *arguments: object) -> etree._Element:
    return etree.fromstring(reported(tmp_path / "report.xml", "junit", *arguments).text.encode())


@pytest.mark.parametrize(
    "more",
    [(), ("--tell-holds",), ("--hold-on-unproven", "warning")],
    ids=["plain", "holds", "unproven"],
)
def test_a_report_of_everything_that_ships_meets_the_schema(
    more: tuple[str, ...], xsd: etree.XMLSchema, tmp_path: Path
) -> None:
    suites = _suites(tmp_path, *shipped(), *more)
    xsd.assertValid(suites)
    assert len(suites) == len(shipped())


def test_a_report_of_refused_and_hostile_files_meets_the_schema(
    xsd: etree.XMLSchema, folder: Path, tmp_path: Path
) -> None:
    suites = _suites(tmp_path, folder)
    xsd.assertValid(suites)
    assert [HOSTILE in suite.get("name", "") for suite in suites].count(True) == 1


def test_the_schema_refuses_a_report_that_breaks_it(xsd: etree.XMLSchema, folder: Path, tmp_path: Path) -> None:
    suites = _suites(tmp_path, folder / "held.yaml")
    for attribute in ("name", "tests", "failures", "errors"):
        kept = suites[0].attrib.pop(attribute)
        assert not xsd.validate(suites), attribute
        suites[0].set(attribute, kept)
    assert xsd.validate(suites)
    suites[0][1].append(etree.Element("finding"))
    assert not xsd.validate(suites)


@pytest.mark.parametrize("level", ["danger", "caution"])
def test_a_general_library_counts_what_is_on_hold_as_failed_and_the_rest_as_skipped(level: str, tmp_path: Path) -> None:
    given = (*shipped(), "--hold-at", level)
    read = JUnitXml.fromfile(_written(tmp_path, *given))
    entries = json.loads(reported(tmp_path / "report.json", "json", *given).text)["entries"]
    for suite, entry in zip(read, entries, strict=True):
        grave = [found for found in entry["findings"] if GRAVITY[found["signal"]] >= GRAVITY[level]]
        held = sum(not found.get("conceded") for found in grave)
        lesser = len(entry["findings"]) - held + len(entry["questions"])
        bare = not entry["findings"] and not entry["questions"]  # told as skipped: nothing against it is no pass
        assert (suite.failures, suite.skipped, suite.errors) == (held, lesser + bare, 0), entry["file"]
        assert suite.tests == held + lesser + 1


def test_a_general_library_reads_back_the_working_of_a_finding(folder: Path, tmp_path: Path) -> None:
    (suite,) = JUnitXml.fromfile(_written(tmp_path, folder / "held.yaml"))
    (case,) = (one for one in suite if (one.name or "").startswith("trolley/trolley_stands_upright: "))
    (failure,) = case.result
    assert isinstance(failure, Failure)
    assert failure.type == "DANGER"
    told = failure.text or ""
    assert all(words in told for words in ("tilt: 30 deg", "must be at most 20 deg", "held.yaml:3:17", "Do: "))


def test_a_general_library_reads_back_a_file_that_could_not_be_read_as_an_error(folder: Path, tmp_path: Path) -> None:
    (suite,) = JUnitXml.fromfile(_written(tmp_path, folder / "wrong.yaml"))
    (case,) = suite
    (error,) = case.result
    assert isinstance(error, Error)
    assert "wrong.yaml:3:10: line, gas: 'acetilene' is not one of its words." in (error.text or "")
    assert (suite.tests, suite.errors, suite.failures, suite.skipped) == (1, 1, 0, 0)


def test_a_general_library_tells_no_two_cases_of_a_report_for_one(folder: Path, tmp_path: Path) -> None:
    read = JUnitXml.fromfile(_written(tmp_path, folder, *shipped()))
    cases = [(case.classname, case.name) for suite in read for case in suite]
    assert len(set(cases)) == len(cases)
    assert any(isinstance(result, Skipped) for suite in read for case in suite for result in case.result)


def _written(tmp_path: Path, *arguments: object) -> str:
    output = tmp_path / "report.xml"
    reported(output, "junit", *arguments)
    return str(output)
