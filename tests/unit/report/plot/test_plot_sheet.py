"""The plots: well-formed, escaped, and drawn where a calculation by hand puts them."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from support.small_sheets import calculated, rig_text

from rigcheck.quantity.interval import Interval, worked_out
from rigcheck.report.drawing.svg import document, words
from rigcheck.report.plot.axes import Axes, ticks
from rigcheck.report.plot.contents_plot import Run, contents_panel, run_words
from rigcheck.report.plot.plot_sheet import figures_plot
from rigcheck.report.plot.pressure_course import Course, Station, courses_of
from rigcheck.report.plot.pressure_plot import course_words, pressure_panel
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rules.pack import Pack

SVG = "{http://www.w3.org/2000/svg}"
LEFT, RIGHT, TOP = 44.0, 444.0, 26.0  # of the frame, for a panel at 0, 0 that is 448 wide

Corner = tuple[float, float]


def points(element: ElementTree.Element) -> list[Corner]:
    pairs = (pair.split(",") for pair in element.attrib["points"].split())
    return [(float(x), float(y)) for x, y in pairs]


def polylines(panel: ElementTree.Element) -> list[list[Corner]]:
    return [points(one) for one in panel.iter("polyline")]


def pressure(bar: float) -> Interval:
    return worked_out(bar * 1e5, bar * 1e5, "pressure")


# --- contents over the day ---


def run(pack: Pack, usable: tuple[float, float], draw: float) -> Run:
    """Return a run of so many m3 at so many m3/h."""
    acetylene = next(calculated(rig_text(), pack).rig.of_kind("line"))
    seconds = tuple(end / draw * 3600.0 for end in usable)
    return Run(
        line=acetylene,
        usable=worked_out(*usable, "volume"),
        draw=worked_out(draw / 3600.0, draw / 3600.0, "flow"),
        lasts=worked_out(*seconds, "time"),
        reserve=0.0,
    )


def test_gas_that_runs_out_falls_to_the_reserve_at_its_hour(pack: Pack) -> None:
    # By hand: 10 m3 at 2 m3/h are gone after 5 h, five eighths of a day of 8 h: 44 + 400 x 5/8 = 294.
    panel, _ = contents_panel(run(pack, (10.0, 10.0), 2.0), 8.0, (0.0, 0.0), 448.0)
    (start, end), zero = polylines(panel)[0], base_line(panel)
    assert start[0] == pytest.approx(LEFT)
    assert end == (pytest.approx(294.0), pytest.approx(zero, abs=0.01))


def base_line(panel: ElementTree.Element) -> float:
    """Return how far down nothing is left: the dotted line."""
    dotted = [one for one in panel.iter("line") if one.get("stroke-dasharray") == "2 3"]
    return float(dotted[0].attrib["y1"])


def test_gas_that_lasts_the_day_ends_at_the_edge_with_what_is_left(pack: Pack) -> None:
    # By hand: 10 m3 less 8 h at 0.5 m3/h are 6 m3: six tenths of the way up from the reserve.
    panel, _ = contents_panel(run(pack, (10.0, 10.0), 0.5), 8.0, (0.0, 0.0), 448.0)
    (start, end), zero = polylines(panel)[0], base_line(panel)
    assert end[0] == pytest.approx(RIGHT)
    assert (zero - end[1]) / (zero - start[1]) == pytest.approx(0.6, abs=0.001)
    assert "after 8 h of work 6 m3 are left" in run_words(run(pack, (10.0, 10.0), 0.5), 8.0)


def test_a_range_is_drawn_as_a_whole_line_above_a_broken_one(pack: Pack) -> None:
    # By hand: 8 to 12 m3 at 2 m3/h are gone after 4 to 6 h: 44 + 50 x 4 = 244, 44 + 50 x 6 = 344.
    made = run(pack, (8.0, 12.0), 2.0)
    panel, _ = contents_panel(made, 8.0, (0.0, 0.0), 448.0)
    lines = {one.get("stroke-dasharray", "whole"): points(one)[-1][0] for one in panel.iter("polyline")}
    assert lines == {"whole": pytest.approx(344.0), "6 4": pytest.approx(244.0)}
    assert "reaches the reserve after 4 to 6 h of work" in run_words(made, 8.0)


def test_gas_that_may_or_may_not_last_is_said_so(pack: Pack) -> None:
    assert "may reach the reserve after 7 to 9 h" in run_words(run(pack, (14.0, 18.0), 2.0), 8.0)


# --- pressure along a line ---


def course(limit: float = 1.5) -> Course:
    return Course(
        name="acetylene line",
        supply="cylinder (14 bar)",
        stations=(
            Station("regulator", None, pressure(0.8), pressure(1.5), pressure(1.0)),
            Station("hose (20 m)", pressure(0.8), pressure(0.5), pressure(20.0)),
            Station("torch", pressure(0.5), None, None),
        ),
        limits=(("acetylene limit, local code uk", pressure(limit)),),
        arrives=pressure(0.75),
        wanted=pressure(0.5),
    )


def test_pressure_falls_along_a_hose_between_its_ends() -> None:
    # By hand: three slots of 400/3; the hose fills the second: from 177.33 to 310.67 across.
    panel, _ = pressure_panel(course(), (0.0, 0.0), 448.0)
    axes = Axes(LEFT, TOP, 400.0, 150.0, (0.0, 3.0), (0.0, 1.5 * 1.18))
    expected = [axes.point(x, p) for x, p in ((1.0, 0.8), (2.0, 0.5))]
    assert polylines(panel)[0] == [pytest.approx(one, abs=0.01) for one in expected]
    assert expected[0][0] == pytest.approx(177.33, abs=0.01)
    assert expected[0][1] == pytest.approx(TOP + 150.0 * (1 - 0.8 / 1.77), abs=0.01)


def test_a_limit_near_the_pressures_is_drawn_and_a_far_one_is_only_told() -> None:
    def drawn(made: Course) -> bool:
        panel, _ = pressure_panel(made, (0.0, 0.0), 448.0)
        return any(one.get("stroke-dasharray") == "9 3 2 3" for one in panel.iter("line"))

    assert drawn(course(1.5))
    assert not drawn(course(9.0))
    assert "Acetylene limit, local code uk: 9 bar." in course_words(course(9.0))


def test_ratings_above_the_plot_are_told_in_words() -> None:
    assert "1: 1.5 bar, 2: 20 bar" in course_words(course())


LONG_HOSE = """\
rig: long hose
job: {process: cutting}
site: {ambient_temperature: 15 degC}
lines:
  - gas: oxygen
    parts:
      - cylinder: {}
      - regulator: {set_pressure: 4 bar}
      - arrester: {}
      - hose: {bore: 8 mm, length: 30 m, joiners: 0}
torch:
  nozzle: {oxygen_pressure: 3.5 bar, fuel_flow: 0.5 m3/h, heating_oxygen_flow: 1 m3/h, cutting_oxygen_flow: 6 m3/h}
"""


def courses(text: str, pack: Pack) -> list[Course]:
    calculation = calculated(text, pack)
    return courses_of(next(calculation.rig.of_kind("line")), calculation.limits)


def test_a_line_is_known_as_far_up_as_its_parts_are(pack: Pack) -> None:
    # The hose is known; the arrester says no loss, so nothing is known before it.
    (made,) = courses(LONG_HOSE, pack)
    known = {station.name: station.comes_in is not None for station in made.stations}
    assert known == {"regulator": False, "arrester": False, "hose (30 m)": True, "torch": True}
    assert not made.whole
    assert "as far as it is known" in course_words(made)
    told = words_of(page(LONG_HOSE, pack))
    assert "The oxygen line is not drawn all along. It lacks:" in told
    assert "rated drop of the oxygen arrester (" in told


def test_a_line_whose_parts_are_known_is_drawn_from_the_regulator_on(pack: Pack) -> None:
    (made,) = courses(LONG_HOSE.replace("      - arrester: {}\n", ""), pack)
    regulator, hose, torch = made.stations
    assert made.whole and regulator.goes_out is not None and hose.comes_in is not None
    assert regulator.goes_out.lo == pytest.approx(hose.comes_in.lo)
    assert torch.comes_in == hose.goes_out
    panel, _ = pressure_panel(made, (0.0, 0.0), 448.0)
    assert polylines(panel)[0][-1][0] == pytest.approx(LEFT + 400.0 * 2 / 3, abs=0.01)


TWO_REGULATORS = LONG_HOSE.replace(
    "      - arrester: {}\n",
    "      - hose: {bore: 8 mm, length: 5 m, joiners: 0}\n      - regulator: {set_pressure: 3.6 bar}\n",
).replace("set_pressure: 4 bar", "set_pressure: 8 bar")


def test_each_regulator_has_its_own_mark_where_it_stands(pack: Pack) -> None:
    # By hand: five slots of 80 for regulator, hose, regulator, hose, torch.
    (made,) = courses(TWO_REGULATORS, pack)
    assert [(number, setting.text) for number, setting in made.settings] == [(0, "8 bar"), (2, "3.6 bar")]
    panel, _ = pressure_panel(made, (0.0, 0.0), 448.0)
    dotted = [one for one in panel.iter("line") if one.get("stroke-dasharray") == "2 2.5"]
    starts = [float(one.attrib["x1"]) for one in dotted]
    assert starts[:2] == [pytest.approx(LEFT), pytest.approx(LEFT + 160.0)]
    assert float(dotted[0].attrib["y1"]) < float(dotted[1].attrib["y1"])
    assert "Regulator 1 (part 1) is set to 8 bar, regulator 2 (part 3) to 3.6 bar" in course_words(made)
    assert "the first regulator must give" in course_words(made)


@pytest.mark.parametrize(("setting", "over"), [("3.9 bar", True), ("3.2 bar", False)])
def test_a_second_regulator_has_its_word_clear_of_the_line_that_runs_through_it(
    setting: str, over: bool, pack: Pack
) -> None:
    (made,) = courses(TWO_REGULATORS.replace("3.6 bar", setting), pack)
    panel, _ = pressure_panel(made, (0.0, 0.0), 448.0)
    second = [one for one in panel.iter("line") if one.get("stroke-dasharray") == "2 2.5"][1]
    word = [one for one in panel.iter("text") if one.text == "set"][1]
    assert made.stations[2].goes_out is not None
    assert (made.stations[2].goes_out.hi <= made.settings[1][1].hi) is over
    assert (float(word.attrib["y"]) < float(second.attrib["y1"])) is over


# --- the whole page ---


def page(text: str, pack: Pack) -> ElementTree.Element:
    return ElementTree.fromstring(figures_plot(calculated(text, pack)))


def words_of(root: ElementTree.Element) -> str:
    return " ".join(one.text or "" for one in root.iter(f"{SVG}text"))


def test_a_plot_that_lacks_a_figure_says_which_fact_is_missing(pack: Pack) -> None:
    told = words_of(page(rig_text(cylinder=""), pack))
    assert "The acetylene line is not drawn. It lacks" in told
    assert "What mass of gas is in the cylinder?" in told


def test_the_page_carries_the_caution_and_a_title_and_description(pack: Pack) -> None:
    root = page(rig_text(), pack)
    assert CAUTION in words_of(root)
    assert root.findtext(f"{SVG}title") == "Figures of rig “small”"
    assert root.findtext(f"{SVG}desc")


HOSTILE = "\"</text><script>alert(1)</script><a href='javascript:x'>&amp;]]>\""


def test_a_hostile_name_stays_text(pack: Pack) -> None:
    root = page(rig_text(name=HOSTILE), pack)
    names = {one.tag.removeprefix(SVG) for one in root.iter()}
    assert names <= {"svg", "title", "desc", "style", "rect", "g", "text", "line", "polyline", "polygon"}
    assert "<script>alert(1)</script>" in (root.findtext(f"{SVG}title") or "")


def test_control_characters_and_marks_of_direction_do_not_reach_a_drawing() -> None:
    # XML 1.0, section 2.2: control characters but tab and line ends are no characters of a document.
    made = document("form", (10.0, 10.0), "a\x07b", "c\u202ed", [words((0.0, 0.0), "e\x00f\u2066g")])
    told = [one.text for one in ElementTree.fromstring(made).iter() if one.tag.endswith(("title", "desc", "text"))]
    assert told == ["a[U+0007]b", "c[U+202E]d", "e[U+0000]f[U+2066]g"]


def test_nothing_is_fetched_and_nothing_runs(pack: Pack) -> None:
    attributes = {name for one in page(rig_text(), pack).iter() for name in one.attrib}
    assert not {name for name in attributes if "href" in name or name.startswith("on")}


@pytest.mark.parametrize(
    ("low", "high", "most", "found"),
    [
        (0.0, 8.0, 8, [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0]),
        (0.0, 1.77, 5, [0.0, 0.5, 1.0, 1.5]),
        (0.0, 0.013, 5, [0.0, 0.005, 0.01]),
    ],
)
def test_ticks_stand_at_round_numbers(low: float, high: float, most: int, found: list[float]) -> None:
    assert ticks(low, high, most) == pytest.approx(found)
