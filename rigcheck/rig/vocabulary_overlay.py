"""A file of a vocabulary laid on another of the same kind, trait or lists of words: fact by fact."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from rigcheck.rig.line_reader import meant_part
from rigcheck.rig.vocabulary import Kind, Vocabulary, folded_key
from rigcheck.rig.vocabulary_file import KindFile, TraitFile, VocabularyFile, WordsFile
from rigcheck.text.faults import nearest_name

__all__ = ["is_read_otherwise", "laid_over", "name_of", "read_otherwise"]

_NOT_JUDGED = ("kind", "trait", "means", "because")


def name_of(file: VocabularyFile) -> str:
    """Return what a file is about: a kind, a trait, or the lists of words."""
    if isinstance(file, KindFile):
        return file.kind
    return file.trait if isinstance(file, TraitFile) else "words"


def laid_over(lower: VocabularyFile, own: VocabularyFile) -> tuple[VocabularyFile, list[str], list[str]]:
    """Return both as one file, and the names of what the upper one adds and of what it changes.

    What the upper one does not say stays as it is: nothing can be taken out of a kind.
    """
    together: dict[str, Any] = {}
    added: list[str] = []
    changed: list[str] = []
    for one in fields(own):
        above, below = getattr(own, one.name), getattr(lower, one.name)
        if not above or above == below:
            together[one.name] = below
        elif isinstance(above, dict):
            together[one.name] = below | above
            added += [name for name in above if name not in below]
            changed += [name for name in above if name in below and above[name] != below[name]]
        else:
            together[one.name] = [*below, *(x for x in above if x not in below)] if isinstance(above, list) else above
            changed += [] if one.name in _NOT_JUDGED else [one.name]
    return replace(own, **together), added, changed


def read_otherwise(file: VocabularyFile, below: Vocabulary) -> set[str]:
    """Return what a file brings under a name that the vocabulary below reads already, as something else.

    A fact that a kind inherits, another name of one, a thing built into it or what that is misspelt as: what somebody
    wrote under it would be judged no more.
    """
    if isinstance(file, WordsFile):
        return set()
    about = [kind for kind in below.looked_at.values() if name_of(file) in kind.lineage]
    called: dict[str, list[str]] = {name: [name, *fact.also_called] for name, fact in file.facts.items()}
    called |= {name: [name] for name in (file.holds_things if isinstance(file, KindFile) else ())}
    return {name for name, names in called.items() if any(_reads(kind, one) for kind in about for one in names)}


def is_read_otherwise(file: VocabularyFile, below: Vocabulary) -> bool:
    """Whether a new kind is called as people call a part that is there: what they wrote would be another thing."""
    return isinstance(file, KindFile) and bool(file.is_a and meant_part(file.kind, below.parts))


def _reads(kind: Kind, key: str) -> bool:
    folded = folded_key(key)
    names = (
        *kind.facts,
        *kind.holds,
        *kind.related,
        *(n for one in kind.facts.values() for n in one.entry.also_called),
    )
    return folded in names or bool(nearest_name(key, kind.holds))
