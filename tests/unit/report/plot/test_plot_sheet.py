"""The plots: well-formed, escaped, drawn where a calculation by hand puts them, and nothing drawn over words."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest
from msgspec.structs import replace
from support.drawn_geometry import lines_through_words, outside, words_on_words
from support.in_full import sites_in_full
from support.sampling import sampled
from support.small_sheets import DAY, calculated, rig_text

from rigcheck.facts.witness import Witness
from rigcheck.quantity.interval import Interval, worked_out
from rigcheck.report.drawing.svg import document, words
from rigcheck.report.plot.axes import ticks
from rigcheck.report.plot.contents_plot import Run, contents_plot, run_of, run_words
from rigcheck.report.plot.plot import Plot
from rigcheck.report.plot.plot_figures import contents_plots, pressure_plots
from rigcheck.report.plot.plot_sheet import figures_plot
from rigcheck.report.plot.pressure_course import Course, Station, courses_of
from rigcheck.report.plot.pressure_plot import course_words, pressure_plot
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rig.loader import load_rig
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack
from rigcheck.tasks.calculation_sheet import Calculation, calculate_rig

CONFIGS = sorted(path for folder in (configs_folder() / "templates", sites_in_full()) for path in folder.glob("*.yaml"))
SVG = "{http://www.w3.org/2000/svg}"
LEFT, RIGHT = 40.0, 334.0  # of the frame, which is 294 wide

Corner = tuple[float, float]


def points(element: ElementTree.Element) -> list[Corner]:
    pairs = (pair.split(",") for pair in element.attrib["points"].split())
    return [(float(x), float(y)) for x, y in pairs]


def polylines(plot: Plot) -> list[list[Corner]]:
    return [points(one) for one in plot.shapes if one.tag == "polyline"]


def rows(plot: Plot) -> list[str]:
    return [one.text or "" for one in plot.shapes if one.tag == "text"]


def pressure(bar: float) -> Interval:
    return worked_out(bar * 1e5, bar * 1e5, "pressure")


# --- every template and every site ---


def config(path: Path, pack: Pack) -> Calculation:
    return calculate_rig(load_rig(path.read_bytes(), path.name, pack.vocabulary), pack, day=DAY)


@pytest.mark.parametrize("path", sampled(CONFIGS, 6, 0), ids=lambda path: path.stem)
def test_no_words_lie_on_words_and_no_line_runs_through_any(path: Path, pack: Pack) -> None:
    root = ElementTree.fromstring(figures_plot(config(path, pack)))
    assert words_on_words(root) == []
    assert lines_through_words(root) == []
    assert outside(root) == []


@pytest.mark.parametrize("path", sampled(CONFIGS, 6, 1), ids=lambda path: path.stem)
def test_what_arrives_on_the_plot_is_what_the_figure_says(path: Path, pack: Pack) -> None:
    calculation = config(path, pack)
    for line in calculation.rig.of_kind("line"):
        figure, courses = line.facts.get("torch_pressure"), courses_of(line, calculation.limits)
        arrives = [one.arrives for one in courses if one.arrives is not None]
        if isinstance(figure, Interval):
            assert len(arrives) == len(courses) > 0
            worst = min(arrives, key=lambda one: one.lo)
            assert (worst.lo, worst.hi) == (pytest.approx(figure.lo, rel=1e-9), pytest.approx(figure.hi, rel=1e-9))


@pytest.mark.parametrize("path", sampled(CONFIGS, 6, 2), ids=lambda path: path.stem)
def test_the_band_of_gas_ends_where_the_figure_says(path: Path, pack: Pack) -> None:
    for line in config(path, pack).rig.of_kind("line"):
        made = run_of(line)
        if made is not None and made.lasts.hi < 1e9:
            day = made.lasts.hi / 3600.0 * 1.5  # a day in which all of it is drawn
            ends = sorted({round(course[-1][0], 1) for course in polylines(contents_plot(made, day))})
            wanted = [LEFT + (RIGHT - LEFT) * end / 3600.0 / day for end in (made.lasts.lo, made.lasts.hi)]
            assert ends == pytest.approx(sorted({round(one, 1) for one in wanted}), abs=0.11)


# --- contents over the day ---


def run(pack: Pack, drawable: tuple[float, float], draw: float) -> Run:
    """Return a run of so many m3 at so many m3/h."""
    acetylene = next(calculated(rig_text(), pack).rig.of_kind("line"))
    seconds = tuple(end / draw * 3600.0 for end in drawable)
    return Run(
        line=acetylene,
        drawable=worked_out(*drawable, "volume"),
        draw=worked_out(draw / 3600.0, draw / 3600.0, "flow"),
        lasts=worked_out(*seconds, "time"),
        kept=0.0,
    )


def zero_line(plot: Plot) -> float:
    """Return how far down nothing is left: the upper edge of the strip."""
    strip = next(one for one in plot.shapes if one.get("fill") == "#e6e6e6")
    return min(y for _, y in points(strip))


def test_gas_that_runs_out_falls_to_nothing_at_its_hour(pack: Pack) -> None:
    # By hand: 10 m3 at 2 m3/h are gone after 5 h, five eighths of a day of 8 h: 40 + 294 x 5/8 = 223.75.
    plot = contents_plot(run(pack, (10.0, 10.0), 2.0), 8.0)
    start, end = polylines(plot)[0]
    assert start[0] == pytest.approx(LEFT)
    assert end == (pytest.approx(223.75), pytest.approx(zero_line(plot), abs=0.01))
    assert "gone after 5 h" in rows(plot)


def test_gas_that_lasts_the_day_ends_at_the_edge_with_what_is_left(pack: Pack) -> None:
    # By hand: 10 m3 less 8 h at 0.5 m3/h are 6 m3: six tenths of the way up from nothing.
    made = run(pack, (10.0, 10.0), 0.5)
    plot = contents_plot(made, 8.0)
    (start, end), zero = polylines(plot)[0], zero_line(plot)
    assert end[0] == pytest.approx(RIGHT)
    assert (zero - end[1]) / (zero - start[1]) == pytest.approx(0.6, abs=0.001)
    assert "after 8 h of work 6 m3 are left" in run_words(made, 8.0)
    assert not [one for one in rows(plot) if "gone" in one]


def test_a_range_is_drawn_as_a_whole_line_above_a_broken_one(pack: Pack) -> None:
    # By hand: 8 to 12 m3 at 2 m3/h are gone after 4 to 6 h: 40 + 36.75 x 4 = 187, 40 + 36.75 x 6 = 260.5.
    made = run(pack, (8.0, 12.0), 2.0)
    plot = contents_plot(made, 8.0)
    lines = {one.get("stroke-dasharray", "whole"): points(one)[-1][0] for one in plot.shapes if one.tag == "polyline"}
    assert lines == {"whole": pytest.approx(260.5), "6 4": pytest.approx(187.0)}
    bar = next(one for one in plot.shapes if one.get("stroke-width") == "4")
    assert [float(bar.attrib[name]) for name in ("x1", "x2")] == [pytest.approx(187.0), pytest.approx(260.5)]
    assert "it is gone after 4 to 6 h of work, the thick bar" in run_words(made, 8.0)


def test_gas_that_may_or_may_not_last_is_said_so(pack: Pack) -> None:
    assert "may be gone after 7 to 9 h" in run_words(run(pack, (14.0, 18.0), 2.0), 8.0)


def test_a_content_that_is_only_stated_or_that_is_disputed_looks_like_it(pack: Pack) -> None:
    made = run(pack, (8.0, 12.0), 2.0)
    looks = {}
    for sure in ("worked out", "stated", "disputed"):
        plot = contents_plot(replace(made, sureness=sure), 8.0)
        dots = {one.get("fill") for one in plot.shapes if one.tag == "circle"}
        looks[sure] = (*dots, polyline_dashes(plot)), plot.words
    assert len({look for look, _ in looks.values()}) == 3
    assert "only stated" in looks["stated"][1] and "do not agree" in looks["disputed"][1]
    stated = run_of(next(calculated(rig_text(content="2 m3"), pack).rig.of_kind("line")))
    assert stated is None or stated.sureness == "stated"


def polyline_dashes(plot: Plot) -> tuple[str | None, ...]:
    return tuple(one.get("stroke-dasharray") for one in plot.shapes if one.tag == "polyline")


def test_a_disputed_fact_of_a_line_makes_its_run_disputed(pack: Pack) -> None:
    line = next(
        config(sites_in_full() / "wharf-crane-rail.yaml", pack).rig.of_kind("line"),
    )
    assert run_of(line) is not None
    witness = Witness(worked_out(1.0, 1.0, "volume"), "written", (line, "supply_content"))
    line.disputes["content"] = (witness, witness)
    disputed = run_of(line)
    assert disputed is not None and disputed.sureness == "disputed"


# --- pressure along a line ---


def course(limit: float = 1.5, *, alike: tuple[str, ...] = (), split: bool = False) -> Course:
    return Course(
        line="acetylene line",
        torches=alike,
        supply="cylinder (14 bar)",
        stations=(
            Station("regulator", pressure(1.0), pressure(1.5), True, pressure(0.8), "disputed" if split else "stated"),
            Station("hose (20 m)", pressure(0.75), pressure(20.0)),
        ),
        limits=(("acetylene limit (uk)", pressure(limit)),),
        wanted=pressure(0.5),
    )


def test_the_curve_is_what_is_set_and_what_arrives_and_the_want_is_a_mark() -> None:
    # By hand: three slots of 98; set in the middle of the first, the hose fills the second, the torch is the third.
    # The scale runs from 0.5 to 1.5 bar with 0.22 bar of air at both ends: 1.44 bar on 150 units.
    plot = pressure_plot(course())

    def down(bar: float) -> float:
        return 40.0 + 150.0 * (1.72 - bar) / 1.44

    walk = [(LEFT + 49.0, 1.0), (LEFT + 98.0, 1.0), (LEFT + 196.0, 0.75), (LEFT + 245.0, 0.75)]
    assert polylines(plot) == [[pytest.approx((x, down(bar)), abs=0.02) for x, bar in walk]]
    marks = [one for one in plot.shapes if one.get("stroke-width") == "3.4"]
    assert [float(one.attrib["y1"]) for one in marks] == [pytest.approx(down(bar), abs=0.02) for bar in (0.8, 0.5)]
    assert {"set to 1 bar", "0.75 bar arrives", "0.5 bar wanted"} <= set(rows(plot))


def test_a_bound_near_the_pressures_is_drawn_and_a_far_one_is_only_told() -> None:
    def drawn(plot: Plot) -> bool:
        return any(one.get("stroke-dasharray") == "9 3 2 3" for one in plot.shapes)

    assert drawn(pressure_plot(course(1.45)))
    far = pressure_plot(course(9.0))
    assert not drawn(far)
    assert "acetylene limit (uk): 9 bar, above this plot" in rows(far)
    assert "Acetylene limit (uk): 9 bar." in far.words


def test_a_pressure_over_the_limit_is_seen_to_be_over_it() -> None:
    # The DANGER of the trade: acetylene above its limit. Nothing may lie over the words that say so.
    plot = pressure_plot(course(0.9))
    limit = next(one for one in plot.shapes if one.get("stroke-dasharray") == "9 3 2 3")
    assert min(y for _, y in polylines(plot)[0]) < float(limit.attrib["y1"])
    assert {"acetylene limit (uk): 0.9 bar", "set to 1 bar"} <= set(rows(plot))
    root = ElementTree.fromstring(plot.svg("p"))
    assert (words_on_words(root), lines_through_words(root)) == ([], [])


def test_part_names_stand_on_the_axis_and_ratings_in_the_words() -> None:
    plot = pressure_plot(course())
    named = [one.text for one in plot.shapes if "rotate" in one.get("transform", "")]
    assert named == ["regulator", "hose (20 m)", "torch"]
    assert "regulator 1.5 bar, hose (20 m) 20 bar" in course_words(course())


def test_torches_that_are_served_alike_are_told_once(pack: Pack) -> None:
    calculation = config(sites_in_full() / "boiler-house-heating.yaml", pack)
    line = next(calculation.rig.of_kind("line"))
    (made,) = courses_of(line, calculation.limits)
    assert len(made.torches) == len(line.facts["torch_end"]) == 3
    assert made.name == "acetylene line to 3 torches alike"
    assert all(torch in course_words(made) for torch in made.torches)


def test_two_statements_of_a_setting_that_do_not_agree_leave_an_open_mark() -> None:
    fills = {
        split: {one.get("fill") for one in pressure_plot(course(split=split)).shapes if one.tag == "circle"}
        for split in (False, True)
    }
    assert fills == {False: {"#111111"}, True: {"#ffffff"}}
    assert "do not agree" in course_words(course(split=True))


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


def test_a_line_is_known_as_far_as_its_parts_are(pack: Pack) -> None:
    # The arrester says no loss, so nothing is known behind it.
    (made,) = courses(LONG_HOSE, pack)
    known = {station.name: station.goes_out is not None for station in made.stations}
    assert known == {"regulator": True, "arrester": False, "hose (30 m)": False}
    assert not made.whole and made.arrives is None
    assert "What stands behind the arrester is not known" in course_words(made)
    told = words_of(page(LONG_HOSE, pack))
    assert "The oxygen line is not drawn all along. It lacks:" in told
    assert "rated drop of the oxygen arrester (" in told


def test_a_line_whose_parts_are_known_is_drawn_to_the_torch(pack: Pack) -> None:
    (made,) = courses(LONG_HOSE.replace("      - arrester: {}\n", ""), pack)
    regulator, hose = made.stations
    assert made.whole and regulator.sets and hose.goes_out is not None
    assert 0.0 < hose.goes_out.lo <= hose.goes_out.hi < 4e5
    assert polylines(pressure_plot(made))[0][-1][0] == pytest.approx(LEFT + 294.0 * 2.5 / 3, abs=0.01)


TWO_REGULATORS = LONG_HOSE.replace(
    "      - arrester: {}\n",
    "      - hose: {bore: 8 mm, length: 5 m, joiners: 0}\n      - regulator: {set_pressure: 3.6 bar}\n",
).replace("set_pressure: 4 bar", "set_pressure: 8 bar")


@pytest.mark.parametrize("setting", ["3.9 bar", "3.6 bar", "3.2 bar"])
def test_each_regulator_has_its_own_mark_where_it_stands(setting: str, pack: Pack) -> None:
    # By hand: five slots of 58.8 for regulator, hose, regulator, hose, torch; a mark in the middle of its slot.
    (made,) = courses(TWO_REGULATORS.replace("3.6 bar", setting), pack)
    plot = pressure_plot(made)
    marks = [(float(one.attrib["cx"]), float(one.attrib["cy"])) for one in plot.shapes if one.tag == "circle"]
    assert [x for x, _ in marks] == [pytest.approx(LEFT + 58.8 * n, abs=0.01) for n in (0.5, 2.5)]
    assert marks[0][1] < marks[1][1]
    assert {f"set to {setting}", "set to 8 bar"} <= set(rows(plot))
    root = ElementTree.fromstring(plot.svg("p"))
    assert (words_on_words(root), lines_through_words(root)) == ([], [])


# --- the whole page ---


def page(text: str, pack: Pack) -> ElementTree.Element:
    return ElementTree.fromstring(figures_plot(calculated(text, pack)))


def words_of(root: ElementTree.Element) -> str:
    return " ".join(one.text or "" for one in root.iter(f"{SVG}text"))


def test_a_plot_that_lacks_a_figure_says_which_fact_is_missing(pack: Pack) -> None:
    told = words_of(page(rig_text(cylinder=""), pack))
    assert "The acetylene line is not drawn. It lacks" in told
    assert "Is the cylinder empty?" in told


def test_the_page_carries_the_caution_and_a_title_and_description(pack: Pack) -> None:
    root = page(rig_text(), pack)
    assert CAUTION in words_of(root)
    assert root.findtext(f"{SVG}title") == "Figures of rig “small”"
    assert root.findtext(f"{SVG}desc")


HOSTILE = "\"</text><script>alert(1)</script><a href='javascript:x'>&amp;]]>\""


def test_a_hostile_name_stays_text(pack: Pack) -> None:
    root = page(rig_text(name=HOSTILE), pack)
    names = {one.tag.removeprefix(SVG) for one in root.iter()}
    assert names <= {"svg", "title", "desc", "style", "rect", "g", "text", "line", "polyline", "polygon", "circle"}
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


def test_the_page_on_paper_cuts_no_plot(pack: Pack) -> None:
    root = page(TWO_REGULATORS, pack)
    style = root.findtext(f"{SVG}style", "")
    assert "@media print" in style and style.count("translateY") >= 1
    assert not style.partition("@media print")[0].count("translateY"), "a screen sees no gap"
    made = calculated(TWO_REGULATORS, pack)
    assert len([*contents_plots(made), *pressure_plots(made)]) >= 2
