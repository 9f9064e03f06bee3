"""The order of every procedure that ships, for every rig that ships, against a general graph library.

The order is worked out here anew from the YAML of the procedures: a graph of the steps for the things of a rig,
with a stand-in for each step that the rig does not have. Records made from it are judged by rigcheck.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from graphlib import TopologicalSorter
from pathlib import Path
from typing import Any

import networkx as nx
import pytest
import yaml
from msgspec.structs import replace
from support.procedure_tools import entry, expanded, judged, record_text

from rigcheck.judge.inspection import Inspection
from rigcheck.procedure.expansion import Expansion, Instance
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.folders import configs_folder, rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack

_PROCEDURES = sorted(path.stem for path in (rules_folder() / "procedures").glob("*.yaml"))
_RIGS = sorted((configs_folder() / "templates").glob("*.yaml"))
_SHUFFLES = 2
_MOST_PAIRS = 8  # swapped in a record of one rig and procedure, drawn at random where there are more

each_procedure = pytest.mark.parametrize("procedure", _PROCEDURES)
each_share = pytest.mark.parametrize("one_in", [4, pytest.param(1, marks=pytest.mark.whole)])


@cache
def _pack() -> Pack:
    """The rules that ship, without those that judge a rig: here only the order is looked at."""
    pack = load_pack(rules_folder())
    return replace(pack, rules={name: replace(rule, under=("nowhere",)) for name, rule in pack.rules.items()})


@dataclass(frozen=True)
class Setup:
    """One procedure for one rig, with its order as the graph library has it."""

    rig: Rig
    expansion: Expansion
    order: Any

    @property
    def pairs(self) -> list[tuple[int, int]]:
        """Return the pairs of which the first comes before the second."""
        return sorted(self.order.edges)

    def record(self, numbers: list[int]) -> str:
        """Return a record with the steps in an order, without values."""
        by_number = {one.number: one for one in self.expansion.instances}
        return record_text(self.expansion.procedure.name, (entry(by_number[n]) for n in numbers))

    def judged(self, numbers: list[int]) -> Inspection:
        """Return what comes of a record with the steps in an order."""
        return judged(_pack(), self.rig, self.record(numbers))


def _some(procedure: str, one_in: int = 4) -> list[Setup]:
    """Return every fourth rig, with another beginning for each procedure: all rigs are met by some of them."""
    return [_setup(procedure, path) for path in _RIGS[_PROCEDURES.index(procedure) % one_in :: one_in]]


@cache
def _setup(procedure: str, path: Path) -> Setup:
    rig = load_rig(path.read_bytes(), "rig.yaml", _pack().vocabulary)
    code = rig.root.facts.get("local_code") or "general"
    expansion = expanded(_pack(), rig, procedure, str(code))
    return Setup(rig, expansion, _order(procedure, expansion))


# --- the order, anew ---


def _order(procedure: str, expansion: Expansion) -> Any:
    """Return the closure of the order as a graph over the numbers of the steps."""
    written = yaml.safe_load((rules_folder() / "procedures" / f"{procedure}.yaml").read_text(encoding="utf-8"))
    lines = list(expansion.rig.root.facts["lines"])
    nodes: dict[str, list[tuple[Any, set[int] | None]]] = {}
    for one in expansion.instances:
        nodes.setdefault(one.step.name, []).append((one.number, _lines(one.thing)))
    for step in written["steps"]:
        if step["step"] not in nodes:  # a stand-in that waits for all, and one for each line
            stands = [((step["step"], None), None), *(((step["step"], id(li)), {id(li)}) for li in lines)]
            nodes[step["step"]] = stands
    graph = nx.DiGraph()
    graph.add_nodes_from(node for stands in nodes.values() for node, _ in stands)
    for step in written["steps"]:
        graph.add_edges_from(_edges(step, nodes))
    closed = nx.transitive_closure_dag(graph)
    return closed.subgraph([one.number for one in expansion.instances]).copy()


def _edges(step: dict[str, Any], nodes: dict[str, list[tuple[Any, set[int] | None]]]) -> Iterator[tuple[Any, Any]]:
    for node, lines in nodes[step["step"]]:
        on_one_line = _stands_in(node) and node[1] is not None
        for key in ("after", "after_on_line"):
            for name in step.get(key, ()):
                for first, others in nodes[name]:
                    if _waits(first, others, node, lines, whole=key == "after" and not on_one_line):
                        yield first, node


def _waits(first: Any, others: set[int] | None, node: Any, lines: set[int] | None, *, whole: bool) -> bool:
    """Return whether a node waits for another; a stand-in for all waits for all, and hands on only to what does."""
    if whole or (_stands_in(node) and node[1] is None):
        return not _stands_in(first) or first[1] is None
    stands_for_all = _stands_in(first) and first[1] is None
    return not stands_for_all and (others is None or lines is None or bool(others & lines))


def _stands_in(node: Any) -> bool:
    return isinstance(node, tuple)


def _lines(thing: Thing | None) -> set[int] | None:
    """Return the lines of a thing: its own, those of the torch that it is part of, or None for the whole rig."""
    if thing is None or thing.kind.name == "rig":
        return None
    if isinstance(thing.facts.get("line"), Thing):
        return {id(thing.facts["line"])}
    return {id(line) for line in thing.facts["lines"]} if thing.kind.name == "torch" else _lines(thing.parent)


# --- what is tried ---


@each_share
@each_procedure
def test_the_order_is_that_of_the_graph_library(procedure: str, one_in: int) -> None:
    for setup in _some(procedure, one_in):
        mine = {(first, later) for later, before in setup.expansion.before.items() for first in before}
        assert mine == set(setup.pairs), setup.rig.name


@each_procedure
def test_a_record_in_any_topological_order_is_accepted(procedure: str) -> None:
    dice = random.Random(procedure)
    for setup in _some(procedure):
        for _ in range(_SHUFFLES):
            found = setup.judged(_shuffled(setup, dice))
            assert found.findings == (), setup.rig.name


def _shuffled(setup: Setup, dice: random.Random) -> list[int]:
    """Return a topological order drawn at random."""
    sorter = TopologicalSorter({n: list(setup.order.predecessors(n)) for n in setup.order.nodes})
    sorter.prepare()
    order: list[int] = []
    ready = list(sorter.get_ready())
    while ready:
        order.append(ready.pop(dice.randrange(len(ready))))
        sorter.done(order[-1])
        ready += sorter.get_ready()
    return order


@each_procedure
def test_two_steps_that_the_order_relates_are_found_when_they_are_swapped(procedure: str) -> None:
    dice, tried = random.Random(procedure), 0
    for setup in _some(procedure):
        good = list(nx.lexicographical_topological_sort(setup.order))
        pairs = setup.pairs if len(setup.pairs) <= _MOST_PAIRS else dice.sample(setup.pairs, _MOST_PAIRS)
        for first, later in pairs:
            swapped = [{first: later, later: first}.get(number, number) for number in good]
            orders = _orders(setup.judged(swapped))
            assert orders, (setup.rig.name, first, later)
            tried += 1
    assert tried or not any(setup.pairs for setup in _some(procedure))


def _orders(inspection: Inspection) -> list[str]:
    return [found.value for one in inspection.findings for found in one.found if found.fact == "order"]


@each_procedure
def test_every_required_step_is_missed_when_it_is_left_out(procedure: str) -> None:
    dice = random.Random(procedure)
    for setup in _some(procedure):
        good = list(nx.lexicographical_topological_sort(setup.order))
        of_step = [setup.expansion.of_step(name) for name in setup.expansion.procedure.steps]
        for one in (dice.choice(instances) for instances in of_step if instances):
            found = setup.judged([number for number in good if number != one.number]).findings
            missed = [f.value for finding in found for f in finding.found if f.fact == "not in the record"]
            assert missed == ([one.label] if one.required else []), (setup.rig.name, one.label)


@each_share
@each_procedure
def test_every_step_stands_once_in_the_record_that_the_graph_allows(procedure: str, one_in: int) -> None:
    for setup in _some(procedure, one_in):
        numbers = sorted(one.number for one in setup.expansion.instances)
        assert numbers == [*range(1, len(numbers) + 1)]
        assert all(first < later for first, later in setup.pairs)  # the sheet itself is in order
        labels = [one.label for one in setup.expansion.instances]
        assert len(set(labels)) == len(labels)


# --- the leak test covers the rig ---


@pytest.mark.parametrize("path", _RIGS, ids=lambda path: path.stem)
def test_the_leak_test_tries_every_joint_exactly_once(path: Path) -> None:
    setup = _setup("leak-test", path)
    tried = [_ends(one) for one in setup.expansion.instances if one.thing and "joint" in one.thing.kind.lineage]
    assert sorted(tried) == sorted(_walked(yaml.compose(path.read_text(encoding="utf-8"))))


def _ends(instance: Instance) -> tuple[tuple[int, int], tuple[int, int]]:
    assert instance.thing is not None
    up, down = (instance.thing.facts[key] for key in ("upstream", "downstream"))
    return (up.line, up.column), (down.line, down.column)


_Joint = tuple[tuple[int, int], tuple[int, int]]


def _walked(root: Any) -> list[_Joint]:
    """Return every joint of a rig as the places of its two neighbours, walked from the drawing alone."""
    top = _pairs(root)
    torches = top["torch"].value if isinstance(top.get("torch"), yaml.SequenceNode) else [top["torch"]]
    named = {_pairs(torch)["name"].value: torch for torch in torches if "name" in _pairs(torch)}
    found: list[_Joint] = []

    def run(items: list[Any], start: Any, to: Any) -> list[Any]:
        """Walk one run of parts; return its open ends."""
        before, ends = start, []
        for item in items:
            key, body = _part(item)
            if key == "joint":
                continue
            branches = _pairs(body).get("branches") if isinstance(body, yaml.MappingNode) else None
            if before is not None:
                found.append((_at(before), _at(body)))
            for branch in branches.value if branches is not None else ():
                inner = _pairs(branch)["parts"].value
                if key == "manifold":
                    found.extend((_at(end), _at(body)) for end in run(inner, None, None))
                else:
                    ends += finish(run(inner, body, None), _pairs(branch).get("to"))
            before = None if key == "header" and branches is not None else body
        return ends + ([before] if before is not None else [])

    def finish(open_ends: list[Any], to: Any) -> list[Any]:
        for end in open_ends:
            found.append((_at(end), _at(named[to.value] if to is not None else torches[0])))
        return []

    for line in top["lines"].value:
        finish(run(_pairs(line)["parts"].value, None, None), _pairs(line).get("to"))
    return found


def _pairs(node: Any) -> dict[str, Any]:
    return {key.value: value for key, value in node.value} if isinstance(node, yaml.MappingNode) else {}


def _part(item: Any) -> tuple[str, Any]:
    if isinstance(item, yaml.ScalarNode):
        return item.value, item
    ((key, body),) = item.value
    return key.value, body


def _at(node: Any) -> tuple[int, int]:
    return node.start_mark.line + 1, node.start_mark.column + 1
