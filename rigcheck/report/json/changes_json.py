"""What became of the findings of an earlier report, as JSON."""

from __future__ import annotations

from collections.abc import Iterable

from pydantic import Field

from rigcheck.report.json.common import Out, formed
from rigcheck.tasks.changes import Changes, Key

__all__ = ["ChangesOut", "changes_out"]


class KeyOut(Out):
    """By what a finding is known again: never by its line."""

    rule: str
    rig: str
    thing: str


class ChangedOut(KeyOut):
    """A finding of the earlier report that is graver now, or other than it was."""

    how: str = Field(description="In which way, in words.")


class ChangesOut(Out):
    """What became of the findings of an earlier report."""

    against: str
    other_rules: bool = Field(description="It was made with other rules or limits.")
    still_there: int
    new: list[KeyOut]
    changed: list[ChangedOut] = Field([], description="Found then too, and graver now or otherwise.")
    new_on_rigs_it_does_not_tell_of: int
    gone: list[KeyOut]
    not_inspected: list[KeyOut] = Field(description="On rigs that were not inspected this time, or not read.")


def changes_out(changes: Changes) -> ChangesOut:
    """Return the JSON form of what became of the findings of an earlier report."""
    return ChangesOut.model_construct(
        against=changes.told,
        other_rules=changes.other_rules,
        still_there=changes.still,
        new=_keys(changes.new),
        changed=[formed(ChangedOut, one.key, how=one.how) for one in changes.changed],
        new_on_rigs_it_does_not_tell_of=changes.on_new_rigs(),
        gone=_keys(changes.gone()),
        not_inspected=_keys(changes.not_seen()),
    )


def _keys(keys: Iterable[Key]) -> list[KeyOut]:
    return [formed(KeyOut, key) for key in keys]
