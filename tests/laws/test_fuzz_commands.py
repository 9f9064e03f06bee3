"""Every command takes files of every kind, whatever is in them: no traceback, and no work without end."""

from __future__ import annotations

from itertools import chain

import pytest
from support.fuzz_grammar import KINDS
from support.fuzz_run import runs
from support.one_pack import with_one_pack

from rigcheck.rules.pack import Pack

_EACH = 5


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "company folder"])
def test_no_file_of_any_kind_makes_a_traceback_or_endless_work(
    kind: str, pack: Pack, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_one_pack(pack, monkeypatch)
    first = KINDS.index(kind)
    numbers = iter(range(first, first + _EACH * len(KINDS), len(KINDS)))
    for ran in chain.from_iterable(runs(pack, 15, numbers)):
        assert not ran.wrong, ran
        assert ran.seconds < 10 and ran.size < 8_000_000, ran


def test_no_company_folder_makes_a_traceback(pack: Pack, monkeypatch: pytest.MonkeyPatch) -> None:
    with_one_pack(pack, monkeypatch)
    first = KINDS.index("company folder")
    wrong = [one for ran in runs(pack, 15, iter((first, first + len(KINDS)))) for one in ran if one.wrong]
    assert wrong == []
