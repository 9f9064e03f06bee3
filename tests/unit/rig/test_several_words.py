"""A list of words: what denies the others stands alone, or it would be passed over that they stand there."""

from __future__ import annotations

from datetime import date

import pytest

from rigcheck.asking.answers import checked
from rigcheck.judge.inspection import explain
from rigcheck.judge.judged import judge
from rigcheck.quantity.notation import NotRead
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack

_RIG = """\
rig: yard
lines: [{gas: propane, parts: [cylinder, regulator, hose]}]
torch: {form: air-aspirated}
site: {vapour_openings: WORDS}
"""
_RULE = "site/no_vapour_comes_out_near_the_flame"


@pytest.mark.parametrize("words", ["[none, drain]", "[drain, none]"])
def test_none_beside_another_word_is_not_read_and_silences_no_danger(words: str, pack: Pack) -> None:
    rig = load_rig(_RIG.replace("WORDS", words).encode(), "yard.yaml", pack.vocabulary, what_can_be_read=True)
    [fault] = rig.unread
    assert "'none' stands beside drain." in fault.read and fault.write == "Write 'none' alone, or take it out."
    judged = judge(rig, pack, day=date(2026, 11, 25).toordinal())
    [told] = [verdict for _, rule, verdict, _ in judged.judgements() if rule.name == _RULE]
    assert told == "unproven"
    assert explain(judged).state("warning") in ("on hold", "not yet shown")


def test_words_that_deny_nothing_stand_together(pack: Pack) -> None:
    rig = load_rig(_RIG.replace("WORDS", "[drain, open-tank]").encode(), "yard.yaml", pack.vocabulary)
    assert rig.root.facts["site"].facts["vapour_openings"] == ("drain", "open-tank")


def test_an_answer_is_asked_back_too(pack: Pack) -> None:
    fact = pack.vocabulary.kinds["site"].facts["vapour_openings"]
    assert checked(fact, "drain, open-tank") == ("drain", "open-tank")
    with pytest.raises(NotRead, match="'none' stands beside tank-vent, drain"):
        checked(fact, "tank-vent, drain, none")
