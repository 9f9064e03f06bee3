"""YAML as editors read it, by the core schema of YAML 1.2 (10.3.2): without dates, with few words for true."""

from __future__ import annotations

import re
from typing import Any, ClassVar

import yaml

__all__ = ["as_an_editor_reads"]

_CORE = {
    "bool": "true|True|TRUE|false|False|FALSE",
    "int": "[-+]?[0-9]+",
    "float": r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?",
    "null": "~|null|Null|NULL|",
}


class _Editor(yaml.SafeLoader):
    """Reads as editors do, by the core schema of YAML 1.2 (10.3.2): without dates, with few words for true."""

    yaml_implicit_resolvers: ClassVar[dict[str, Any]] = {}


for _tag, _form in _CORE.items():
    _Editor.add_implicit_resolver(f"tag:yaml.org,2002:{_tag}", re.compile(f"(?:{_form})\\Z"), None)


def as_an_editor_reads(text: str | bytes) -> Any:
    """Return the content of a YAML text."""
    return yaml.load(text, _Editor)
