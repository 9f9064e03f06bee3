"""A description that what was seen is to be written into: shown first, and written only where it is still the same."""

from __future__ import annotations

import hashlib
import os
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from rigcheck.asking.standing_facts import standing_facts
from rigcheck.asking.written_description import Written, written_description
from rigcheck.cli.console import ProblemFound
from rigcheck.cli.draft import whole_file
from rigcheck.cli.evidence_input import around_of
from rigcheck.cli.inputs import rig_bytes
from rigcheck.cli.site_input import read_rig
from rigcheck.facts.known import Purpose
from rigcheck.judge.judged import judge
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Fault

__all__ = ["DescriptionOnDisk", "description_with_sights"]

_Verdicts = dict[tuple[str, str], str]


@dataclass(frozen=True)
class DescriptionOnDisk:
    """A description as it stands and as it would be."""

    rig: str
    before: bytes
    written: Written
    unread: tuple[Fault, ...] = ()

    @property
    def digest(self) -> str:
        """What tells this change from any other: both texts."""
        return hashlib.sha256(self.before + b"\0" + self.written.text.encode()).hexdigest()

    @property
    def text(self) -> str:
        """The text as it stands."""
        return self.before.decode()

    @property
    def facts(self) -> int:
        """How many facts would be written."""
        return sum(len(one.facts) for one in self.written.sights)

    def write(self) -> None:
        """Write it, whole or not at all. Raises `ProblemFound` where the file is not what was shown."""
        if rig_bytes(self.rig) != self.before:
            raise ProblemFound(f"{self.rig} was changed since this was shown; nothing was written. Look at it again.")
        with whole_file(Path(self.rig)) as write:
            write(self.written.text)


def description_with_sights(
    rig: str, pack: Pack, day: int, *, register: str = "", local_code: str = "", purpose: Purpose = "commissioning"
) -> DescriptionOnDisk:
    """Return what the looks at a rig would write into its description.

    Raises `Refused`, OSError; `ProblemFound` where a verdict would come out otherwise with it, or something more could
    not be read.
    """
    before = rig_bytes(rig)
    read = partial(read_rig, name=rig, pack=pack, register=register)
    judged = partial(_verdicts, pack=pack, day=day, local_code=local_code, purpose=purpose)
    now = read(before)
    written = written_description(before.decode(), now, standing_facts(around_of(rig, pack, register).looks, now))
    then = read(written.text.encode()) if written.sights else now
    if then is not now and (judged(now), _told(now)) != (judged(then), _told(then)):
        told = f"What was seen cannot be written into {os.path.basename(rig)} so that every verdict stays as it is"
        raise ProblemFound(f"{told}; nothing was written, and the look counts as before.")
    return DescriptionOnDisk(rig, before, written, now.unread)


def _told(rig: Rig) -> list[str]:
    """Return what cannot be read, wherever it stands now."""
    return sorted(one.read for one in rig.unread)


def _verdicts(rig: Rig, pack: Pack, day: int, local_code: str, purpose: Purpose) -> _Verdicts:
    judged = judge(rig, pack, day=day, local_code=local_code, purpose=purpose)
    return {(thing.path, rule.name): verdict for thing, rule, verdict, _ in judged.judgements()}
