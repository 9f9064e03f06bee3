"""Imports go one way, from the command line down to places and truth values."""

from __future__ import annotations

import ast
import re
from graphlib import TopologicalSorter
from pathlib import Path

import rigcheck

_PACKAGE = Path(rigcheck.__file__).parent

_MAP = (_PACKAGE.parent / "DEVELOPERS.md").read_text(encoding="utf-8")
_ROW = re.compile(r"^\| (\d+) \| `(\w+)` \|", re.MULTILINE)

# The table in DEVELOPERS.md: each layer may import from those before it, and a room from itself.
_LEVEL = {room: int(layer) for layer, room in _ROW.findall(_MAP)} | {"__init__": 99, "__main__": 99}


def _module_name(path: Path) -> str:
    parts = path.relative_to(_PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _own_imports(name: str) -> set[str]:
    """Every module of the package that a module imports, also inside its functions."""
    found: set[str] = set()
    for node in ast.walk(_TREES[name]):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, f"{name}: relative import"
            below = {f"{node.module}.{alias.name}" for alias in node.names}
            found |= {one for one in below if one in _FILES} or {str(node.module)}
    return {one for one in found if one.split(".")[0] == "rigcheck"}


_FILES = {_module_name(path): path for path in sorted(_PACKAGE.rglob("*.py")) if "shipped" not in path.parts}
_TREES = {name: ast.parse(path.read_text(encoding="utf-8")) for name, path in _FILES.items()}
_GRAPH = {name: _own_imports(name) for name in _FILES}


def _top(module: str) -> str:
    """The part of the package that a module belongs to."""
    return [*module.split("."), "__init__"][1]


def test_the_map_names_every_room_and_no_other() -> None:
    assert {_top(module) for module in _GRAPH} == set(_LEVEL)


def test_every_module_that_the_map_names_is_there() -> None:
    named = set(re.findall(r"`((?:[a-z_]+/)*[a-z_]+\.py)`", _MAP))
    places = (_PACKAGE.parent, _PACKAGE, _PACKAGE.parent / "tests")
    assert len(named) > 20
    assert {name for name in named if not any((place / name).is_file() for place in places)} == set()


def test_a_module_imports_only_from_layers_below_or_from_its_own_package() -> None:
    wrong = {
        (module, one)
        for module, imported in _GRAPH.items()
        for one in imported
        if _top(one) != _top(module) and _LEVEL[_top(one)] >= _LEVEL[_top(module)]
    }
    assert not wrong


def test_no_modules_import_each_other_in_a_circle() -> None:
    order = list(TopologicalSorter(_GRAPH).static_order())
    assert order.index("rigcheck.text.place") < order.index("rigcheck.cli.main")


def test_the_graph_that_is_tested_is_not_empty() -> None:
    assert "rigcheck.text.faults" in _GRAPH["rigcheck.text.yamlfile"]
    assert "rigcheck.cli.arguments" in _GRAPH["rigcheck.cli.main"]


def test_a_public_module_says_what_it_is_and_what_it_offers() -> None:
    public = {name: tree for name, tree in _TREES.items() if _FILES[name].name not in ("__init__.py", "__main__.py")}
    assert [name for name, tree in public.items() if not ast.get_docstring(tree)] == []
    assert [name for name, tree in public.items() if not _is_private(name) and "__all__" not in _assigned(tree)] == []


def test_every_public_function_and_class_of_a_module_has_a_docstring() -> None:
    every = [(name, node) for name, tree in _TREES.items() for node in _public(tree)]
    assert [f"{name}: {node.name}" for name, node in every if not ast.get_docstring(node)] == []


def _is_private(module: str) -> bool:
    return module.split(".")[-1].startswith("_")


def _assigned(tree: ast.Module) -> list[str]:
    return [t.id for n in tree.body if isinstance(n, ast.Assign) for t in n.targets if isinstance(t, ast.Name)]


def _public(tree: ast.Module) -> list[ast.FunctionDef | ast.ClassDef]:
    found = [n for n in tree.body if isinstance(n, ast.FunctionDef | ast.ClassDef)]
    return [node for node in found if not node.name.startswith("_")]
