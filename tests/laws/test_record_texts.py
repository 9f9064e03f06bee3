"""Whatever stands in a record or a procedure file is judged or refused with a place, never a traceback."""

from __future__ import annotations

import random
from functools import cache

from hypothesis import given
from hypothesis import strategies as st
from support.procedure_tools import FOLDER, judged, pack_with, read_rig

from rigcheck.rules.folders import rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of
from rigcheck.text.faults import Refused

_RECORD = (FOLDER / "good.yaml").read_text()
_PROCEDURE = (FOLDER / "start-up.yaml").read_text()
_RIG = (FOLDER / "rig.yaml").read_text()
_PIECES = (
    "{",
    "}",
    "[",
    "]",
    ":",
    "- ",
    '"',
    "?",
    "#",
    "\n",
    "  ",
    "~",
    "&a",
    "*a",
    "!x",
    "none",
    "0",
    "-1",
    "é",
    "…",
    "\t",
)


@cache
def _own() -> Pack:
    return pack_with(load_pack(rules_folder()), {"start-up": _PROCEDURE})


def _spoilt(text: str, seed: int) -> str:
    """Return a text with a few pieces put in, taken out, doubled or swapped."""
    dice = random.Random(seed)
    for _ in range(dice.randint(1, 4)):
        at, end = sorted(dice.randrange(len(text)) for _ in range(2))
        end = min(end, at + dice.randint(0, 30))
        piece = dice.choice((*_PIECES, text[at:end], ""))
        text = text[:at] + piece + text[dice.choice((at, end)) :]
    return text


@given(st.integers(0, 2**32))
def test_a_spoilt_record_is_judged_or_refused_in_its_own_file(seed: int) -> None:
    try:
        inspection = judged(_own(), read_rig(_own(), _RIG), _spoilt(_RECORD, seed))
    except Refused as refused:
        assert {fault.place.file for fault in refused.faults} == {"record.yaml"}
        assert all(fault.read and fault.write for fault in refused.faults)
    else:
        assert all(finding.required and finding.found for finding in inspection.findings)


@given(st.integers(0, 2**32))
def test_a_spoilt_procedure_is_read_or_refused_in_its_own_file(seed: int) -> None:
    try:
        procedures_of(pack_with(_own(), {"start-up": _spoilt(_PROCEDURE, seed)}))
    except Refused as refused:
        assert {fault.place.file for fault in refused.faults} == {"procedures/start-up.yaml"}
        assert all(fault.read and fault.write for fault in refused.faults)


@given(st.binary(max_size=200))
def test_any_bytes_are_no_record_but_never_a_traceback(data: bytes) -> None:
    try:
        judged(_own(), read_rig(_own(), _RIG), data.decode("latin-1"))
    except Refused as refused:
        assert refused.faults
