"""What to write in place of a key that is nothing known of the thing that it stands at.

People write a fact at the thing that they think of: the clip at the hose, and not at the joint that it holds; or they
write what they see, `chained: yes`, and not the fact that it answers. Both lead to the kind that bears what is meant.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator

from rigcheck.rig.fact import Fact, asked_with
from rigcheck.rig.vocabulary import Kind, Vocabulary, folded_key
from rigcheck.text.faults import nearest_name, nearest_word, with_article
from rigcheck.text.yamlfile import Node, Scalar, Sequence

__all__ = ["UnknownKey", "texts_of"]

_LIST_WORDS = 24
_SLIP = 0.75  # likeness
_OTHER_FILES = ("rig", "register", "premises", "fleet")  # what stands in these is in no rig
_OF_A_LINE = ("parts", "every_joint", "every")  # what only a line takes, and no other thing has as a fact
_MOST_MEANT = 3
_LEAST_LETTERS = 4  # shorter words are those of too many facts


class UnknownKey:
    """A key that is nothing known of a kind, with what stands behind it; keys in `grammar` are known besides its facts.

    `held`: the built-in thing that is meant, where it is one that is misspelt;
    `alone`: no line and no part of one can stand behind it, so that the rest of the file means the same without it;
    `beside`: the keys that stand beside it.
    """

    def __init__(
        self,
        vocabulary: Vocabulary,
        kind: Kind,
        key: str,
        node: Node,
        grammar: Iterable[str] = (),
        beside: Container[str] = (),
    ) -> None:
        self.vocabulary, self.kind, self.key, self.node = vocabulary, kind, key, node
        self.texts = texts_of(node)
        known = dict.fromkeys([*self._own_first(), *kind.holds, *grammar])
        self.known = [one for one in known if one != "$schema" and (kind.name, one) != ("rig", "name")]
        self.by_question = False
        self.near = self._meant()
        self.held = self.near if self.near in kind.holds and self.near not in beside else ""
        told_apart = not self._has_lines or "lines" in beside or "parts" in beside
        self.alone = self.near not in grammar and bool(self.texts or self.held or told_apart)

    @property
    def write(self) -> str:
        """What to write instead."""
        return self._slip() or self._other_place() or self._as_word() or self._listed()

    def _slip(self) -> str:
        """Return what to write where YAML took the words apart otherwise than they were meant."""
        if (
            self.key != self.key.strip() or "\N{NO-BREAK SPACE}" in self.key
        ):  # YAML takes none but plain ones for blanks
            return (
                f"A blank in it is no plain one, and YAML takes it for a letter: write {' '.join(self.key.split())!r}."
            )
        first, _, rest = self.key.partition(" ")
        bare = isinstance(self.node, Scalar) and not self.node.text
        if rest and bare and first in self.known:
            return f"Write a colon behind the fact: '{first}: {rest}'."
        if bare and self.key[:1].isdecimal():  # {set_pressure: 0,4 bar}
            return "Inside braces a comma ends what stands before it: write the number with a point, or in quotes."
        return ""

    # --- another place ---

    def _other_place(self) -> str:
        """Return where it belongs, if it is known of another thing."""
        kinds = self.vocabulary.kinds.values()
        if self.key in _OF_A_LINE:
            return "It belongs to one line: write it under 'lines', beside that line's 'gas'."
        if self.key in self.vocabulary.kinds["rig"].holds and self.kind.name != "rig" and not self.near:
            return "It stands in the rig itself, beside 'lines': write it there."
        part = self.vocabulary.by_key.get(self.key)
        if part is not None and "part" in part.lineage and self.near not in self.kind.holds:
            where = "in" if self._has_lines else "in the rig, in"
            return f"It is a part: write it {where} the list under the 'parts' of its line, where the gas passes it."
        holders = [one for one in kinds if self.key in one.holds and one.name not in _OTHER_FILES]
        if holders:
            return f"It stands inside {_either(holders)}: write it there."
        name = self._elsewhere_called(folded_key(self.key))
        declaring = [one for one in kinds if name in one.facts and self._declares(one, name)]
        taking = [one for one in declaring if one.facts[name].takes(self.texts)]
        if taking and (not self.near or any(one.facts[name].measure != "text" for one in taking)):
            return f"{self._write_there(name, taking)}{self._or_here()}"
        if declaring and not self.near and not all(one.facts[name].computed for one in declaring):
            stated = [one for one in declaring if not one.facts[name].computed]
            return f"{self._write_there(name, stated)} {_how_written(stated[0].facts[name])}"
        return ""

    def _elsewhere_called(self, key: str) -> str:
        """Return the fact of another kind that goes by this name; else the key itself."""
        kinds = [one for one in self.vocabulary.kinds.values() if one.name not in _OTHER_FILES and not self.near]
        if any(key in one.facts for one in kinds):
            return key
        facts = (fact for kind in kinds for fact in kind.facts.values())
        return next((one.name for one in facts if key in one.entry.also_called), key)

    @property
    def _has_lines(self) -> bool:
        return self.kind.name in ("rig", "line")

    def _or_here(self) -> str:
        return f" If this very {self.kind.name} is meant, write {self.near!r}." if self.near else ""

    def _write_there(self, name: str, elsewhere: list[Kind]) -> str:
        """Return where a fact belongs; one of a narrower kind belongs to some things of this kind only."""
        parts = [one for one in elsewhere if "part" in one.lineage or "joint" in one.lineage]
        if self._has_lines and parts:
            return f"Write it at {_either(parts)}; for all of them 'every: {{{_spoken_key(parts[0])}: {{{name}: …}}}}'."
        joints = [one for one in elsewhere if "joint" in one.lineage]
        if joints and "joint" in self.kind.lineage:
            return "It is a fact of a joint next to a hose: leave it out here, and write it at that joint."
        if joints:
            said = self.texts[0] if len(self.texts) == 1 and joints[0].facts[name].takes(self.texts) else "…"
            others = [one for one in elsewhere if one not in joints]
            also = f", or of {_either(others)}" if others else ""
            return (
                f"It is a fact of a joint{also}: write '- joint: {{{name}: {said}}}' in 'parts', between the two parts "
                f"that it joins; for all joints of a line 'every: {{joint: {{{name}: …}}}}'."
            )
        return f"It is a fact of {_either(elsewhere)}: write it there."

    def _declares(self, kind: Kind, name: str) -> bool:
        """Whether a fact is a kind's own, and not one that it inherits."""
        return not (kind.base and name in self.vocabulary.kinds[kind.base].facts)

    # --- a word that is written as if it were a fact ---

    def _as_word(self) -> str:
        """Return the facts of which the key is a word: of this kind, else of others."""
        if self.near or len(self.key) < _LEAST_LETTERS:
            return ""
        own = [(self.kind, fact, word) for fact, word in _worded(self.kind, self.key)]
        others = (one for one in self.vocabulary.kinds.values() if one.name not in _OTHER_FILES)
        every = ((one, fact, word) for one in others for fact, word in _worded(one, self.key))
        found = own or [each for each in every if self._declares(each[0], each[1].name)]
        if not found or len(found) > _MOST_MEANT:
            return ""
        if own:
            told = " or ".join(f"'{fact.name}: {word}'" for _, fact, word in found)
            return f"It is a word of a fact: write {told}, or what is so instead."
        told = " or ".join(f"'{fact.name}: {word}' at {with_article(_spoken(one))}" for one, fact, word in found)
        return f"It is a word of a fact: write {told}, or what is so there instead."

    # --- what is known here ---

    def _listed(self) -> str:
        more = f" and {len(self.known) - _LIST_WORDS} more" if len(self.known) > _LIST_WORDS else ""
        if not self.near:
            return f"Known here: {', '.join(self.known[:_LIST_WORDS])}{more}."
        # who wrote 'leaks: yes' and is led to 'tight' must see that the answer turns round
        asked = f" It is asked: {self.kind.facts[self.near].entry.ask}" if self.by_question else ""
        return f"Write {self.near!r}?{asked}"

    def _meant(self) -> str:
        """Return the known name that a key stands for: one that takes the value before one that is only like it."""
        facts = self.kind.facts
        taking = [name for name in self.known if name not in facts or facts[name].takes(self.texts)]
        asked = (facts[one] for one in taking if one in facts)
        alike = nearest_name(self.key, taking)
        found = alike or asked_with(self.key, asked)
        self.by_question = bool(found) and not alike
        return found or nearest_word(self.key, self.known, _SLIP)

    def _own_first(self) -> list[str]:
        """Return the facts that can be stated of the kind, those that it does not inherit first."""
        inherited = self.vocabulary.kinds[self.kind.base].facts if self.kind.base else {"name": None}
        stated = [name for name, fact in self.kind.facts.items() if not fact.computed]
        return sorted(stated, key=lambda name: name in inherited)


def texts_of(node: Node) -> tuple[str, ...]:
    """Return the texts that a value consists of; none where it is a mapping, or a list of other things than texts."""
    items = node.items if isinstance(node, Sequence) else [node]
    texts = tuple(one.text for one in items if isinstance(one, Scalar))
    return texts if len(texts) == len(items) else ()


def _worded(kind: Kind, key: str) -> Iterator[tuple[Fact, str]]:
    """Yield the stated facts of a kind of which a key is a word, or another spelling of one, with that word."""
    for fact in kind.facts.values():
        if fact.words and not fact.computed and (word := fact.spelt(key)):
            yield fact, word


def _how_written(fact: Fact) -> str:
    """Return how a fact is written that does not take what stands here."""
    if fact.words:
        return f"Its words are: {', '.join(fact.words)}."
    return "It is yes or no." if fact.measure == "yes_no" else ""


def _spoken(kind: Kind) -> str:
    """Return a kind as it is written in a rig: the end of a hose is the joint there."""
    return "joint" if "joint" in kind.lineage else kind.name


def _spoken_key(kind: Kind) -> str:
    return "joint" if "joint" in kind.lineage else kind.key


def _either(kinds: Iterable[Kind]) -> str:
    """Return kinds as a choice: a hose or a nozzle."""
    return " or ".join(dict.fromkeys(with_article(_spoken(kind)) for kind in kinds))
