"""The pack: folders laid on each other, loosened limits with a reason, and every fault at once."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from support.small_rules import TILT_RULE, RulesFolder

from rigcheck.judge.inspection import inspect_rig
from rigcheck.rig.loader import load_rig
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack


def _limits(value: str, more: str = "", code: str = "general", since: str = "2020-01-01") -> str:
    return f"""\
local_code: {code}
limits:
  trolley_tilt:
    values:
      - {{since: {since}, value: {value}, drawn_from: common practice{more}}}
"""


RIG = b"""\
rig: One of two
lines:
  - {gas: oxygen, parts: [regulator]}
torch: {}
trolley: {tilt: 18 deg}
"""


def _verdicts(pack: Pack, code: str = "general", day: date = date(2026, 11, 25)) -> dict[str, int]:
    rig = load_rig(RIG, "rig.yaml", pack.vocabulary)
    found = inspect_rig(rig, pack, day=day.toordinal(), local_code=code).verdicts
    return {verdict: count for verdict, count in found.items() if count}


def test_a_folder_gives_its_rules_by_their_path(folder: RulesFolder) -> None:
    pack = folder.pack()
    assert list(pack.rules) == ["trolley/leans"]
    assert pack.rules["trolley/leans"].limits == ("trolley_tilt",)
    assert _verdicts(pack) == {"holds": 1}


def test_an_overlay_adds_a_rule(folder: RulesFolder, overlay: RulesFolder) -> None:
    overlay.write("yard/own.yaml", TILT_RULE)
    pack = folder.pack(overlay)
    assert list(pack.rules) == ["trolley/leans", "yard/own"]
    assert [(one.sort, one.name, one.how) for one in pack.laid] == [("rule", "yard/own", "added")]


def test_an_overlay_replaces_a_rule_of_the_same_name_and_says_so(folder: RulesFolder, overlay: RulesFolder) -> None:
    own = TILT_RULE.replace("signal: warning", "signal: danger")
    overlay.write("trolley/leans.yaml", own)
    assert "Rule trolley/leans is changed without a reason" in folder.faults(overlay)[0].read
    overlay.write("trolley/leans.yaml", f"{own}because: Ours is graver\n")
    pack = folder.pack(overlay)
    assert [(one.name, one.how, one.because) for one in pack.laid] == [("trolley/leans", "changed", "Ours is graver")]
    assert pack.rules["trolley/leans"].signal == "danger"


def test_an_overlay_tightens_a_limit_without_a_reason(folder: RulesFolder, overlay: RulesFolder) -> None:
    overlay.write("limits/general.yaml", _limits("10 deg"))
    pack = folder.pack(overlay)
    assert [(one.how, one.told) for one in pack.laid] == [("tightened", "10 deg")]
    assert _verdicts(pack) == {"broken": 1}


@pytest.mark.parametrize("value", ["25 deg", "none", "20.01 deg"])
def test_a_limit_is_not_loosened_without_a_reason(folder: RulesFolder, overlay: RulesFolder, value: str) -> None:
    path = overlay.write("limits/general.yaml", _limits(value))
    (fault,) = folder.faults(overlay)
    assert (fault.place.file, fault.place.line) == (str(path), 5)
    assert "loosened from 20 deg without a reason" in fault.read
    assert "because:" in fault.write


def test_a_limit_loosened_with_a_reason_is_told_in_the_pack(folder: RulesFolder, overlay: RulesFolder) -> None:
    overlay.write("limits/general.yaml", _limits("25 deg", ", because: A wider wheel base"))
    (loosened,) = folder.pack(overlay).laid
    assert (loosened.how, loosened.because) == ("loosened", "A wider wheel base")
    assert loosened.told == "25 deg instead of 20 deg"


def test_a_limit_is_compared_with_the_folders_below_on_its_day_and_never_with_its_own_folder(
    folder: RulesFolder, overlay: RulesFolder
) -> None:
    def own(first: str, second: str) -> str:
        return f"local_code: general\nlimits:\n  trolley_tilt:\n    values:\n      - {first}\n      - {second}\n"

    withdrawn = "{since: 1990-01-01, value: none, drawn_from: common practice, because: x}"
    far = "{since: 2999-01-01, value: 89 deg, drawn_from: common practice, because: x}"
    for first, value in ((withdrawn, "360 deg"), (far, "80 deg")):
        overlay.write(
            "limits/general.yaml", own(first, f"{{since: 1990-01-02, value: {value}, drawn_from: common practice}}")
        )
        (fault,) = folder.faults(overlay)
        assert fault.place.line == 6 and fault.read.endswith("is loosened from 20 deg without a reason.")


def test_a_limit_that_becomes_looser_only_when_the_one_below_is_tightened_needs_a_reason_too(
    folder: RulesFolder, overlay: RulesFolder
) -> None:
    general = (folder.path / "limits/general.yaml").read_text(encoding="utf-8")
    tighter = "      - {since: 2024-01-01, value: 10 deg, drawn_from: common practice}\n"
    folder.write("limits/general.yaml", general.rstrip("\n") + "\n" + tighter)
    overlay.write("limits/general.yaml", _limits("20 deg"))
    assert "loosened from 10 deg" in folder.faults(overlay)[0].read


def test_a_code_of_an_overlay_is_measured_by_general_where_it_had_no_value(
    folder: RulesFolder, overlay: RulesFolder
) -> None:
    overlay.write("limits/us.yaml", _limits("25 deg", code="us"))
    (fault,) = folder.faults(overlay)
    assert "loosened from 20 deg" in fault.read


def test_a_limit_for_which_high_is_cautious_is_loosened_downwards(folder: RulesFolder, overlay: RulesFolder) -> None:
    general = (folder.path / "limits/general.yaml").read_text(encoding="utf-8")
    folder.write("limits/general.yaml", general.replace("cautious: low", "cautious: high"))
    overlay.write("limits/general.yaml", _limits("25 deg"))
    assert [one.how for one in folder.pack(overlay).laid] == ["tightened"]
    overlay.write("limits/general.yaml", _limits("15 deg"))
    assert "without a reason" in folder.faults(overlay)[0].read


def test_the_base_folder_itself_needs_no_reason_for_a_code_that_allows_more(folder: RulesFolder) -> None:
    folder.write("limits/us.yaml", _limits("25 deg", code="us"))
    pack = folder.pack()
    assert pack.laid == ()
    assert (_verdicts(pack), _verdicts(pack, "us")) == ({"holds": 1}, {"holds": 1})


def test_a_rule_whose_limit_is_withdrawn_does_not_apply(folder: RulesFolder, overlay: RulesFolder) -> None:
    overlay.write("limits/us.yaml", _limits("none", ", because: Nobody measures it", code="us"))
    pack = folder.pack(overlay)
    assert _verdicts(pack, "us") == {}
    assert _verdicts(pack, "uk") == {"holds": 1}


def test_a_rule_whose_limit_is_not_yet_in_force_does_not_apply(folder: RulesFolder) -> None:
    assert _verdicts(folder.pack(), day=date(1999, 12, 31)) == {}


def test_a_limit_changes_on_its_day(folder: RulesFolder, overlay: RulesFolder) -> None:
    overlay.write("limits/general.yaml", _limits("10 deg", since="2026-11-25"))
    pack = folder.pack(overlay)
    assert _verdicts(pack, day=date(2026, 11, 24)) == {"holds": 1}
    assert _verdicts(pack, day=date(2026, 11, 25)) == {"broken": 1}


def test_the_digest_names_the_content_of_the_files(folder: RulesFolder, overlay: RulesFolder) -> None:
    before = folder.pack().digest
    assert before == folder.pack().digest
    folder.write("trolley/leans.yaml", TILT_RULE + "# a remark\n")
    assert folder.pack().digest == before  # a remark judges nothing
    folder.write("trolley/leans.yaml", TILT_RULE.replace("breaks a valve", "breaks its valve"))
    after = folder.pack().digest
    overlay.write("limits/us.yaml", _limits("10 deg", code="us"))
    assert len({before, after, folder.pack(overlay).digest}) == 3


BAD = [  # file, text to change, its replacement, what is said
    ("trolley/leans.yaml", "signal: warning", "signal: grave", "signal"),
    ("trolley/leans.yaml", "looks_at: trolley", "looks_at: troley", "'troley' is no kind"),
    ("trolley/leans.yaml", "limit: trolley_tilt", "limit: trolley_tlit", "'trolley_tlit' is no limit"),
    ("trolley/leans.yaml", "common practice", "Yard rule s.9", "lists no clause 's.9'"),
    ("trolley/leans.yaml", "  tilt: {maximum", "  tlit: {maximum", "'tlit' is nothing known of a trolley"),
    ("trolley/leans.yaml", "harm: ", "harmm: ", "'harmm' is no key here"),
    ("limits/general.yaml", "value: 20 deg", "value: 20 bananas", "no unit"),
    ("limits/general.yaml", "value: 20 deg", "value: 20 bar", "limit trolley_tilt is a pressure"),
    ("limits/general.yaml", "cautious: low", "cautious: lowest", "cautious"),
    ("limits/general.yaml", "since: 2000-01-01", "since: 2000-13-01", "not in the calendar"),
    ("limits/general.yaml", "local_code: general", "local_code: mars", "local_code"),
    ("limits/general.yaml", "Yard rule s.1", "Yard rue s.1", "names no document"),
    ("limits/general.yaml", "    means: Most lean of a trolley.\n", "", "is new, and general must say"),
    ("documents.yaml", "s.1: published", "s.1: printed", "s.1"),
    ("vocabulary/trolley.yaml", "kind: trolley", "kind: troley", "'trolley' is no kind"),
]


@pytest.mark.parametrize(("name", "old", "new", "said"), BAD)
def test_a_slip_in_a_file_of_the_pack_is_refused_with_its_file(
    folder: RulesFolder, name: str, old: str, new: str, said: str
) -> None:
    text = (folder.path / name).read_text(encoding="utf-8")
    assert old in text
    folder.write(name, text.replace(old, new, 1))
    faults = folder.faults()
    assert any(said in fault.read for fault in faults), [str(fault) for fault in faults]


def test_the_faults_of_all_rule_files_are_told_at_once(folder: RulesFolder) -> None:
    for name in ("one", "two"):
        folder.write(f"trolley/{name}.yaml", TILT_RULE.replace("maximum", "maximun"))
    files = {Path(fault.place.file).name for fault in folder.faults()}
    assert files == {"one.yaml", "two.yaml"}


def test_an_overlay_cannot_set_a_limit_that_nobody_defined(folder: RulesFolder, overlay: RulesFolder) -> None:
    overlay.write("limits/us.yaml", _limits("10 deg", code="us").replace("trolley_tilt", "troley_tilt"))
    (fault,) = folder.faults(overlay)
    assert (fault.near, "'troley_tilt' is no limit" in fault.read) == ("trolley_tilt", True)


def test_an_overlay_cannot_change_the_dimension_of_a_limit(folder: RulesFolder, overlay: RulesFolder) -> None:
    overlay.write("limits/general.yaml", _limits("10 bar"))
    assert "is an angle, here a pressure" in folder.faults(overlay)[0].read


def test_what_is_no_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(NotADirectoryError, match="no folder of rules"):
        load_pack(tmp_path / "nowhere")


def test_procedures_beside_the_rules_are_no_rules(folder: RulesFolder) -> None:
    folder.write("procedures/one.yaml", "anything: else\n")
    assert list(folder.pack().rules) == ["trolley/leans"]
