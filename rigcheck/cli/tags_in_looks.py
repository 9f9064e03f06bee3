"""Which things a look names by their tag, told by a pattern where it is written as nearly all are.

Thousands of looks lie beside a rig, and a tagged part may have been seen in any of them. A look in which anything
that may be a tag is written otherwise is read as YAML, so that none is passed over.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rigcheck.cli.inputs import rig_bytes
from rigcheck.rig.thing_names import folded_name
from rigcheck.rig.vocabulary import is_tag_key
from rigcheck.text.faults import Refused
from rigcheck.text.yamlfile import Mapping, Node, Scalar, Sequence, read_yaml

__all__ = ["tags_named"]

_KEY = rb"\b(?:thing|(?:serial|asset|certificate|tag|id)(?:[ _-]+(?:no|number|tag))?)\b"
_MAY_NAME = re.compile(_KEY, re.IGNORECASE)
_PLAIN = re.compile(
    _KEY + rb":[ \t]+([A-Za-z0-9](?:[\w./()\[\]+-]|[ ](?=[\w(]))*)"
    rb"(?=[ \t]*(?:,[ \t]+[\w$]+[ \t]*:|\}|(?:[ \t]#[^\r\n]*)?(?:\r?\n(?:[ \t]*(?:#[^\r\n]*)?\r?\n)*"
    rb"(?:[ \t]*(?:-[ \t]|[}\]#]|[\w$]+[ \t]*:)|\Z)|\Z)))",
    re.IGNORECASE,
)
"""A tag as it is nearly always written: a plain word, behind which the next key, row or line begins."""
_ODD = re.compile(rb"[\\\0]|\r(?!\n)")
_SEEMS = re.compile(_KEY + rb"[\"']?\s*:\s*(?:'([^'\r\n]+)'|\"([^\"\r\n]+)\"|([^\s,}#][^,}#\r\n]*))", re.IGNORECASE)


def tags_named(path: str) -> Iterator[str]:
    """Yield all that a look may name by its tag, folded; of one that cannot be read, what it seems to name."""
    data = rig_bytes(path)
    plain = _PLAIN.findall(data)
    if len(plain) == len(_MAY_NAME.findall(data)) and _ODD.search(data) is None:
        yield from (folded_name(one.decode("utf-8", "replace")) for one in plain)
        return
    try:
        root = read_yaml(data, path, [])
    except Refused:
        found = (next(filter(None, one), b"") for one in _SEEMS.findall(data))
        yield from (folded_name(one.decode("utf-8", "replace")) for one in found)
        return
    yield from map(folded_name, _named_in(root))


def _named_in(node: Node) -> Iterator[str]:
    """Yield what stands anywhere behind a key that names a thing."""
    for key, inner in node.items.items() if isinstance(node, Mapping) else ():
        if isinstance(inner, Scalar):
            if key == "thing" or is_tag_key(key):
                yield inner.text
        else:
            yield from _named_in(inner)
    for inner in node.items if isinstance(node, Sequence) else ():
        yield from _named_in(inner)
