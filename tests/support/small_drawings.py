"""Rigs to be drawn, written in a test, and what is found in a drawing of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from xml.etree import ElementTree

from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.pack import Pack
from support.small_sheets import DAY

Root = ElementTree.Element
SVG = "{http://www.w3.org/2000/svg}"

HOSE = "- hose: {colour: red, bore: 8 mm, length: 10 m}"


def inspected(text: str, pack: Pack) -> tuple[Rig, Inspection]:
    """Return the rig of a text and what its inspection found."""
    rig = load_rig(text.encode(), "small.yaml", pack.vocabulary)
    return rig, inspect_rig(rig, pack, day=DAY)


def line_text(gas: str, parts: Iterable[str], *, stands: str = "off-trolley", to: str = "") -> str:
    """Return one line of a rig file; each part is written as an entry of its list."""
    head = [f"  - gas: {gas}", *([f"    stands: {stands}"] if stands else []), *([f"    to: {to}"] if to else [])]
    return "\n".join([*head, "    parts:", *(f"      {row}" for part in parts for row in part.split("\n"))])


def rig_of(lines: Sequence[str], *, torches: Sequence[str] = ("",), trolley: str = "", name: str = "drawn") -> str:
    """Return a rig file of some lines; a torch without a name is written so."""
    foot = "".join(f"\n  - {{name: {torch}}}" if torch else "\n  - {}" for torch in torches)
    stood = f"trolley: {trolley}\n" if trolley else ""
    return f"rig: {name}\n{stood}lines:\n" + "\n".join(lines) + (f"\ntorch:{foot}\n" if torches else "\n")


def bank(cylinders: int) -> str:
    """Return a manifold with so many cylinders."""
    return "- manifold:\n    branches:" + "\n      - parts: [cylinder, pigtail, non_return_valve]" * cylinders


def header(torches: Iterable[str]) -> str:
    """Return a header with a branch of long, joined hoses to each torch."""
    branch = "parts: [arrester, {hose: {length: 60 m}}, joiner, {hose: {length: 60 m}}, coupler]"
    return "- header:\n    branches:" + "".join(f"\n      - {{to: {torch}, {branch}}}" for torch in torches)


def groups(root: Root) -> dict[str, Root]:
    """Return the elements of a drawing by their ids. Fails where an id is given twice."""
    found: dict[str, Root] = {}
    for one in root.iter():
        if "id" in one.attrib:
            assert one.attrib["id"] not in found, f"{one.attrib['id']} twice"
            found[one.attrib["id"]] = one
    return found


def group_of(root: Root, rig: Rig, thing: Thing) -> Root:
    """Return the group of a thing in a drawing."""
    return groups(root)[f"part-{[id(one) for one in rig.things].index(id(thing)) + 1}"]


def corners(group: Root) -> Iterator[tuple[float, float]]:
    """Yield the corners of the shapes of a group, pins in it left out."""
    pins = {inner for pin in group.iter() if pin is not group and pin.get("class") == "pin" for inner in pin.iter()}
    for one in (shape for shape in group.iter() if shape not in pins):
        tag = one.tag.split("}")[-1]
        if tag in ("polygon", "polyline"):
            yield from ((float(x), float(y)) for x, y in (pair.split(",") for pair in one.attrib["points"].split()))
        elif tag == "circle":
            yield float(one.attrib["cx"]), float(one.attrib["cy"])


def words_in(group: Root) -> str:
    """Return all words of a group."""
    return " ".join(one.text or "" for one in group.iter() if one.tag.split("}")[-1] == "text")
