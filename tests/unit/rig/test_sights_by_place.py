"""What was seen at a place, of a part that bears a tag now: it counts unless something says that it was another one."""

from __future__ import annotations

from datetime import date

import pytest

from rigcheck.judge.inspection import explain
from rigcheck.judge.judged import judge
from rigcheck.report.text.inspection_text import inspection_lines
from rigcheck.report.text.layout import plain_text
from rigcheck.rig.around import Around
from rigcheck.rig.loader import load_rig
from rigcheck.rig.look_file import LookFile, read_look
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack

_RIG = """
rig: gate repair
lines:
  - gas: oxygen
    parts: [cylinder, regulator: {tag: R-1, inlet_gauge: {}}, hose: {tag: H-2, made: 2026-11}]
torch: {form: cutting}
"""
_BY_PLACE = {"place": '"lines[0].parts[2]"', "braces": "lines.0.parts.2", "label": "oxygen hose"}
_HOSE = "{thing: 'lines[0].parts[2]', cover: sound}"


def _look(pack: Pack, day: str, *seen: str, file: str = "", rig: str = "rig.yaml") -> LookFile:
    rows = "".join(f"  - {row}\n" for row in seen)
    return read_look(
        f"look: {rig}\nday: {day}\nby: fitter\nseen:\n{rows}".encode(), file or f"{day}.yaml", pack.vocabulary
    )


def _read(pack: Pack, *looks: LookFile, elsewhere: LookFile | None = None) -> Rig:
    around = Around(looks=looks, looks_with=lambda tag: [elsewhere] if elsewhere is not None and tag == "H-2" else [])
    return load_rig(_RIG.encode(), "rig.yaml", pack.vocabulary, around, what_can_be_read=True)


def _cover(rig: Rig) -> list[object]:
    [hose] = rig.of_kind("hose")
    return [one.value for one in hose.said.get("cover", ()) if one.basis == "seen"]


@pytest.mark.parametrize("called", _BY_PLACE.values(), ids=list(_BY_PLACE))
def test_it_counts_where_nothing_says_otherwise_and_the_report_says_on_what_it_hangs(called: str, pack: Pack) -> None:
    rig = _read(pack, _look(pack, "2026-11-20", f"{{thing: {called}, cover: sound}}"))
    assert _cover(rig) == ["sound"] and rig.unread == ()
    assert rig.seen_by_place == ("H-2 (2026-11-20.yaml, 2026-11-20)",)
    inspection = explain(judge(rig, pack, day=date(2026, 11, 25).toordinal()))
    told = plain_text(inspection_lines(inspection, 80, hold_at="warning"))
    assert "by place H-2 (2026-11-20.yaml, 2026-11-20): nobody wrote" in " ".join(told.split())


@pytest.mark.parametrize(
    "tag", ["{thing: 'lines[0].parts[2]', tag: h-2}", "{thing: H-2, run: under-wheels}"], ids=["read there", "by it"]
)
@pytest.mark.parametrize("day", ["2026-11-20", "2026-11-18"], ids=["in the same look", "before"])
def test_nothing_hangs_on_a_place_whose_tag_was_read_by_then(tag: str, day: str, pack: Pack) -> None:
    same = day == "2026-11-20"
    looks = (
        [_look(pack, "2026-11-20", tag, _HOSE)] if same else [_look(pack, day, tag), _look(pack, "2026-11-20", _HOSE)]
    )
    rig = _read(pack, *looks)
    assert (_cover(rig), rig.unread, rig.seen_by_place) == (["sound"], (), ())


@pytest.mark.parametrize("other", ["2026-11-18", "2026-11-22"], ids=["read before", "read later"])
@pytest.mark.parametrize("row", [_HOSE, "every: {hose: {cover: sound}}"], ids=["of one", "of every"])
def test_it_does_not_count_where_another_tag_was_read_at_the_place(other: str, row: str, pack: Pack) -> None:
    read = _look(pack, other, "{thing: 'lines[0].parts[2]', tag: H-1}")
    rig = _read(pack, read, _look(pack, "2026-11-20", row))
    assert _cover(rig) == []
    [told] = [one for one in rig.unread if one.place.file == "2026-11-20.yaml"]
    assert told.read == f"What was seen here on 2026-11-20 is not of H-2: 'H-1' was there on {other}."
    again = _read(pack, read, _look(pack, "2026-11-20", row), _look(pack, "2026-11-24", "{thing: H-2, cover: cut}"))
    assert _cover(again) == ["cut"]


def test_it_does_not_count_where_the_part_was_at_another_rig_then(pack: Pack) -> None:
    there = _look(pack, "2026-11-21", "{thing: H-2, colour: blue}", rig="other.yaml", file="other-look.yaml")
    rig = _read(pack, _look(pack, "2026-11-20", _HOSE), elsewhere=there)
    assert _cover(rig) == []
    assert [one.read.partition(": ")[2] for one in rig.unread] == ["H-2 was at another rig on 2026-11-21."]
    later = _read(pack, _look(pack, "2026-11-22", _HOSE), elsewhere=there)
    assert _cover(later) == ["sound"]


def test_it_does_not_count_of_a_part_that_was_not_made_yet(pack: Pack) -> None:
    rig = _read(pack, _look(pack, "2026-10-31", _HOSE))
    assert _cover(rig) == []
    assert [one.read.partition(": ")[2] for one in rig.unread] == ["H-2 was made after it."]


def test_what_is_built_into_a_tagged_part_goes_with_it(pack: Pack) -> None:
    row = "{thing: 'lines[0].parts[1].inlet_gauge', pointer: yes}"
    read = _look(pack, "2026-11-18", "{thing: 'lines[0].parts[1]', tag: R-0}")
    rig = _read(pack, read, _look(pack, "2026-11-20", row))
    assert [one.read.partition(": ")[2] for one in rig.unread if one.place.file == "2026-11-20.yaml"] == [
        "'R-0' was there on 2026-11-18."
    ]


def test_what_was_said_of_every_thing_says_itself_that_it_is_of_whichever_was_there(pack: Pack) -> None:
    rig = _read(pack, _look(pack, "2026-11-20", "every: {hose: {cover: sound}}"))
    assert (_cover(rig), rig.unread, rig.seen_by_place) == (["sound"], (), ())
