"""Each public function of physics is held against at least two things outside the project, that know nothing of each
other: a published table or example, a general library, another method.

The tests say so themselves (`@pytest.mark.outside("module.function", ..., by="what")`); nothing is listed here but what
needs no such check, and why. Two marks that begin with the same words, up to the first comma, are one thing.
"""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

import yaml

import rigcheck

_PHYSICS = Path(rigcheck.__file__).parent / "physics"
_OUTSIDE = Path(__file__).parents[1] / "outside"

_NOT_PHYSICS = {
    "intervals": "arithmetic of ranges, no physics: tests/laws/test_interval_rigs.py tries it with random rigs",
    "validity": "comparisons with the ends of a range",
}
_FIGURES = Path(rigcheck.__file__).parents[1] / "rules" / "figures"
_NEEDS_NONE = {
    "contents.content_by_weight": "one subtraction",
    "nozzle.read_tables": "reads a file; what stands in it is held by every row that is looked up",
    "welding_air.hood_step": "looks up a row of a law; the rows are held to the law by the handbook's values",
    "welding_air.read_hood_steps": "reads a file; what stands in it is held by the rows of the law",
}


class Check(NamedTuple):
    """One mark: where it stands, the functions that it speaks for, and what they are held against."""

    test: str
    functions: tuple[str, ...]
    by: str


@cache
def _trees(folder: Path) -> dict[str, ast.Module]:
    return {path.stem: ast.parse(path.read_text(encoding="utf-8")) for path in sorted(folder.glob("*.py"))}


def _functions(tree: ast.Module) -> Iterator[ast.FunctionDef]:
    yield from (node for node in tree.body if isinstance(node, ast.FunctionDef))


def _public() -> set[str]:
    """Return `module.function` for each public function of physics."""
    return {
        f"{module}.{function.name}"
        for module, tree in _trees(_PHYSICS).items()
        if module not in _NOT_PHYSICS
        for function in _functions(tree)
        if not function.name.startswith("_")
    }


def _marks(function: ast.FunctionDef, module: str) -> Iterator[Check]:
    for call in function.decorator_list:
        if isinstance(call, ast.Call) and ast.unparse(call.func) == "pytest.mark.outside":
            names = [node.value for one in call.args for node in ast.walk(one) if isinstance(node, ast.Constant)]
            by = next(word.value for word in call.keywords if word.arg == "by")
            assert isinstance(by, ast.Constant)
            yield Check(f"{module}.{function.name}", tuple(map(str, names)), str(by.value))


def _checks() -> list[Check]:
    return [
        check
        for module, tree in _trees(_OUTSIDE).items()
        for function in _functions(tree)
        for check in _marks(function, module)
    ]


def _imported(tree: ast.Module) -> dict[str, str]:
    """Return what a name at the top of a module stands for, of physics: `module` or `module.function`."""
    found = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("rigcheck.physics"):
            inside = (node.module or "").removeprefix("rigcheck.physics").removeprefix(".")
            found |= {one.asname or one.name: ".".join(filter(None, [inside, one.name])) for one in node.names}
    return found


def _named(node: ast.AST, imported: dict[str, str], own: dict[str, str]) -> set[str]:
    """Return what a function calls by name: of physics, and of its own module by `own`."""
    spelt = [ast.unparse(one) for one in ast.walk(node) if isinstance(one, (ast.Name, ast.Attribute))]
    heads = [(imported.get(name.split(".")[0], ""), name.partition(".")[2]) for name in spelt]
    return {".".join(filter(None, pair)) for pair in heads if pair[0]} | {own[name] for name in spelt if name in own}


def _calls(folder: Path) -> dict[str, set[str]]:
    """Return for each function at the top of a folder's modules what it names, a step far."""
    calls = {}
    for module, tree in _trees(folder).items():
        own = {node.name: f"{module}.{node.name}" for node in _functions(tree)}
        own |= {  # a table of functions by name, as the handbooks' tests have
            target.id: f"{module}.{target.id}"
            for node in tree.body
            if isinstance(node, (ast.Assign, ast.AnnAssign))
            for target in (node.targets if isinstance(node, ast.Assign) else [node.target])
            if isinstance(target, ast.Name)
        }
        for node in tree.body:
            names = [node.name] if isinstance(node, ast.FunctionDef) else []
            if isinstance(node, (ast.Assign, ast.AnnAssign)) and node.value is not None:
                targets = node.targets if isinstance(node, ast.Assign) else [node.target]
                names = [target.id for target in targets if isinstance(target, ast.Name)]
            for name in names:
                calls[f"{module}.{name}"] = _named(node, _imported(tree), own) - {f"{module}.{name}"}
    return calls


def _reached(start: str, calls: dict[str, set[str]]) -> set[str]:
    reached, found = {start}, [start]
    while found:
        more = calls.get(found.pop(), set()) - reached
        reached |= more
        found += more
    return reached


def test_every_function_of_physics_is_held_against_two_things_outside() -> None:
    held: dict[str, set[str]] = defaultdict(set)
    for check in _checks():
        for function in check.functions:
            held[function].add(check.by.split(",")[0])
    assert {name: sorted(held[name]) for name in _public() - set(_NEEDS_NONE) if len(held[name]) < 2} == {}


def test_what_needs_no_check_is_still_there_and_has_none() -> None:
    assert set(_NEEDS_NONE) <= _public()
    assert set(_NOT_PHYSICS) <= set(_trees(_PHYSICS))
    assert set(_NEEDS_NONE) & {name for check in _checks() for name in check.functions} == set()


def test_a_mark_names_functions_that_its_test_comes_to() -> None:
    physics, tests = _calls(_PHYSICS), _calls(_OUTSIDE)
    for check in _checks():
        reached = _reached(check.test, {**tests, **physics})
        assert set(check.functions) <= _public() & reached, check


def test_a_mark_on_what_serves_rows_names_the_source_of_a_row_that_can_fail() -> None:
    rows = yaml.safe_load((_OUTSIDE / "data" / "handbook.yaml").read_text(encoding="utf-8"))
    sources = [row["source"] for row in rows if row["gate"]]
    calls = _calls(_OUTSIDE)
    for check in _checks():
        module, _, name = check.test.partition(".")
        if not name.startswith("test_"):
            assert any(check.by in source for source in sources), check
            assert check.test in _reached(f"{module}.FIGURES", calls), check


def test_every_written_formula_has_two_cases_that_give_it_different_numbers() -> None:
    few = []
    for path in sorted(_FIGURES.glob("*.yaml")):
        for way in yaml.safe_load(path.read_text(encoding="utf-8"))["ways"]:
            read = [letter for letter, path_of in way.get("letters", {}).items() if _is_path(str(path_of))]
            given = {tuple(str(case.get(letter)) for letter in read) for case in way.get("proven_by", ())}
            if read and "formula" in way and len(given) < 2:
                few.append(f"{path.stem}: {way['formula']}")
    assert few == []


def _is_path(text: str) -> bool:
    """Whether a letter is a fact or a limit, and no constant or range that the figure states itself."""
    return text[:1].isalpha()
