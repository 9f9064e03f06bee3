"""The hook that other repositories name runs `rigcheck inspect` on their rigs, and on nothing else."""

from __future__ import annotations

import re
import shlex
from pathlib import Path
from typing import Any

import pytest
import yaml

from rigcheck.cli.arguments import build_parser

_ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def hook() -> dict[str, Any]:
    """The only hook of the manifest."""
    (hook,) = yaml.safe_load((_ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8"))
    return dict(hook)


def test_the_entry_of_the_hook_is_a_command_that_takes_files(hook: dict[str, Any]) -> None:
    program, *given = shlex.split(hook["entry"])
    assert (program, hook["language"], hook["id"]) == ("rigcheck", "python", "rigcheck")
    parsed = build_parser().parse_args([*given, "rigs/a.yaml", "rigs/b.yml"])
    assert (parsed.command, parsed.paths) == ("inspect", ["rigs/a.yaml", "rigs/b.yml"])


@pytest.mark.parametrize("name", ["rigs/a.yaml", "rigs/yard/b.yml", "site/rigs/c.yaml"])
def test_the_hook_looks_at_the_yaml_files_of_a_folder_of_rigs(name: str, hook: dict[str, Any]) -> None:
    assert re.search(hook["files"], name)


@pytest.mark.parametrize("name", ["a.yaml", "rigs/a.yaml.txt", "rigs/.yaml", "old-rigs/a.yaml", "rigs.yaml"])
def test_the_hook_leaves_other_files_alone(name: str, hook: dict[str, Any]) -> None:
    assert not re.search(hook["files"], name)


def test_the_readme_names_the_hook_and_the_forms_that_a_step_takes(hook: dict[str, Any]) -> None:
    readme = (_ROOT / "README.md").read_text(encoding="utf-8")
    assert f"- id: {hook['id']}\n" in readme
    assert "--format sarif --output" in readme
