"""Proof: the cases come out as written, and each part of a rule that no case notices is reported."""

from __future__ import annotations

from datetime import date

import pytest
from support.small_rules import TILT_RULE, RulesFolder

from rigcheck.judge.proof import Proof, prove_rule

DAY = date(2026, 11, 25).toordinal()


def _proof(folder: RulesFolder, text: str = TILT_RULE) -> Proof:
    folder.write("trolley/leans.yaml", text)
    pack = folder.pack()
    return prove_rule(pack.rules["trolley/leans"], pack, DAY)


def _without(case: str) -> str:
    return "".join(line for line in TILT_RULE.splitlines(keepends=True) if f"case: {case}," not in line)


def _idle(folder: RulesFolder, text: str) -> list[str]:
    return [part.change for part in _proof(folder, text).idle]


def test_a_proven_rule_has_no_failed_case_and_no_idle_part(folder: RulesFolder) -> None:
    proof = _proof(folder)
    assert (proof.rule, proof.cases, proof.failed, proof.idle) == ("trolley/leans", 5, (), ())
    assert proof.changes == 4  # the limit raised and lowered, the comparison dropped and turned round


def test_a_case_that_comes_out_otherwise_is_reported_with_its_place(folder: RulesFolder) -> None:
    proof = _proof(folder, TILT_RULE.replace("tilt: 20.3 deg, verdict: broken", "tilt: 20.3 deg, verdict: holds"))
    (failed,) = proof.failed
    assert (failed.case, failed.wanted, failed.got, failed.place.line) == ("just beyond", "holds", "broken", 11)


def test_a_limit_that_may_be_raised_unnoticed_is_idle(folder: RulesFolder) -> None:
    loose = _without("just beyond") + "  - {case: far beyond, tilt: 40 deg, verdict: broken}\n"
    assert _idle(folder, loose) == ["limit trolley_tilt raised by a fiftieth"]


def test_a_limit_that_may_be_lowered_unnoticed_is_idle(folder: RulesFolder) -> None:
    cases = TILT_RULE.replace("tilt: 20 deg,", "tilt: 2 deg,").replace("19.7 deg", "1 deg").replace("20 ± 1", "20 ± 5")
    assert _idle(folder, cases) == ["limit trolley_tilt lowered by a fiftieth"]


def test_a_clause_that_may_be_dropped_unnoticed_is_idle(folder: RulesFolder) -> None:
    more = TILT_RULE.replace("holds:\n", "holds:\n  purpose_made: {const: true}\n")
    more = more.replace("verdict: holds", "purpose_made: true, verdict: holds")
    (idle,) = _proof(folder, more).idle
    assert (idle.change, idle.place.line) == ("const dropped", 5)
    noticed = more + "  - {case: home made, tilt: 5 deg, purpose_made: false, verdict: broken}\n"
    assert _idle(folder, noticed) == []


def test_a_clause_of_what_the_rule_concerns_may_be_idle_too(folder: RulesFolder) -> None:
    text = TILT_RULE.replace("holds:\n", "concerns:\n  purpose_made: {const: true}\nholds:\n", 1)
    text = text.replace("tilt: ", "purpose_made: true, tilt: ").replace("  purpose_made: true, tilt: {", "  tilt: {")
    assert _idle(folder, text) == ["const dropped"]


def test_a_number_that_stands_in_the_rule_is_nudged_like_a_limit(folder: RulesFolder) -> None:
    literal = TILT_RULE.replace("{limit: trolley_tilt}", "20 deg")
    assert _idle(folder, literal) == []
    assert "20 deg raised" in _idle(folder, literal.replace("20.3 deg", "30 deg").replace("20 ± 1 deg", "20 ± 9 deg"))


@pytest.mark.parametrize("case", ["too close", "not measured"])
def test_cases_that_only_say_more_may_be_left_out(folder: RulesFolder, case: str) -> None:
    assert _idle(folder, _without(case)) == []


def test_a_case_is_judged_under_its_own_code(folder: RulesFolder) -> None:
    folder.write(
        "limits/us.yaml",
        """\
        local_code: us
        limits:
          trolley_tilt:
            values: [{since: 2000-01-01, value: 25 deg, drawn_from: common practice}]
        """,
    )
    text = TILT_RULE + "  - {case: allowed there, under: us, tilt: 24 deg, verdict: holds}\n"
    assert _proof(folder, text).failed == ()


_FOLLOWS = """\
says: A trolley on wheels without tyres leans as far as this.
looks_at: trolley
when:
  purpose_made: {const: true}
then:
  tilt: 20.3 deg
gives_way: true
drawn_from: [common practice]
proven_by:
  - {case: made for it, purpose_made: true, follows: yes}
  - {case: home made, purpose_made: false, follows: no}
  - {case: nobody said, follows: not known}
"""


@pytest.mark.parametrize(
    ("written", "wanted"),
    [
        (_FOLLOWS, ["in breach of trolley/leans"]),
        (_FOLLOWS.replace("20.3 deg", "20 deg"), []),
        (_FOLLOWS.replace("gives_way: true\n", ""), []),  # it disagrees with whoever states something else
    ],
)
def test_what_gives_way_to_every_statement_breaks_no_rule(folder: RulesFolder, written: str, wanted: list[str]) -> None:
    folder.write("trolley/leans.yaml", TILT_RULE)
    folder.write("follows/leans_little.yaml", written)
    pack = folder.pack()
    proof = prove_rule(pack.follows["follows/leans_little"].rule, pack, DAY)
    assert [one.got for one in proof.failed] == wanted
