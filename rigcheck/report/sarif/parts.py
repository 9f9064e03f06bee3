"""Parts that everything in a SARIF log is made of: messages, and places under a base (SARIF 2.1.0, 3.4, 3.11, 3.14)."""

from __future__ import annotations

import json
import os
from dataclasses import dataclass
from pathlib import PurePath
from typing import Any
from urllib.parse import quote

from rigcheck.text.harmless import harmless, harmless_json
from rigcheck.text.place import Place

__all__ = ["Bases", "as_json", "message"]

_BRACES = str.maketrans({"{": "{{", "}": "}}"})


@dataclass(frozen=True, slots=True)
class Bases:
    """The folders that places are told from: where rigcheck runs, and where its rules are; both absolute."""

    root: str
    rules: str

    def declared(self) -> dict[str, Any]:
        """Return the folders as `originalUriBaseIds`: a server that lays the run elsewhere puts its own there."""
        return {name: {"uri": PurePath(folder).as_uri().removesuffix("/") + "/"} for name, folder in self._named()}

    def artifact(self, file: str) -> dict[str, str]:
        """Return where a file is: relative to a base where it lies under one, or else as a file URI."""
        path = os.path.normpath(os.path.join(self.root, file))
        for name, folder in self._named():
            above = folder.rstrip(os.sep) + os.sep
            if path.startswith(above):
                below = path[len(above) :].replace(os.sep, "/")
                return {"uri": quote(below, safe="/"), "uriBaseId": name}
        return {"uri": PurePath(path).as_uri()}

    def location(self, place: Place, thing: str = "", told: str = "") -> dict[str, Any]:
        """Return a place; `thing` is what stands there, `told` what is to be said of it."""
        region = {"startLine": place.line, "startColumn": place.column}
        found: dict[str, Any] = {"physicalLocation": {"artifactLocation": self.artifact(place.file), "region": region}}
        found |= {"logicalLocations": [{"fullyQualifiedName": harmless(thing)}]} if thing else {}
        return found | ({"message": message(told)} if told else {})

    def _named(self) -> tuple[tuple[str, str], ...]:
        """The rules come first: where they are installed below the root, they are still told from their own folder."""
        return ("RULES", self.rules), ("ROOT", self.root)


def message(text: str) -> dict[str, str]:
    """Return text as a message in which nothing is a placeholder (3.11.5) or an embedded link (3.11.6)."""
    return {"text": harmless(text).translate(_BRACES).replace("](", "] (")}


def as_json(content: Any) -> str:
    """Return content as JSON on one line."""
    return harmless_json(json.dumps(content, ensure_ascii=False, separators=(",", ":")))
