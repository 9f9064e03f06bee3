"""The drawing of a rig: whole, without overlaps, true to what is stated, and harmless."""

from __future__ import annotations

import re
from collections import Counter
from itertools import combinations, pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest
from msgspec.structs import replace
from reportlab.pdfbase.pdfmetrics import stringWidth
from support.in_full import sites_in_full
from support.sampling import sampled
from support.small_drawings import (
    HOSE,
    SVG,
    Root,
    bank,
    corners,
    group_of,
    groups,
    header,
    inspected,
    line_text,
    rig_of,
    words_in,
)
from support.small_sheets import DAY

from rigcheck.cli.site_input import read_rig
from rigcheck.judge.finding import Conceded
from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.report.drawing.canvas import PAGE
from rigcheck.report.drawing.drawing import Drawing, drawing_document, drawing_element, lay_drawing
from rigcheck.report.drawing.gas_colours import PAINTS, iso_colour
from rigcheck.report.drawing.label import Box
from rigcheck.report.drawing.letter_widths import text_width
from rigcheck.report.drawing.word_rows import fitted_rows
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack
from rigcheck.text.place import Place

CONFIGS = sorted([*(configs_folder() / "templates").glob("*.yaml"), *sites_in_full().glob("*.yaml")])
DRAWN_KINDS = {"part", "joint", "gauge", "nozzle", "control valve", "trolley", "line", "hose pair"}
TORCHES = ("a", "b", "c", "d")


def config(path: Path, pack: Pack) -> tuple[Rig, Inspection]:
    rig = load_rig(path.read_bytes(), path.name, pack.vocabulary)
    return rig, inspect_rig(rig, pack, day=DAY)


def parsed(rig: Rig, inspection: Inspection) -> Root:
    return ElementTree.fromstring(drawing_document(rig, inspection))


def banked(cylinders: int, torches: int, stands: str = "off-trolley") -> str:
    supply = bank(cylinders) if cylinders > 1 else "- cylinder"
    parts = [supply, "- regulator", "- arrester", HOSE, header(TORCHES[:torches])]
    lines = [line_text(gas, parts, stands=stands) for gas in ("acetylene", "oxygen")]
    return rig_of(lines, torches=TORCHES[:torches])


# --- every thing once, every finding once ---


def drawn_things(rig: Rig) -> list[Thing]:
    return [thing for thing in rig.things if DRAWN_KINDS & set(thing.kind.lineage)]


def assert_whole(rig: Rig, inspection: Inspection) -> None:
    """Each thing that belongs in the drawing has one group, each finding one pin, in the group of its thing."""
    root = parsed(rig, inspection)
    found = groups(root)
    labels = {f"part-{n}": thing.label for n, thing in enumerate(rig.things, start=1)}
    drawn = {id(thing) for thing in drawn_things(rig)}
    for number, thing in enumerate(rig.things, start=1):
        if id(thing) in drawn:
            title = found[f"part-{number}"].findtext(f"{SVG}title", "")
            assert title.startswith(thing.label.split("“")[0].strip())
    above = {child: parent for parent in root.iter() for child in parent}
    numbers = range(1, len(inspection.findings) + 1)
    assert {name for name in found if name.startswith("pin-")} == {f"pin-{n}" for n in numbers}
    for number, finding in zip(numbers, inspection.findings, strict=True):
        pin, told = found[f"pin-{number}"], words_in(above[found[f"finding-{number}"]])
        assert labels[above[pin].attrib["id"]] == finding.thing
        assert pin.attrib["href"] == f"#finding-{number}"
        assert f"{finding.signal.upper()}:" in told and finding.thing.replace(" ", "") in told.replace(" ", "")
        assert finding.claim in told


def assert_tidy(drawn: Drawing) -> None:
    """No two labels share a place, and all lie within the drawing."""
    assert [pair for pair in combinations(drawn.boxes, 2) if pair[0].meets(pair[1])] == []
    assert all(box.left >= 0 and box.left + box.width <= drawn.width for box in drawn.boxes)
    assert all(box.top >= 0 and box.top + box.height <= drawn.height for box in drawn.boxes)


@pytest.mark.parametrize("path", sampled(CONFIGS, 6, 0), ids=lambda path: path.stem)
def test_every_part_and_every_finding_of_a_config_stands_once(path: Path, pack: Pack) -> None:
    assert_whole(*config(path, pack))


@pytest.mark.parametrize("path", sampled(CONFIGS, 6, 1), ids=lambda path: path.stem)
@pytest.mark.parametrize("paged", [False, True])
def test_no_two_labels_of_a_config_overlap(path: Path, paged: bool, pack: Pack) -> None:
    assert_tidy(lay_drawing(*config(path, pack), paged=paged))


@pytest.mark.parametrize("torches", range(1, 5))
@pytest.mark.parametrize("cylinders", range(1, 7))
def test_any_bank_with_any_number_of_torches_is_whole_and_tidy(cylinders: int, torches: int, pack: Pack) -> None:
    rig, inspection = inspected(banked(cylinders, torches), pack)
    assert_whole(rig, inspection)
    assert_tidy(lay_drawing(rig, inspection))


ODD = {
    "no oxygen line": rig_of([line_text("propane", ["- cylinder", "- regulator", HOSE])]),
    "no torch": rig_of([line_text("oxygen", ["- cylinder", HOSE])], torches=()),
    "only cylinders": rig_of([line_text("acetylene", ["- cylinder"]), line_text("oxygen", ["- cylinder"])]),
    "wall points": rig_of([line_text("natural-gas", ["- outlet_point", "- joint: {}", HOSE])]),
    "two trolleys": rig_of([line_text("oxygen", ["- cylinder"], stands="left")], trolley="[{}, {tilt: 4 deg}]"),
    "four lines": rig_of(
        [line_text(gas, ["- cylinder", HOSE], to=to) for to in "ab" for gas in ("oxygen", "hydrogen")], torches="ab"
    ),
    "branches out of order": rig_of(
        [line_text(gas, ["- cylinder", header(order)]) for gas, order in (("oxygen", "abcd"), ("acetylene", "dbca"))],
        torches=TORCHES,
    ),
    "built into a regulator": rig_of(
        [line_text("oxygen", ["- cylinder", "- regulator: {built_in_arrester: {direction: against-flow}}"])],
        torches=["a, control_valve: [{}, {}, {}, {}], nozzle: [{}, {}]"],
    ),
    "no gauges": rig_of([line_text("oxygen", ["- cylinder", "- regulator: {inlet_gauge: none, outlet_gauge: none}"])]),
}


@pytest.mark.parametrize("text", ODD.values(), ids=list(ODD))
def test_a_rig_of_another_shape_is_whole_and_tidy(text: str, pack: Pack) -> None:
    rig, inspection = inspected(text, pack)
    assert_whole(rig, inspection)
    assert_tidy(lay_drawing(rig, inspection))


def test_arresters_built_into_a_torch_are_drawn_in_it(pack: Pack) -> None:
    lines = [line_text(gas, ["- cylinder"]) for gas in ("acetylene", "oxygen")]
    rig = load_rig(rig_of(lines, torches=["a, built_in_arrester: [{}, {}]"]).encode(), "small.yaml", pack.vocabulary)
    plain = inspected(rig_of(lines, torches="a"), pack)[1]
    root = parsed(rig, replace(plain, findings=()))
    body = [x for x, _ in corners(group_of(root, rig, next(rig.of_kind("torch"))))]
    blocks = [[x for x, _ in corners(group_of(root, rig, one))] for one in rig.of_kind("arrester")]
    assert len(blocks) == 2
    assert all(min(body) < min(block) < max(block) < max(body) for block in blocks)


@pytest.mark.parametrize("path", sampled(CONFIGS, 6, 1), ids=lambda path: path.stem)
def test_every_row_of_words_lies_in_the_box_of_a_label(path: Path, pack: Pack) -> None:
    drawn = lay_drawing(*config(path, pack))
    root = element_of(drawn)
    for one in root.iter("text"):
        if "transform" in one.attrib or (one.get("text-anchor") == "middle" and (one.text or "").isdigit()):
            continue  # the gas up a cylinder, the number in a pin
        x, y, width = float(one.attrib["x"]), float(one.attrib["y"]), helvetica(one)
        start = x - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[one.attrib["text-anchor"]]
        inside = [
            box
            for box in drawn.boxes
            if box.left - 0.1 <= start and start + width <= box.left + box.width + 0.1
            if box.top <= y <= box.top + box.height
        ]
        assert len(inside) == 1, one.text


@pytest.mark.parametrize("path", sampled(CONFIGS, 6, 2), ids=lambda path: path.stem)
def test_every_pin_lies_in_the_box_of_a_label(path: Path, pack: Pack) -> None:
    rig, inspection = config(path, pack)
    drawn = lay_drawing(rig, inspection)
    pins = [one for one in element_of(drawn).iter("a") if one.get("class") == "pin"]
    assert len(pins) == len(inspection.findings)
    for pin in pins:
        ends = [(x, y) for x, y in corners(pin)]
        around = [box for box in drawn.boxes if all(holds(box, one) for one in ends)]
        assert len(around) == 1, pin.attrib["id"]


def holds(box: Box, at: tuple[float, float]) -> bool:
    across = box.left - 0.1 <= at[0] <= box.left + box.width + 0.1
    return across and box.top <= at[1] <= box.top + box.height


def element_of(drawn: Drawing) -> Root:
    root = ElementTree.Element("svg")
    root.extend(drawn.elements)
    return root


def helvetica(row: Root) -> float:
    """Return the width of a row by the font metrics that Adobe published of Helvetica (in reportlab)."""
    face = "Helvetica-Bold" if row.get("font-weight") else "Helvetica"
    return float(stringWidth(row.text or "", face, float(row.attrib["font-size"]))) * 0.995  # ± is narrower in Arial


# --- true to what is stated ---


@pytest.mark.parametrize(("left", "right"), [("acetylene", "oxygen"), ("oxygen", "acetylene")])
def test_cylinders_stand_on_the_stated_sides(left: str, right: str, pack: Pack) -> None:
    lines = [line_text(right, ["- cylinder"], stands="right"), line_text(left, ["- cylinder"], stands="left")]
    rig, inspection = inspected(rig_of(lines, trolley="{tilt: 0 deg}"), pack)
    root = parsed(rig, inspection)
    middle = across(root, rig, next(rig.of_kind("trolley")))
    at = {str(one.facts["line"].facts["gas"]): across(root, rig, one) for one in rig.of_kind("cylinder")}
    assert at[left] < middle < at[right]
    ends = {str(one.facts["gas"]): across(root, rig, one, words=True) for one in rig.of_kind("line")}
    assert ends[left] < ends[right]


def across(root: Root, rig: Rig, thing: Thing, *, words: bool = False) -> float:
    group = group_of(root, rig, thing)
    found = [float(one.attrib["x"]) for one in group.iter(f"{SVG}text")] if words else [x for x, _ in corners(group)]
    return sum(found) / len(found)


def test_cylinders_off_the_trolley_stand_beside_it(pack: Pack) -> None:
    lines = [line_text("acetylene", ["- cylinder"]), line_text("oxygen", ["- cylinder"], stands="right")]
    rig, inspection = inspected(rig_of(lines, trolley="{}"), pack)
    root = parsed(rig, inspection)
    trolley = [x for x, _ in corners(group_of(root, rig, next(rig.of_kind("trolley"))))]
    acetylene, oxygen = (across(root, rig, one) for one in rig.of_kind("cylinder"))
    assert acetylene < min(trolley) < oxygen < max(trolley)


def turns(root: Root) -> set[float]:
    found = (re.match(r"rotate\(([\d.]+)", one.get("transform", "")) for one in root.iter(f"{SVG}g"))
    return {float(one[1]) for one in found if one}


@pytest.mark.parametrize(
    ("trolley", "turned", "told"),
    [
        ("{tilt: 6 ± 1 deg}", {6.0}, "leans 6 ± 1 deg from vertical"),
        ("{tilt: 0 deg}", {0.0}, "leans 0 deg from vertical"),
        ("{}", {0.0}, "lean not stated; drawn upright"),
        ("{tilt: 60 deg}", {25.0}, "drawn less steep than it stands"),
    ],
)
def test_the_trolley_leans_as_stated(trolley: str, turned: set[float], told: str, pack: Pack) -> None:
    lines = [line_text("acetylene", ["- cylinder"], stands="left"), line_text("oxygen", ["- cylinder"], stands="right")]
    root = parsed(*inspected(rig_of(lines, trolley=trolley), pack))
    assert turns(root) == turned
    assert told in words_in(root)


def test_a_rig_without_a_trolley_says_so(pack: Pack) -> None:
    root = parsed(*inspected(rig_of([line_text("oxygen", ["- cylinder"])]), pack))
    assert "No trolley is described." in words_in(root)


@pytest.mark.parametrize("path", sampled(CONFIGS, 6, 3), ids=lambda path: path.stem)
def test_parts_follow_each_other_downwards_in_the_order_of_flow(path: Path, pack: Pack) -> None:
    rig, inspection = config(path, pack)
    root = ElementTree.fromstring(drawing_document(rig, inspection))
    found, number = groups(root), {id(thing): n for n, thing in enumerate(rig.things, start=1)}
    joints = [joint for joint in rig.of_kind("joint") if joint.facts["upstream"].kind.name != "cylinder"]
    assert joints
    for joint in joints:
        ends = (found[f"part-{number[id(joint.facts[end])]}"] for end in ("upstream", "downstream"))
        upper, lower = (sum(ys) / len(ys) for ys in ([y for _, y in corners(one)] for one in ends))
        assert upper < lower, joint.label


def test_a_hose_is_drawn_in_its_stated_colour_with_its_bore_and_length(pack: Pack) -> None:
    hose = "- hose: {colour: blue, bore: 10 mm, length: 40 m}"
    rig, inspection = inspected(rig_of([line_text("acetylene", ["- cylinder", hose])]), pack)
    group = group_of(parsed(rig, inspection), rig, next(rig.of_kind("hose")))
    assert PAINTS["blue"] in {one.get("stroke") for one in group.iter()}
    assert "blue, bore 10 mm, 40 m long" in words_in(group)


def test_a_hose_of_which_nothing_is_known_says_so(pack: Pack) -> None:
    rig, inspection = inspected(rig_of([line_text("acetylene", ["- cylinder", "- hose"])]), pack)
    told = words_in(group_of(parsed(rig, inspection), rig, next(rig.of_kind("hose"))))
    assert all(f"{what} not stated" in told for what in ("colour", "bore", "length"))


@pytest.mark.parametrize(
    ("gas", "colour"),
    [("acetylene", "red"), ("oxygen", "blue"), ("propane", "orange"), ("natural-gas", "orange"), ("argon", "black")],
)
def test_hose_colours_are_those_of_the_standard(gas: str, colour: str, pack: Pack) -> None:
    # ISO 3821, from memory: acetylene red, oxygen blue, LPG and natural gas orange, air and inert gases black.
    assert iso_colour(gas) == colour
    root = parsed(*inspected(rig_of([line_text(gas, ["- cylinder"])]), pack))
    assert f"{gas}: hoses {colour} by ISO 3821" in words_in(root)


def test_gases_differ_by_stroke_so_that_no_colour_is_needed(pack: Pack) -> None:
    lines = [line_text(gas, ["- cylinder", "- hose"]) for gas in ("oxygen", "acetylene", "propane")]
    root = parsed(*inspected(rig_of(lines), pack))
    pipes = [one for one in root.iter(f"{SVG}polyline") if one.get("stroke") == "#444444"]
    assert len({one.get("stroke-dasharray") for one in pipes}) == 3


def test_signal_words_differ_by_shape_so_that_no_colour_is_needed(pack: Pack) -> None:
    rig, inspection = config(sites_in_full() / "boiler-house-heating.yaml", pack)
    found, shapes = groups(parsed(rig, inspection)), {}
    for number, finding in enumerate(inspection.findings, start=1):
        pin = found[f"pin-{number}"]
        points = list(corners(pin))
        left, top = min(x for x, _ in points), min(y for _, y in points)
        shapes.setdefault(finding.signal, []).append(
            len(points) * 100 + round(points[0][1] - top + points[0][0] - left)
        )
    assert len(shapes) == 4
    assert len({one for found in shapes.values() for one in found}) == 4


@pytest.mark.parametrize(("direction", "down"), [("with-flow", True), ("against-flow", False)])
def test_the_arrow_of_an_arrester_points_as_stated(direction: str, down: bool, pack: Pack) -> None:
    parts = ["- cylinder", f"- arrester: {{direction: {direction}}}"]
    rig, inspection = inspected(rig_of([line_text("oxygen", parts)]), pack)
    group = group_of(parsed(rig, inspection), rig, next(rig.of_kind("arrester")))
    tip, _, barb = list(corners(group))[-1], *list(corners(group))[-3:-1]
    assert (tip[1] > barb[1]) is down


def test_a_conceded_finding_is_still_pinned_and_marked_as_conceded(pack: Pack) -> None:
    rig, inspection = inspected(rig_of([line_text("oxygen", ["- cylinder", "- hose: {cover: cut}"])]), pack)
    leave = Conceded("new hose ordered", "site foreman", DAY, Place("small.yaml", 1, 1))
    changed = tuple(replace(one, conceded=leave) for one in inspection.findings)
    before, after = (groups(parsed(rig, replace(inspection, findings=f))) for f in (inspection.findings, changed))
    assert "Conceded: new hose ordered; leave given by site foreman" in words_in(after["finding-1"])
    assert "Conceded" not in words_in(before["finding-1"])
    assert ", conceded," in after["pin-1"].attrib["aria-label"]
    edges = [one["pin-1"].find(f"{SVG}polygon").attrib["stroke-dasharray"] for one in (before, after)]
    assert edges == ["none", "3 2"]


def test_a_finding_of_one_of_two_lines_called_alike_is_pinned_to_that_line(pack: Pack) -> None:
    bad, good = "- hose: {cover: cut}", "- hose: {cover: sound}"
    for order in ((bad, good), (good, bad)):
        lines = [line_text("oxygen", ["- cylinder", hose], to=to) for hose, to in zip(order, "ab", strict=True)]
        rig, inspection = inspected(rig_of(lines, torches="ab"), pack)
        number = next(n for n, one in enumerate(inspection.findings, start=1) if one.found[0].fact == "cover")
        root = parsed(rig, inspection)
        meant = next(one for one in rig.of_kind("hose") if "cut" in one.facts["cover"])
        assert group_of(root, rig, meant).find(f"{SVG}a[@id='pin-{number}']") is not None


# --- the page ---


def test_the_drawing_has_a_title_a_description_and_the_caution(pack: Pack) -> None:
    lines = [line_text("acetylene", ["- cylinder", "- regulator", HOSE], stands="left")]
    root = parsed(*inspected(rig_of(lines, trolley="{tilt: 3 deg}"), pack))
    assert root.findtext(f"{SVG}title") == "Drawing of rig “drawn”"
    told = root.findtext(f"{SVG}desc", "")
    assert "Trolley: leans 3 deg from vertical" in told
    assert "in order of flow: cylinder, regulator (" in told
    assert "hose (red, bore 8 mm, 10 m long), to torch." in told
    assert {root.attrib["aria-labelledby"], root.attrib["aria-describedby"]} <= set(groups(root))
    assert CAUTION in words_in(root)


def test_it_scales_and_its_view_is_its_size(pack: Pack) -> None:
    root = parsed(*inspected(banked(2, 2), pack))
    assert root.attrib["viewBox"] == f"0 0 {root.attrib['width']} {root.attrib['height']}"


@pytest.mark.parametrize("path", sampled(CONFIGS, 6, 0), ids=lambda path: path.stem)
def test_no_page_of_paper_cuts_a_row(path: Path, pack: Pack) -> None:
    drawn = lay_drawing(*config(path, pack), paged=True)
    page = drawn.width * PAGE
    assert [box for box in drawn.boxes if box.top // page != (box.top + box.height) // page] == []


def test_a_screen_sees_no_gap_where_a_page_of_paper_ends(pack: Pack) -> None:
    rig, inspection = config(sites_in_full() / "van-pipe-repair.yaml", pack)
    drawn = lay_drawing(rig, inspection, "on hold")
    assert drawn.height > 2 * drawn.width * PAGE
    ends = [(block.top, block.top + block.height) for block in drawn.blocks]
    assert all(0 <= after[0] - before[1] <= 6 for before, after in pairwise(ends))
    moved = re.findall(r"#([a-z0-9-]+) \{ transform", parsed(rig, inspection).findtext(f"{SVG}style", ""))
    assert len(moved) > 9 and set(moved) <= set(groups(parsed(rig, inspection)))


# --- what it shows of the state, and of what is missing or not as it should be ---


def test_the_state_stands_above_the_picture_with_its_counts(pack: Pack) -> None:
    rig, inspection = inspected(rig_of([line_text("oxygen", ["- cylinder: {secured: none}"])]), pack)
    root = ElementTree.fromstring(drawing_document(rig, inspection, inspection.state("warning")))
    (state,) = (one for one in root.iter(f"{SVG}g") if one.get("class") == "state")
    counts = Counter(one.signal for one in inspection.findings)
    assert words_in(state).startswith(f"On hold. {counts['danger']} DANGER")
    assert not any(one.get("class") == "state" for one in parsed(rig, inspection).iter(f"{SVG}g"))


def test_a_missing_part_is_an_empty_place_in_its_line_with_the_number_of_its_finding(pack: Pack) -> None:
    rig, inspection = config(sites_in_full() / "slipway-ballast-tank.yaml", pack)
    number = 1 + [one.rule for one in inspection.findings].index("arresters/arrester_at_every_torch_inlet")
    (gap,) = (one for one in parsed(rig, inspection).iter(f"{SVG}g") if one.get("class") == "gap")
    assert words_in(gap) == f"no arrester (finding {number})"
    assert gap.find(f"{SVG}polygon").get("stroke-dasharray")


def test_no_place_is_left_empty_where_nothing_is_missing(pack: Pack) -> None:
    for path in CONFIGS:
        rig, inspection = config(path, pack)
        wanting = any(one.sort == "neighbour" and one.bound for each in inspection.findings for one in each.found)
        if not wanting:
            assert not [one for one in parsed(rig, inspection).iter(f"{SVG}g") if one.get("class") == "gap"]


@pytest.mark.parametrize(
    ("facts", "turned", "told"),
    [
        ("upright: true", None, ""),
        ("upright: true, lean: 4 deg", None, ""),
        ("upright: false, lean: 35 deg", 35, "not upright, leans 35 deg"),
        ("upright: false, lean: 90 deg", 90, "not upright, leans 90 deg"),
        ("upright: false", 25, "not upright"),
    ],
)
def test_a_cylinder_that_is_not_upright_leans_or_lies(facts: str, turned: int | None, told: str, pack: Pack) -> None:
    rig, inspection = inspected(rig_of([line_text("oxygen", [f"- cylinder: {{{facts}}}"], stands="off-trolley")]), pack)
    group = group_of(parsed(rig, inspection), rig, next(rig.of_kind("cylinder")))
    leans = [one.get("transform") for one in group.iter(f"{SVG}g") if one.get("transform")]
    assert [abs(round(float(one.split("(")[1].split(" ")[0]))) for one in leans] == ([turned] if turned else [])
    assert told in words_in(group)


def test_a_cylinder_of_liquefied_gas_is_squat_and_one_that_nothing_holds_has_no_bar(pack: Pack) -> None:
    cylinder = "- cylinder: {water_capacity: 50 L, secured: chain}"
    loose = "- cylinder: {water_capacity: 50 L, secured: none}"
    lines = [line_text("oxygen", [cylinder]), line_text("propane", [loose], stands="right")]
    rig, inspection = inspected(rig_of(lines), pack)
    root = parsed(rig, inspection)
    tall, squat = (group_of(root, rig, one) for one in rig.of_kind("cylinder"))
    shapes = []
    for group in (tall, squat):
        xs, ys = zip(*corners(group), strict=True)
        shapes.append((max(ys) - min(ys)) / (max(xs) - min(xs)))
    assert shapes[0] > 1.5 * shapes[1]
    assert [len(list(group.iter(f"{SVG}line"))) for group in (tall, squat)] == [1, 0]
    assert "NOT SECURED" in words_in(squat) and "NOT SECURED" not in words_in(tall)


def test_findings_that_read_the_same_are_told_once_with_all_their_numbers(pack: Pack) -> None:
    lines = [line_text(gas, ["- cylinder: {secured: none}"]) for gas in ("acetylene", "oxygen")]
    rig, inspection = inspected(rig_of(lines), pack)
    twins = [n for n, one in enumerate(inspection.findings, start=1) if one.rule == "cylinders/cylinder_is_secured"]
    assert len(twins) == 2
    told = groups(parsed(rig, inspection))[f"told-{twins[0]}"]
    assert "acetylene cylinder; oxygen cylinder" in words_in(told)
    assert {one.get("id") for one in told.iter(f"{SVG}g")} >= {f"finding-{n}" for n in twins}


def test_what_only_a_standard_rig_says_is_drawn_lighter(pack: Pack) -> None:
    path = configs_folder() / "harbour" / "plate-shop-2.yaml"
    rig = read_rig(path.read_bytes(), str(path), pack)
    root = parsed(rig, inspect_rig(rig, pack, day=DAY))
    lighter: dict[bool, list[bool]] = {False: [], True: []}
    for one in (*rig.of_kind("hose"), *rig.of_kind("cylinder")):
        lighter[bool(one.file)].append(group_of(root, rig, one).find(f"{SVG}g") is not None)
    assert lighter[True] and all(lighter[True])
    assert lighter[False] and not any(lighter[False])


def test_an_element_for_a_page_has_pins_but_neither_texts_nor_style(pack: Pack) -> None:
    rig, inspection = config(sites_in_full() / "plate-shop-cutting.yaml", pack)
    root = ElementTree.fromstring(drawing_element(rig, inspection))
    found = groups(root)
    assert {f"pin-{n}" for n in range(1, len(inspection.findings) + 1)} <= set(found)
    assert not [name for name in found if name.startswith("finding-")]
    assert not list(root.iter("style"))
    assert "viewBox" in root.attrib and "width" not in root.attrib


HOSTILE = "\"</text><script>alert(1)</script><a href='javascript:x'>&amp;]]>" + "W" * 90 + ' 漢字漢字"'


def hostile_rig() -> str:
    parts = [f"- {kind}: {{name: {HOSTILE}}}" for kind in ("cylinder", "regulator", "hose", "joiner", "coupler")]
    lines = [line_text(gas, parts) for gas in ("acetylene", "oxygen")]
    return rig_of(lines, torches=[HOSTILE], trolley=f"{{name: {HOSTILE}, tilt: 30 deg}}", name=HOSTILE)


def test_hostile_names_stay_text_and_stay_in_their_labels(pack: Pack) -> None:
    rig, inspection = inspected(hostile_rig(), pack)
    root = parsed(rig, inspection)
    tags = {one.tag.removeprefix(SVG) for one in root.iter()}
    assert tags <= set("svg title desc style rect g a text line polyline polygon circle".split())
    assert "<script>alert(1)</script>" in (root.findtext(f"{SVG}title") or "")
    assert_tidy(lay_drawing(rig, inspection))


def test_control_characters_and_marks_of_direction_do_not_reach_a_drawing(pack: Pack) -> None:
    # XML 1.0, section 2.2: control characters but tab and line ends are no characters of a document.
    rig, _ = inspected(rig_of([line_text("oxygen", ["- cylinder"])]), pack)
    for thing in rig.things:
        thing.facts = {**thing.facts, "name": "a\x07b\u202ec\x00\u2066"}
    text = drawing_document(rig, inspect_rig(rig, pack, day=DAY))
    assert (
        ElementTree.fromstring(text).findtext(f"{SVG}title") == "Drawing of rig “a[U+0007]b[U+202E]c[U+0000][U+2066]”"
    )
    assert not set("\x07\x00\u202e\u2066") & set(text)


@pytest.mark.parametrize("path", sampled(CONFIGS, 6, 1), ids=lambda path: path.stem)
def test_nothing_is_fetched_and_nothing_runs(path: Path, pack: Pack) -> None:
    root = parsed(*config(path, pack))
    found = groups(root)
    for one in root.iter():
        assert not [name for name in one.attrib if name.startswith("on")]
        assert "href" not in one.attrib or one.attrib["href"].removeprefix("#") in found


# --- rows of words ---


@pytest.mark.parametrize(("text", "thousandths"), [("hose", 2168), ("WWW", 2832), ("illi", 888), ("10 mm", 3056)])
def test_a_row_is_reckoned_no_narrower_than_helvetica_sets_it(text: str, thousandths: int) -> None:
    # Adobe font metrics of Helvetica: h, o, e, digits 556, s 500, i, l 222, W 944, m 833, space 278.
    assert text_width(text, 10.0) == pytest.approx(thousandths / 100, rel=0.002)


def test_no_row_ends_between_a_number_and_its_unit_while_both_have_room() -> None:
    said = "colour not stated, bore 5 mm, 60 m long, no arrester (finding 8)"
    for width in range(60, 300, 5):
        rows = fitted_rows(said, float(width), 10.0)
        assert " ".join(rows) == said
        assert not any(row.endswith((" 5", " 60", "(finding")) for row in rows)
    assert fitted_rows("60 m", 12.0, 10.0) == ["60", "m"]


def test_words_too_long_for_a_row_are_broken_and_rows_too_many_are_cut() -> None:
    rows = fitted_rows("short " + "W" * 40, 60.0, 10.0)
    assert all(text_width(row, 10.0) <= 60.0 for row in rows)
    assert "".join(rows) == "short" + "W" * 40
    cut = fitted_rows("one two three four five six", 30.0, 10.0, most=2)
    assert len(cut) == 2 and cut[-1].endswith("…")
