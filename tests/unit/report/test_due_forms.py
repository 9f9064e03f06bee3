"""Due dates as text, a table and a calendar, read back by the csv module and by the icalendar library.

What a calendar must hold is RFC 5545 (3.6.1: UID and DTSTAMP; 3.6.6: alarms; 3.1: lines of 75 octets).
"""

from __future__ import annotations

import csv
import io
from datetime import date, timedelta

import pytest
from icalendar import Calendar
from support.small_dues import due

from rigcheck.report.due.calendar import due_calendar
from rigcheck.report.due.due_text import DueTally, due_lines
from rigcheck.report.due.table import TABLE_HEAD, due_table
from rigcheck.report.json.due_json import undated_entry
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.layout import plain_text
from rigcheck.tasks.due_dates import Due, Undated
from rigcheck.text.place import Place

DAY = date(2026, 11, 25).toordinal()


def tally(*dues: Due) -> DueTally:
    made = DueTally(DAY, rigs=1)
    for one in dues:
        made.count(one)
    return made


def text(*dues: Due, **more: object) -> str:
    told = tally(*dues)
    for name, value in more.items():
        setattr(told, name, value)
    return " ".join(plain_text(due_lines(dues, told, 80)).split())


def rows(*dues: Due) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO("".join(due_table(dues, (), tally(*dues))))))


def calendar(*dues: Due) -> str:
    return "".join(due_calendar(dues, tally(*dues)))


def events(*dues: Due) -> list[object]:
    return list(Calendar.from_ical(calendar(*dues)).walk("VEVENT"))


# --- text ---


def test_overdue_stands_first_and_days_are_counted() -> None:
    told = text(due("2026-11-24"), due("2026-11-25", "fuel hose"), due("2026-12-05"))
    assert told.index("Overdue") < told.index("1 day overdue: oxygen hose") < told.index("To come")
    assert "due today: fuel hose" in told and "10 days left: oxygen hose" in told
    assert "1 rig; 1 overdue, 2 to come." in told


def test_an_entry_names_limit_code_source_place_and_rule() -> None:
    told = text(due("2026-12-05"))
    assert "made 2024-03, at most 5 year (limit hose life, general); Yard rule s.1 [from memory]" in told
    assert "CAUTION yard.yaml:12:5, rule hoses/young" in told
    assert told.endswith(CAUTION)


def test_things_that_read_alike_are_told_once() -> None:
    second = due("2026-12-05", "fuel hose", place=Place("yard.yaml", 20, 5))
    told = text(due("2026-12-05"), second)
    assert "10 days left: oxygen hose and 1 more" in told and "yard.yaml:12:5 and line 20" in told


def test_doubt_is_told() -> None:
    doubtful = due("2026-12-05", last=DAY + 40, later_by=("tested",), presumes=("tested by",), because="Low use.")
    told = text(doubtful)
    assert "not stated more closely: 2027-01-04 at the latest" in told
    assert "could put it off: tested." in told and "presumed to be as it must be: tested by." in told
    assert "(limit hose life, general, because: Low use.)" in told


def test_days_that_are_not_known_are_counted_by_fact() -> None:
    counts = {("hose", "made", False): 3, ("hose", "made", True): 1}
    told = text(undated=counts)
    assert "4 days that a rule counts from" in told
    assert "3 hose, made: not stated 1 hose, made: stated that there is none" in told


# --- the table ---


def test_a_table_is_read_back_with_all_that_was_told() -> None:
    (row,) = rows(due("2026-11-05", 'hose, "old"\nand long'))
    assert (row["due"], row["days_left"], row["state"]) == ("2026-11-05", "-20", "overdue")
    assert row["thing"] == 'hose, "old" and long'
    assert (row["limit"], row["local_code"], row["judged_under"]) == ("5 year", "general", "uk")
    assert (row["file"], row["line"], row["caution"]) == ("yard.yaml", "12", CAUTION)
    assert None not in row and None not in row.values()


@pytest.mark.parametrize("word", ["=1+1", "+1", "-1", "@SUM(A1)", " =1", "\t=1", "\r=1", "＝1"])
def test_no_cell_from_a_file_is_a_formula(word: str) -> None:
    (row,) = rows(due("2026-12-05", word, rig=word, stated=word, place=Place(word, 1, 1)))
    for name in ("thing", "rig", "stated", "file"):
        assert row[name].startswith("'")
        assert not row[name].lstrip(" '").startswith("\t")


def test_a_plain_cell_stays_as_it_is() -> None:
    (row,) = rows(due("2026-12-05", "hose 1-2"))
    assert row["thing"] == "hose 1-2"


def test_the_table_has_a_row_with_rig_and_place_for_each_day_that_is_not_known() -> None:
    at = Place("yard.yaml", 7, 3)
    open_day = Undated("Yard", "fuel hose", "hose", "made", "What is marked?", False, ("hoses/young",), at, "H-1")
    (row,) = csv.DictReader(io.StringIO("".join(due_table([], [undated_entry(open_day).model_dump()], DueTally(DAY)))))
    told = ("state", "rig", "thing", "fact", "tag", "file", "line", "rule", "due")
    wanted = ("not stated", "Yard", "fuel hose", "made", "H-1", "yard.yaml", "7", "hoses/young", "")
    assert tuple(row[name] for name in told) == wanted


def test_the_table_begins_as_our_own_do() -> None:
    assert "".join(due_table([], [], DueTally(DAY))) == f"{TABLE_HEAD}\r\n"


# --- the calendar ---


def test_a_calendar_is_read_back_day_by_day() -> None:
    (event,) = events(due("2028-02-29"))
    assert event["DTSTART"].dt == date(2028, 2, 29)  # a date, not a time: the event takes the whole day
    assert event["DTEND"].dt == date(2028, 3, 1)  # the first day after it (3.6.1)
    assert event["SUMMARY"] == "CAUTION, due: oxygen hose (made), rig “Yard set”"
    assert "Do: Change the hose." in event["DESCRIPTION"] and CAUTION in event["DESCRIPTION"]
    assert event["TRANSP"] == "TRANSPARENT" and event["DTSTAMP"].dt.date() == date(2026, 11, 25)


def test_a_calendar_begins_as_our_own_do_and_folds_its_lines() -> None:
    made = calendar(due("2028-02-29", "höse " * 40))
    assert made.startswith("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//rigcheck")
    assert made.endswith("END:VCALENDAR\r\n")
    assert max(len(line.encode()) for line in made.split("\r\n")) <= 75
    assert made.count("\n") == made.count("\r\n")


@pytest.mark.parametrize(
    ("interval", "days"),
    [(1826, 30), (0, 30), (60, 15), (31, 7), (4, 1)],
)
def test_an_alarm_goes_off_a_quarter_of_the_interval_before_and_at_most_a_month(interval: int, days: int) -> None:
    (alarm,) = Calendar.from_ical(calendar(due("2028-02-29", interval=interval))).walk("VALARM")
    assert alarm["TRIGGER"].dt == timedelta(days=-days)
    assert alarm["ACTION"] == "DISPLAY" and alarm["DESCRIPTION"]


def test_a_day_after_a_day_and_what_is_overdue_have_no_alarm() -> None:
    made = calendar(due("2026-11-20"), due("2026-11-26", interval=1))
    assert not Calendar.from_ical(made).walk("VALARM")


def test_what_is_overdue_is_told_again_on_the_day_of_the_listing() -> None:
    late, told = events(due("2026-11-20"))
    assert late["DTSTART"].dt == date(2026, 11, 20) and "overdue" in late["SUMMARY"]
    assert (told["DTSTART"].dt, told["SUMMARY"]) == (date(2026, 11, 25), "Rigs: 1 dates overdue")


def test_a_uid_stays_when_the_day_moves_and_differs_from_all_others() -> None:
    (before,), (after,) = events(due("2028-02-29")), events(due("2029-02-28", stated="2025-02-28", last=DAY + 900))
    assert before["UID"] == after["UID"]
    others = [
        due("2028-02-29", "fuel hose"),
        due("2028-02-29", fact="tested"),
        due("2028-02-29", rule="hoses/old"),
        due("2028-02-29", rig="Other set"),
        due("2028-02-29", place=Place("other.yaml", 12, 5)),
    ]
    uids = {str(events(one)[0]["UID"]) for one in [due("2028-02-29"), *others]}
    assert len(uids) == 6


def test_a_uid_depends_neither_on_the_folder_that_a_path_was_written_from_nor_on_the_line() -> None:
    places = [("a/b.yaml", 1), ("./a//b.yaml", 9), ("../../b.yaml", 9), ("b.yaml", 3), ("moved/b.yaml", 3)]
    assert len({str(events(due("2028-02-29", place=Place(*at, 1)))[0]["UID"]) for at in places}) == 1


def test_a_tagged_part_keeps_its_uid_in_another_rig_and_file() -> None:
    here, there = (due("2028-02-29", tag="H-1", rig=rig, place=Place(f"{rig}.yaml", 1, 1)) for rig in ("one", "two"))
    assert events(here)[0]["UID"] == events(there)[0]["UID"]


def test_no_two_events_have_one_uid() -> None:
    alike = [due("2028-02-29"), due("2028-03-01"), due("2028-03-02", place=Place("b/yard.yaml", 1, 1))]
    assert len({str(event["UID"]) for event in events(*alike)}) == 3


def test_a_calendar_is_no_message_between_people() -> None:
    assert "METHOD" not in Calendar.from_ical(calendar(due("2028-02-29")))  # RFC 5546, 3.2.1: it would need ORGANIZER


def test_hostile_names_stay_text() -> None:
    name = "set\r\nEND:VEVENT\r\nBEGIN:VEVENT\u202e;,\\"
    found = events(due("2028-02-29", rig=name))
    assert len(found) == 1
    assert "\u202e" not in found[0]["SUMMARY"] and "END:VEVENT BEGIN:VEVENT[U+202E];,\\" in found[0]["SUMMARY"]
