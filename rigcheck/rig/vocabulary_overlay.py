"""A file of a vocabulary laid on another of the same kind, trait or lists of words: fact by fact."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from rigcheck.rig.vocabulary_file import KindFile, TraitFile, VocabularyFile

__all__ = ["laid_over", "name_of"]

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
