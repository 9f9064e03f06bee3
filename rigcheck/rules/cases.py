"""The cases of a rule: facts of one thing, written beside the rule, and the verdict they must give."""

from __future__ import annotations

from msgspec import Struct

from rigcheck.quantity.notation import NotRead
from rigcheck.rig.fact import Fact
from rigcheck.rig.thing import Thing
from rigcheck.rig.vocabulary import Kind, Vocabulary
from rigcheck.rig.vocabulary_file import HeldEntry, RelatedEntry
from rigcheck.rules.consequence import FOLLOWS
from rigcheck.rules.folders import file_of
from rigcheck.rules.limits import LOCAL_CODES
from rigcheck.rules.rule import Rule
from rigcheck.text.binding import node_at
from rigcheck.text.faults import Fault, Refused, keep_fault, nearest_word, shown_text, with_article
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, Node, Scalar, Sequence, read_yaml

__all__ = ["Case", "read_cases"]

_VERDICTS = {one: one for one in ("holds", "broken", "unproven", "not concerned")}
_FOLLOWS = {"yes": "holds", "no": "broken", "not known": "unproven"}
_OWN_KEYS = ("case", "verdict", "under")


class Case(Struct, frozen=True):
    """One case: its name, the thing that it describes, and the verdict that is wanted."""

    name: str
    thing: Thing
    verdict: str
    under: str
    place: Place


def read_cases(rule: Rule, vocabulary: Vocabulary) -> list[Case]:
    """Return the cases of a rule. Raises `Refused` with all of their faults."""
    reader = _CaseReader(rule, vocabulary)
    cases = reader.read(_cases_node(rule))
    if reader.faults:
        raise Refused(reader.faults)
    return cases


def _cases_node(rule: Rule) -> Node:
    """Return the cases as they were read, or from the rule's file where the pack was prepared without them."""
    if rule.cases is not None:
        given: Node = rule.cases
        return given
    root = read_yaml(file_of(rule.file).read_bytes(), rule.file)
    return node_at(root, ("proven_by",))


class _CaseReader:
    def __init__(self, rule: Rule, vocabulary: Vocabulary) -> None:
        self.rule, self.vocabulary = rule, vocabulary
        self.consequence = rule.name.startswith(f"{FOLLOWS}/")
        self.faults: list[Fault] = []

    def read(self, node: Node) -> list[Case]:
        items = node.items if isinstance(node, Sequence) else []
        if not items:
            self._refuse(node, "The rule has no cases.", "Write '- {case: …, fact: …, verdict: …}'.")
        return [case for item in items if (case := self._case(item)) is not None]

    def _case(self, node: Node) -> Case | None:
        if not isinstance(node, Mapping):
            self._refuse(node, "This is no case.", "Write '- {case: …, fact: …, verdict: …}'.")
            return None
        own = {key: self._own(node, key) for key in (*_OWN_KEYS, FOLLOWS)}
        wanted, words = ("verdict", _VERDICTS) if not self.consequence else (FOLLOWS, _FOLLOWS)
        verdict, under = own[wanted], own["under"] or (self.rule.under or ("general",))[0]
        if not own["case"]:
            self._refuse(node, "The case has no name.", "Write 'case:' and what it shows.")
        if verdict not in words:
            write = f"Write '{wanted}:' and one of: {', '.join(words)}."
            self._refuse(node.items.get(wanted, node), f"{shown_text(verdict)} is no verdict.", write)
        if under not in LOCAL_CODES:
            write = f"Write one of: {', '.join(LOCAL_CODES)}."
            self._refuse(node.items["under"], f"{shown_text(under)} is no local code.", write)
        thing = Thing(self.rule.kind, self.rule.kind.name, None, node.line, node.column)
        self._unset_kind(thing)
        for key, value in node.items.items():
            if key not in _OWN_KEYS and key != wanted:
                self._state(thing, key.split("."), value, node.keys[key])
        return Case(
            own["case"], thing, words.get(verdict, verdict), under, Place(self.rule.file, node.line, node.column)
        )

    def _own(self, node: Mapping, key: str) -> str:
        value = node.items.get(key)
        return value.text if isinstance(value, Scalar) else ""

    def _unset_kind(self, thing: Thing) -> None:
        """A thing of a kind that has sorts says nothing of its sort until the case does."""
        if self.vocabulary.children_of(thing.kind.name):
            del thing.facts["kind"]

    def _state(self, thing: Thing, path: list[str], node: Node, at: Scalar) -> None:
        name, rest = path[0], path[1:]
        entry = thing.kind.related.get(name) or thing.kind.holds.get(name)
        fact = thing.kind.facts.get(name)
        if name == "kind" and isinstance(node, Scalar):
            self._set_kind(thing, node)
        elif entry is not None:
            self._relate(thing, name, entry, rest, node, at)
        elif fact is not None and not rest:
            self._value(thing, fact, node)
        else:
            known = [*thing.kind.facts, *thing.kind.related, *thing.kind.holds]
            read = f"{shown_text('.'.join(path))} is nothing known of {with_article(thing.kind.name)}."
            self._refuse(at, read, "Write a fact of it.", nearest_word(name, known))

    def _set_kind(self, thing: Thing, node: Scalar) -> None:
        kind = self.vocabulary.kinds.get(node.text)
        if kind is None:
            near = nearest_word(node.text, self.vocabulary.kinds)
            self._refuse(node, f"{shown_text(node.text)} is no kind.", "Write a kind.", near)
            return
        thing.kind, thing.key, thing.facts["kind"] = kind, kind.name, kind.name

    def _relate(
        self,
        thing: Thing,
        name: str,
        entry: RelatedEntry | HeldEntry,
        rest: list[str],
        node: Node,
        at: Scalar,
    ) -> None:
        kind = self.vocabulary.kinds[entry.kind]
        if entry.many and not rest:
            items = node.items if isinstance(node, Sequence) else [node]
            empty = isinstance(node, Scalar) and node.text == "none"
            thing.facts[name] = () if empty else tuple(self._inner(kind, item) for item in items)
        elif isinstance(node, Scalar) and node.text == "none" and not rest:
            thing.facts[name] = None
        elif rest:
            inner = thing.facts.get(name)
            if not isinstance(inner, Thing):
                inner = thing.facts[name] = self._bare(kind, node)
            self._state(inner, rest, node, at)
        else:
            thing.facts[name] = self._inner(kind, node)

    def _bare(self, kind: Kind, node: Node) -> Thing:
        made = Thing(kind, kind.name, None, node.line, node.column)
        self._unset_kind(made)
        return made

    def _inner(self, kind: Kind, node: Node) -> Thing:
        made = self._bare(kind, node)
        if not isinstance(node, Mapping):
            self._refuse(node, "Here must stand a thing.", "Write '{fact: value}', or none.")
            return made
        keys = sorted(node.items, key=lambda key: key != "kind")  # the kind settles the facts
        for key in keys:
            self._state(made, key.split("."), node.items[key], node.keys[key])
        return made

    def _value(self, thing: Thing, fact: Fact, node: Node) -> None:
        try:
            if isinstance(node, Sequence) and fact.measure == "several_words":
                texts = (item.text if isinstance(item, Scalar) else "" for item in node.items)
                thing.facts[fact.name] = tuple(map(fact.word, texts))
            elif isinstance(node, Scalar):
                thing.facts[fact.name] = fact.read(node.text)
            else:
                shape = "list of words" if isinstance(node, Sequence) else "thing"
                self._refuse(node, f"{fact.name} is no {shape}.", "Write one value.")
        except NotRead as error:
            self._refuse(node, f"{fact.name}: {error.wrong}", error.write)

    def _refuse(self, node: Node, read: str, write: str, near: str = "") -> None:
        place = Place(self.rule.file, node.line, node.column)
        keep_fault(self.faults, Fault(place, read, write, near))
