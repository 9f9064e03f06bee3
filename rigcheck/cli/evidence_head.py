"""Of which rig a file is a look or a record of work, told by its first lines where it is written as nearly all are.

Thousands of files lie beside a rig; what is written otherwise is read as YAML, so that none is passed over.
"""

from __future__ import annotations

import os
import re
from typing import NamedTuple

from rigcheck.cli.inputs import rig_bytes
from rigcheck.text.faults import Refused
from rigcheck.text.source_file import ordinary_file
from rigcheck.text.yamlfile import Mapping, Scalar, read_yaml

__all__ = ["HEAD", "Evidence", "evidence_in", "head_of", "rig_named"]

HEAD = 4096
"""Bytes; a look says in its first lines which rig it is of."""
_NAMED = (
    rb"[\"']?[ \t]*:[ \t]+(?:'([^'\r\n]+)'(?!')|\"([^\"\\\r\n]+)\"|([^\s#&*!|>%@`\[{\"'][^#\r\n]*))[ \t]*(?:#.*)?\r?$"
)
_LOOK_KEY = re.compile(rb"^(?:\xef\xbb\xbf)?[\"']?look" + _NAMED, re.MULTILINE)
"""A look as it is nearly always written; what may be one and is not written so is read as YAML."""
_SEEMS = re.compile(rb"\blook[\"']?\s*:\s*[\"']?([^\s\"',}#]+)")
_WIDE = (b"\xff\xfe", b"\xfe\xff")
_MAY_BE_EVIDENCE = re.compile(
    rb"(?:^|[\s{,?\"'])(?:look|record)[\"']?[ \t]*(?::|$)|\\[uUx][0-9a-fA-F]|\0|\r[^\n]", re.M
)
_RECORD_KEY = re.compile(rb"^(?:\xef\xbb\xbf)?[\"']?record[\"']?[ \t]*:", re.MULTILINE)
_RIG_PATH = re.compile(rb"^[\"']?rig" + _NAMED, re.MULTILINE)


class Evidence(NamedTuple):
    """The rig that a file is a look at or a record of work with, as it writes it; nothing where it is neither."""

    rig: str = ""
    is_look: bool = False


def rig_named(path: str) -> str:
    """Return the path of the rig that a file is a look at, as it writes it; nothing where it is no look."""
    found = evidence_in(path)
    return found.rig if found.is_look else ""


def evidence_in(path: str) -> Evidence:
    """Return of which rig a file is evidence. Raises OSError where it cannot be read."""
    head = head_of(path)
    found = _at_once(head)
    if found is None:
        data = rig_bytes(path) if len(head) == HEAD else head
        found = _evidence_read(data) if _MAY_BE_EVIDENCE.search(data) is not None else Evidence()
    return found


def _at_once(head: bytes) -> Evidence | None:
    if (found := _LOOK_KEY.search(head)) is not None:
        return Evidence(_text_of(found), is_look=True)
    if _RECORD_KEY.search(head) is not None and (found := _RIG_PATH.search(head)) is not None:
        return Evidence(_text_of(found))
    return None


def _text_of(found: re.Match[bytes]) -> str:
    named: bytes = next(filter(None, found.groups()))
    return named.decode("utf-8", "replace").strip()


def _evidence_read(data: bytes) -> Evidence:
    """Return the same of a file that is written in an unusual way.

    One that cannot be read is taken for what it seems to be: whoever reads it says so, and nobody would otherwise.
    """
    try:
        root = read_yaml(data, "", [])
    except Refused:
        text = data.decode("utf-16" if data[:2] in _WIDE else "utf-8", "replace").replace("\r", "\n").encode()
        seems = _SEEMS.search(text)
        return _at_once(text) or (Evidence(_text_of(seems), is_look=True) if seems is not None else Evidence())
    items = root.items if isinstance(root, Mapping) else {}
    is_look = "look" in items
    node = items.get("look" if is_look else "rig" if "record" in items else "")
    return Evidence(node.text.strip() if isinstance(node, Scalar) else "", is_look)


def head_of(path: str) -> bytes:
    """Return where a file begins, or nothing of a folder. Raises OSError where it cannot be read.

    A pipe, a device and a link that leads nowhere cannot be: what comes out of them may be a look.
    """
    if os.path.isdir(path):
        return b""
    with ordinary_file(path) as file:
        return file.read(HEAD)
