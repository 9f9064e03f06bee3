"""A description that names its standard rig: what it says itself, laid over what the standard rig says.

Both are still YAML. Lines are matched by their gas, parts in the order of the flow by their kind; what is not
matched is kept. What comes from the standard rig remembers its file, so that everybody can tell it apart.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from rigcheck.text.yamlfile import Mapping, Node, Scalar, Sequence

__all__ = ["MATCHED_BY", "laid_over"]

_OWN_ALONE = frozenset(
    ("rig", "$schema", "begun_from", "standard_rig", "may_differ", "invented", "concessions", "seen", "by", "sights")
)
"""What a standard rig says of itself alone."""
MATCHED_BY = {"lines": "gas", "people": "role"}
"""Lists whose entries are matched by one of their facts."""


def laid_over(own: Mapping, standard: Mapping) -> Mapping:
    """Return a description laid over its standard rig; neither is changed."""
    made = _copy(standard)
    for key in _OWN_ALONE & made.items.keys():
        del made.items[key], made.keys[key]
    return _merged(own, made)


def _copy(node: Mapping) -> Mapping:
    made = Mapping(node.line, node.column)
    made.items, made.keys = dict(node.items), dict(node.keys)
    return made


def _merged(own: Mapping, standard: Mapping) -> Mapping:
    """Return a mapping of both, placed where the own one stands."""
    made = Mapping(own.line, own.column)
    made.items = {
        key: _over(key, own.items[key], node) if key in own.items else node for key, node in standard.items.items()
    }
    made.items |= {key: node for key, node in own.items.items() if key not in standard.items}
    made.keys = {**standard.keys, **own.keys}
    made.own = frozenset(own.items)
    return made


def _over(key: str, own: Node, standard: Node) -> Node:
    if isinstance(own, Mapping) and isinstance(standard, Mapping):
        return _merged(own, standard)
    if not isinstance(own, Sequence) or not isinstance(standard, Sequence):
        return own
    if key in MATCHED_BY:
        return _by_word(own, standard, MATCHED_BY[key])
    if key == "parts":
        return _parts(own, standard)
    if key == "branches":
        return _branches(own, standard)
    return own


def _by_word(own: Sequence, standard: Sequence, fact: str) -> Sequence:
    """Return two lists as one: entries that say the same of one fact are matched, in their order."""
    left = list(standard.items)
    made = Sequence(own.line, own.column)
    for one in own.items:
        match = next((other for other in left if _word(one, fact) and _word(one, fact) == _word(other, fact)), None)
        if match is None:
            made.items.append(one)
        else:
            left.remove(match)
            made.items.append(_over("", one, match))
    made.items += left
    return made


def _word(node: Node, fact: str) -> str:
    value = node.items.get(fact) if isinstance(node, Mapping) else None
    return value.text.strip().casefold() if isinstance(value, Scalar) else ""


def _branches(own: Sequence, standard: Sequence) -> Sequence:
    made = Sequence(own.line, own.column)
    shared = min(len(own.items), len(standard.items))
    made.items = [_branch(one, other) for one, other in zip(own.items, standard.items, strict=False)]
    made.items += own.items[shared:] or standard.items[shared:]
    return made


def _branch(own: Node, standard: Node) -> Node:
    """A branch is a list of parts, or a mapping that has one."""
    return _over("parts", own, standard) if isinstance(own, Sequence) else _over("", own, standard)


# --- parts in the order of flow ---


class _Part(Struct, frozen=True):
    """One part with the joint that is written before it, if one is."""

    key: str
    entry: Node
    body: Node | None
    joint: Node | None


def _parts(own: Sequence, standard: Sequence) -> Sequence:
    made = Sequence(own.line, own.column)
    ours, theirs = list(_read(own)), list(_read(standard))
    for one, other in _aligned(ours, theirs):
        if one is not None and other is not None:
            made.items += _joined(one, other)
        else:
            made.items += _written(one or other)
    return made


def _read(parts: Sequence) -> Iterator[_Part]:
    joint: Node | None = None
    for item in parts.items:
        if isinstance(item, Mapping) and len(item.items) == 1:
            key, body = next(iter(item.items.items()))
            if key == "joint" and joint is None:
                joint = item
                continue
            yield _Part(key, item, body, joint)
        else:
            yield _Part(item.text if isinstance(item, Scalar) else "", item, None, joint)
        joint = None
    if joint is not None:  # after the last part: to the torch
        yield _Part("joint", joint, None, None)


def _aligned(ours: list[_Part], theirs: list[_Part]) -> Iterator[tuple[_Part | None, _Part | None]]:
    """Yield the longest run of parts of the same kinds side by side; what only one has stands where it stood."""
    longest = [[0] * (len(theirs) + 1) for _ in range(len(ours) + 1)]
    for i in reversed(range(len(ours))):
        for j in reversed(range(len(theirs))):
            same = longest[i + 1][j + 1] + 1 if ours[i].key == theirs[j].key else 0
            longest[i][j] = max(same, longest[i + 1][j], longest[i][j + 1])
    i = j = 0
    while i < len(ours) and j < len(theirs):
        if ours[i].key == theirs[j].key and longest[i][j] == longest[i + 1][j + 1] + 1:
            yield ours[i], theirs[j]
            i, j = i + 1, j + 1
        elif longest[i][j] == longest[i + 1][j]:
            yield ours[i], None
            i += 1
        else:
            yield None, theirs[j]
            j += 1
    yield from ((one, None) for one in ours[i:])
    yield from ((None, other) for other in theirs[j:])


def _written(part: _Part | None) -> Iterator[Node]:
    if part is not None and not _denied(part):
        if part.joint is not None:
            yield part.joint
        yield part.entry


def _joined(own: _Part, standard: _Part) -> Iterator[Node]:
    if _denied(own):  # '- swivel: none': the standard rig has one here, and this rig has none
        return
    joint = own.joint or standard.joint
    if own.joint is not None and standard.joint is not None:
        joint = _over("", own.joint, standard.joint)
    if joint is not None:
        yield joint
    if own.body is None or (isinstance(own.body, Scalar) and not own.body.text):
        yield standard.entry
    else:
        yield _over("", own.entry, standard.entry)


def _denied(part: _Part) -> bool:
    return isinstance(part.body, Scalar) and part.body.text == "none"
