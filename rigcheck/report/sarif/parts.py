"""Parts that everything in a SARIF log is made of: messages, and places under a base (SARIF 2.1.0, 3.4, 3.11, 3.14)."""

from __future__ import annotations

import json
import os
import re
from collections.abc import Callable
from pathlib import PurePath
from typing import Any
from urllib.parse import quote

from msgspec import Struct

from rigcheck.rules.folders import SHIPPED_RULES
from rigcheck.text.harmless import harmless, harmless_json
from rigcheck.text.place import Place

__all__ = ["BRACES", "FINGERPRINT", "Bases", "as_json", "message"]

FINGERPRINT = "ruleRigThing/v2"
"""The name of our fingerprints; another way of making them has another number (3.27.17)."""

_SHIPPED = f"{SHIPPED_RULES}/"
_BASES = {
    "ROOT": "The folder in which rigcheck was started.",
    "RULES": "The folder of the rules that come with rigcheck.",
}
_VALUE = re.compile(r"""'(?:[^']|'')*'|"(?:[^"\\]|\\.)*"|(?:[^\s,\[\]{}:#]|[:#](?=\S)|(?<=\S) (?=[^\s,\[\]{}#]))+""")
"""A scalar of YAML from its beginning to its end on one line: quoted, or plain in a flow mapping (1.2.2, 7.3)."""
BRACES = str.maketrans({"{": "{{", "}": "}}"})
"""So that nothing in a text is a placeholder (3.11.5)."""


def _no_line(_place: Place) -> str:
    return ""


class Bases(Struct, frozen=True):
    """The folder that places are told from: where rigcheck runs, absolute. No path of it stands in a log.

    `line_at` gives the line of a file that a place is in, or nothing: with it a region ends where its value does.
    """

    root: str
    line_at: Callable[[Place], str] = _no_line

    def declared(self) -> dict[str, Any]:
        """Return the base folders as `originalUriBaseIds`, in words alone: whoever reads the log puts its own there.

        A log says where its folders were only if it wants to (3.14.14).
        """
        return {name: {"description": message(told)} for name, told in _BASES.items()}

    def artifact(self, file: str) -> dict[str, str]:
        """Return where a file is: relative to a base where it lies under one, by its address, or else as a file URI."""
        if file.startswith(_SHIPPED):
            return {"uri": quote(file.removeprefix(_SHIPPED), safe="/"), "uriBaseId": "RULES"}
        if "://" in file:
            return {"uri": quote(file, safe=":/")}
        path = os.path.normpath(os.path.join(self.root, file))
        above = self.root.rstrip(os.sep) + os.sep
        if path.startswith(above):
            return {"uri": quote(path[len(above) :].replace(os.sep, "/"), safe="/"), "uriBaseId": "ROOT"}
        return {"uri": PurePath(path).as_uri()}

    def location(self, place: Place, thing: str = "", told: str = "") -> dict[str, Any]:
        """Return a place; `thing` is what stands there, `told` what is to be said of it."""
        region = {"startLine": place.line, "startColumn": place.column}
        line = "" if place.file.startswith(_SHIPPED) else self.line_at(place)
        if value := _VALUE.match(line[place.column - 1 :]):
            region["endColumn"] = place.column + value.end()
        found: dict[str, Any] = {"physicalLocation": {"artifactLocation": self.artifact(place.file), "region": region}}
        found |= {"logicalLocations": [{"fullyQualifiedName": harmless(thing)}]} if thing else {}
        return found | ({"message": message(told)} if told else {})


def message(text: str) -> dict[str, str]:
    """Return text as a message in which nothing is a placeholder (3.11.5) or an embedded link (3.11.6)."""
    return {"text": harmless(text).translate(BRACES).replace("](", "] (")}


def as_json(content: Any) -> str:
    """Return content as JSON on one line."""
    return harmless_json(json.dumps(content, ensure_ascii=False, separators=(",", ":")))
