"""Every public function and number of physics is called by the product: what only tests reach is dead weight."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import rigcheck

_ROOT = Path(rigcheck.__file__).parent
_PHYSICS = _ROOT / "physics"


def _names(node: ast.AST) -> set[str]:
    names = {one.id for one in ast.walk(node) if isinstance(one, ast.Name)}
    return names | {one.attr for one in ast.walk(node) if isinstance(one, ast.Attribute)}


def _imported(tree: ast.AST) -> Iterator[str]:
    modules = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("rigcheck.physics"):
            yield from (one.name for one in node.names)
            modules |= {one.asname or one.name for one in node.names}
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id in modules:
            yield node.attr


def _defined(path: Path) -> Iterator[tuple[str, set[str]]]:
    """Yield each thing that a module of physics defines, with the names that it uses."""
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, (ast.FunctionDef, ast.ClassDef)):
            yield node.name, _names(node) - {node.name}
        elif isinstance(node, (ast.Assign, ast.AnnAssign)):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            for target in targets:
                yield from ((name, _names(node) - {name}) for name in _names(target) if name != "__all__")


def unreached() -> list[str]:
    defined = [(path.stem, name, uses) for path in sorted(_PHYSICS.glob("*.py")) for name, uses in _defined(path)]
    reached: set[str] = set()
    for path in _ROOT.rglob("*.py"):
        if _PHYSICS not in path.parents:
            reached.update(_imported(ast.parse(path.read_text(encoding="utf-8"))))
    while more := {use for _, name, uses in defined if name in reached for use in uses} - reached:
        reached |= more
    return [f"{stem}.{name}" for stem, name, _ in defined if not name.startswith("_") and name not in reached]


def test_every_public_function_of_physics_is_called_by_the_product() -> None:
    assert unreached() == []
