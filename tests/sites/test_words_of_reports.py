"""Every report of every rig that ships gives no leave, says who decides, and that the rig is invented."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from support.every_form import DAY, SHIPPED_RIGS, SHIPPED_SITES, forms_of, forms_of_many, told
from support.leave import found_in, leave_in, plain, without_titles
from support.sampling import sampled

from rigcheck.cli import pack_option
from rigcheck.rules.pack import Pack

_INVENTED = ("invented for demonstration", '"invented":true', '"invented": true')


@pytest.fixture(autouse=True)
def _pack_read_once(monkeypatch: pytest.MonkeyPatch, pack: Pack) -> None:
    monkeypatch.setattr(pack_option, "load_pack", lambda *_folders, **_more: pack)


@pytest.mark.parametrize("path", sampled(SHIPPED_RIGS, 15), ids=lambda path: path.stem)
def test_every_report_gives_no_leave_says_who_decides_and_that_the_rig_is_invented(path: Path, pack: Pack) -> None:
    forms = {form: plain(text) for form, text in forms_of(path)}
    assert found_in((form, without_titles(text, pack)) for form, text in forms.items()) == []
    assert [form for form, text in forms.items() if "competent or licensed person decide" not in text] == []
    name = plain(re.split(r"\n(?:rig|site): (?=[A-Z])", path.read_text(encoding="utf-8"))[1].split("\n")[0])
    named = {form: text for form, text in forms.items() if name in text}
    assert len(named) > 4
    assert [form for form, text in named.items() if not any(mark in text for mark in _INVENTED)] == []


_OF_NO_RIG = ("rules list --sources", "words", "words hose", "new")
"""Lists of what there is: they judge nothing."""


def test_every_report_of_many_rigs_or_of_a_register_gives_no_leave_and_says_who_decides(pack: Pack) -> None:
    forms = {form: plain(text) for form, text in forms_of_many()}
    assert found_in((form, without_titles(text, pack)) for form, text in forms.items()) == []
    decided = {form for form, text in forms.items() if re.search("competent or licensed person decides?", text)}
    assert set(forms) - decided == set(_OF_NO_RIG)
    unmarked = [form for form in decided if not form.startswith("rules") and "invented" not in forms[form]]
    assert unmarked == []


def test_a_record_to_be_filled_in_gives_no_leave_and_carries_state_and_cautions(tmp_path: Path, pack: Pack) -> None:
    for number, path in enumerate(one for one in SHIPPED_RIGS if one not in SHIPPED_SITES):
        record = tmp_path / f"{number}.yaml"
        told("new", "record", path, "start-up", record, "--day", DAY)
        text = " ".join(record.read_text(encoding="utf-8").replace("#", " ").split())
        assert leave_in(text) == []
        assert "competent or licensed person decide" in text
        assert "by its inspection for" in text or "Inspection of the rig for" in text
