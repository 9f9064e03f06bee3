"""The facts that a standard rig names: what it leaves open for the site, and where a rig may depart from it."""

from __future__ import annotations

from rigcheck.rig.thing_reader import Reading
from rigcheck.text.faults import nearest_word, shown_text
from rigcheck.text.yamlfile import Mapping, Node, Scalar, Sequence

__all__ = ["left_to_site", "may_differ"]

_ALIKE = 0.55  # a fact without its kind still is found among all of them


def left_to_site(reading: Reading, node: Node | None) -> frozenset[str]:
    """Return the facts that a standard rig leaves open for the site, as `kind.fact`, by the words of the file."""
    if node is None:
        return frozenset()
    items = node.items if isinstance(node, Sequence) else [node]
    return frozenset(filter(None, (_open_fact(reading, item) for item in items)))


def may_differ(reading: Reading, node: Node | None) -> frozenset[str]:
    """Return in which kinds and facts a rig of this standard rig may depart from it, by the words of the file."""
    found = set()
    for item in node.items if isinstance(node, Sequence) else [] if node is None else [node]:
        if isinstance(item, Scalar) and item.text in reading.vocabulary.by_key:
            found.add(item.text)
        elif _open_fact(reading, item):
            found.add(item.text if isinstance(item, Scalar) else "")
    return frozenset(found)


def _open_fact(reading: Reading, node: Node) -> str:
    if isinstance(node, Mapping) and node.items:
        return _answered(reading, node)
    key, _, fact = node.text.partition(".") if isinstance(node, Scalar) else ("", "", "")
    kind = reading.vocabulary.by_key.get(key)
    if kind is not None and fact in kind.facts and not kind.facts[fact].computed:
        return f"{kind.name}.{fact}"
    known = reading.vocabulary.by_key
    words = [f"{key}.{name}" for key, k in known.items() for name, f in k.facts.items() if not f.computed]
    shown = shown_text(node.text) if isinstance(node, Scalar) else "This"
    near = nearest_word(node.text, words, _ALIKE) if isinstance(node, Scalar) else ""
    reading.pass_over(node, f"{shown} is no fact.", "Write kind.fact, as 'hose.made'.", near)
    return ""


def _answered(reading: Reading, node: Mapping) -> str:
    """Refuse '- arrester.cut_off: open' among the facts that stay open, and say where it goes."""
    name, value = next(iter(node.items.items()))
    key, _, fact = name.partition(".")
    kind, answer = reading.vocabulary.by_key.get(key), value.text if isinstance(value, Scalar) else "…"
    if kind is not None and fact in kind.facts:
        read = f"{shown_text(name)} has an answer, and here stand facts that are left open."
        write = f"Write '{fact}: {answer}' at the {kind.name} itself, and take it out here."
    else:
        write = f"Write '{name}.{answer}'." if kind and answer in kind.facts else "Write kind.fact, as 'hose.made'."
        read = "Here stands a mapping in place of a fact."
    reading.pass_over(node, read, write)
    return ""
