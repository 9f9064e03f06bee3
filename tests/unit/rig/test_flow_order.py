"""The things of a rig in the order of the flow."""

from __future__ import annotations

from rigcheck.rig.flow_order import in_flow, lines_of
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack

_TEXT = b"""\
rig: Two torches on one header
lines:
  - gas: acetylene
    parts:
      - cylinder
      - regulator: {inlet_gauge: {}, outlet_gauge: {}}
      - header:
          branches:
            - {parts: [hose], to: north}
            - {parts: [hose], to: south}
torch: [{name: north}, {name: south}]
trolley: {}
"""


def test_parts_joints_and_what_is_built_in_follow_the_gas(pack: Pack) -> None:
    rig = load_rig(_TEXT, "rig.yaml", pack.vocabulary)
    labels = [thing.label for thing in in_flow(rig)]
    assert labels[:13] == [
        "acetylene line",
        "acetylene cylinder",
        "acetylene joint, cylinder to regulator",
        "acetylene regulator",
        "acetylene regulator, inlet gauge",
        "acetylene regulator, outlet gauge",
        "acetylene joint, regulator to header",
        "acetylene header",
        "acetylene joint, header to hose 1",
        "acetylene joint, header to hose 2",
        "acetylene hose 1",
        "acetylene joint, hose 1 to torch 1",
        "acetylene hose 2",
    ]
    assert labels.index("torch 1 “north”") < labels.index("trolley") < labels.index("rig")


def test_every_thing_comes_once_and_the_rig_last(pack: Pack) -> None:
    rig = load_rig(_TEXT, "rig.yaml", pack.vocabulary)
    order = in_flow(rig)
    assert sorted(map(id, order)) == sorted(map(id, rig.things))
    assert order[-1] is rig.root


def test_a_thing_belongs_to_its_line_or_to_those_of_its_torch_or_to_the_whole_rig(pack: Pack) -> None:
    rig = load_rig(_TEXT, "rig.yaml", pack.vocabulary)
    line = frozenset([next(rig.of_kind("line"))])
    kinds = {thing.kind.name: lines_of(thing) for thing in rig.things}
    assert {kinds[name] for name in ("line", "hose", "hose end", "gauge", "torch", "nozzle", "control valve")} == {line}
    assert (kinds["trolley"], kinds["site"], lines_of(None)) == (None, None, None)
