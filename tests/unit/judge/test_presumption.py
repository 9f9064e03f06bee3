"""What came with a standard rig is presumed until somebody looks."""

from __future__ import annotations

from datetime import date

import pytest
from msgspec.structs import replace

from rigcheck.judge.finding import Inspection
from rigcheck.judge.inspection import inspect_rig
from rigcheck.report.text.inspection_text import inspection_lines
from rigcheck.report.text.layout import plain_text
from rigcheck.rig.loader import load_rig
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack
from rigcheck.rules.standard_rigs import digest_of
from rigcheck.text.faults import Refused

DAY = date(2026, 11, 25).toordinal()
NAME = "oxy-propane-cutting"
TEMPLATE = (configs_folder() / "templates" / f"{NAME}.yaml").read_text(encoding="utf-8")
DIGEST = digest_of(TEMPLATE.encode())


def begun(pack: Pack, text: str = TEMPLATE, origin: str = f"{{standard_rig: {NAME}, digest: {DIGEST}}}") -> Inspection:
    written = text.replace("\nrig:", f"\nbegun_from: {origin}\nrig:", 1)
    return inspect_rig(load_rig(written.encode(), "mine.yaml", pack.vocabulary), pack, day=DAY)


def test_of_an_untouched_standard_rig_nothing_holds(pack: Pack) -> None:
    inspection = begun(pack)
    assert "holds" not in inspection.verdicts
    assert inspection.verdicts["presumed"] > 200
    assert inspection.checks_words.startswith(
        f"{inspection.verdicts['presumed']} checks presumed as in the standard rig"
    )


def test_a_record_says_that_the_rig_it_was_made_with_is_presumed(pack: Pack) -> None:
    inspection = begun(pack)
    record = replace(inspection, record="Shut-down", verdicts={"holds": 41}, questions=(), findings=())
    assert record.state("warning") == "not yet shown"
    assert record.checks_words.startswith("41 checks held; ")
    assert record.checks_words.endswith(" checks of the rig itself are presumed as in its standard rig")


def test_a_copy_that_does_not_say_what_it_was_begun_from_counts_as_written(pack: Pack) -> None:
    written = inspect_rig(load_rig(TEMPLATE.encode(), "mine.yaml", pack.vocabulary), pack, day=DAY)
    assert "presumed" not in written.verdicts


def test_what_somebody_has_seen_holds(pack: Pack) -> None:
    seen = TEMPLATE.replace("\ntrolley:\n", "\ntrolley:\n  seen: 2026-11-25\n  by: fitter\n", 1)
    before, after = begun(pack), begun(pack, seen)
    assert after.verdicts["holds"] > 0
    assert after.verdicts["presumed"] < before.verdicts["presumed"]


def test_what_is_seen_of_the_whole_rig_leaves_nothing_presumed(pack: Pack) -> None:
    inspection = begun(pack, TEMPLATE.replace("\nrig:", "\nseen: 2026-11-25\nrig:", 1))
    assert "presumed" not in inspection.verdicts


def test_what_was_changed_is_this_rigs_own_and_breaks_as_ever(pack: Pack) -> None:
    inspection = begun(pack, TEMPLATE.replace("sealing: metal-to-metal", "sealing: ptfe-tape"))
    assert inspection.findings
    assert inspection.verdicts["presumed"] > 200


def test_presumption_alone_puts_nothing_on_hold_unless_that_is_asked_for(pack: Pack) -> None:
    written = TEMPLATE.replace("\nrig:", f"\nbegun_from: {NAME}\nrig:", 1)
    rig = load_rig(written.encode(), "mine.yaml", pack.vocabulary)
    assert inspect_rig(rig, pack, day=DAY).state("danger") == "not yet shown"


def test_where_the_standard_rig_has_changed_since_all_that_nobody_has_seen_is_presumed(pack: Pack) -> None:
    other = begun(pack, TEMPLATE.replace("length: 10 m", "length: 12 m"), f"{{standard_rig: {NAME}, digest: 0123}}")
    assert "holds" not in other.verdicts
    assert other.standard_changed.startswith(f"it has changed since. Compare the two, and write 'digest: {DIGEST}' (")
    assert f"standard rig {NAME} (changed since), 0 held" in other.checks_words
    told = " ".join(plain_text(inspection_lines(other, 80, hold_at="warning")).split())
    assert f"it has changed since. Compare the two, and write 'digest: {DIGEST}'" in told
    assert begun(pack).standard_changed == ""


def test_a_standard_rig_that_there_is_not_is_refused_with_the_nearest(pack: Pack) -> None:
    with pytest.raises(Refused) as refused:
        begun(pack, origin="oxy-propane-cuting")
    assert refused.value.faults[0].near == NAME
