"""A walk whose look lies beside the rig: each answer is on the disk before the next is asked.

What is asked is worked out from the files alone, so that whoever stops goes on where the file ends.
"""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Hashable, Iterator
from datetime import date
from pathlib import Path

from rigcheck.asking.answers import Answer, Told, begun_look, dated, told_in, with_answer
from rigcheck.asking.asked_again import differing
from rigcheck.asking.given_answers import given_answers
from rigcheck.asking.state import Walk, walk_on
from rigcheck.asking.walk import Page
from rigcheck.cli.console import ProblemFound
from rigcheck.cli.draft import alone_in, new_file, whole_file
from rigcheck.cli.evidence_input import forget_evidence, stamp_of
from rigcheck.cli.inputs import rig_bytes
from rigcheck.cli.site_input import read_rig
from rigcheck.facts.known import Purpose
from rigcheck.judge.finding import Finding
from rigcheck.judge.judged import Judged, judge
from rigcheck.rig.look_file import LookFile, read_look
from rigcheck.rules.looks import looks_of
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Signal
from rigcheck.text.faults import Fault, Refused
from rigcheck.text.place import Place
from rigcheck.text.source_file import file_bytes, file_text

__all__ = ["WalkOnDisk", "look_for"]

_MOST_LOOKS = 100  # of one rig on one day
_ANYWHERE = Place("", 0, 0)


class WalkOnDisk:
    """One walk round one rig: its files, and what was just found."""

    judged: Judged
    walk: Walk
    seen: LookFile
    told: Told
    differing: tuple[str, ...] = ()
    """What was answered otherwise when it was asked once more, of the answer that was taken last."""

    def __init__(
        self,
        rig: str,
        look: Path,
        pack: Pack,
        day: int,
        purpose: Purpose = "commissioning",
        only: Signal | None = None,
        local_code: str = "",
        register: str = "",
    ) -> None:
        """Read what is on the disk. Raises `Refused`, OSError.

        `hot`: paths of the things at which something was found with the last answer.
        """
        self.rig, self.look, self.pack, self.day = rig, look, pack, day
        self.purpose, self.only, self.local_code, self.register = purpose, only, local_code, register
        self.hot: frozenset[str] = frozenset()
        self._elsewhere: tuple[str, ...] = ()
        self._stamp: Hashable = None
        self._walked: Hashable = None
        self.read()

    def read(self) -> Walk:
        """Work out from the files where the walk stands; what did not change is not judged once more."""
        stamp = stamp_of(self.rig, (str(self.look), *self._elsewhere))
        if stamp != self._stamp:
            self._judge()
            self._stamp = stamp  # of before: what is written meanwhile is read the next time
        walked = self._stamp, self.only, self.hot
        if walked != self._walked:
            self.walk = walk_on(self.judged, looks_of(self.pack), self.told, only=self.only, after_find=self.hot)
            self._walked = walked
        return self.walk

    def _judge(self) -> None:
        forget_evidence(self.pack)
        rig = read_rig(rig_bytes(self.rig), self.rig, self.pack, self.register)
        self.seen = read_look(file_bytes(self.look), str(self.look), self.pack.vocabulary)
        self.told = told_in(self.seen, rig)
        self.judged = judge(rig, self.pack, day=self.day, local_code=self.local_code, purpose=self.purpose)
        standard = rig.begun_from.file if rig.begun_from is not None else ""
        site = os.path.join(os.path.dirname(self.rig), rig.stands_at) if rig.stands_at else ""
        self._elsewhere = tuple(filter(None, (standard, site)))

    def take(self, page: Page, answer: Answer) -> tuple[Finding, ...]:
        """Write an answer to a page, and return what is found now and was not before it.

        Raises `ProblemFound` where it cannot be written, or where the rig cannot be read with it: then it is not.
        """
        given = given_answers(self.seen, self.judged.rig) if page.again else {}
        self.differing = tuple(differing(page, answer, given))
        found = self.take_in(dated(page, answer, date.fromordinal(self.day).isoformat()))
        if found:
            here = {one.path for one in page.things}
            self.hot = frozenset(here if len(here) == 1 else here & {one.at.path for one in found})
            self.read()
        return found

    def take_in(self, answer: Answer) -> tuple[Finding, ...]:
        """Write answers to whatever was asked, all or none, as `take` does; the days that they tell are with them."""
        with alone_in(self.look.parent):
            return self._take_in(answer)

    def _take_in(self, answer: Answer) -> tuple[Finding, ...]:
        before = {(one.rule, one.at.path) for one in self.walk.findings}
        unread = Counter(self._unread())
        text = file_text(self.look)
        try:
            added = with_answer(text, answer, self.judged.rig)
        except ValueError:
            read = f"{self.look} is no longer laid out as a look that is being made"
            raise ProblemFound(f"{read}; put 'cannot_tell:' before 'seen:', each on a line of its own.") from None
        self._write(added)
        self.hot = frozenset()
        try:
            walk = self.read()
            if more := Counter(self._unread()) - unread:
                raise Refused(one for one in self.judged.rig.unread if one._replace(place=_ANYWHERE) in more)
        except Refused:
            self._write(text)
            self.read()
            raise
        return tuple(one for one in walk.findings if (one.rule, one.at.path) not in before)

    def _unread(self) -> Iterator[Fault]:
        """Yield what of this look cannot be read, wherever in it: lines move with what is written."""
        own = os.path.basename(self.look)
        told = (one for one in self.judged.rig.unread if os.path.basename(one.place.file) == own)
        return (one._replace(place=_ANYWHERE) for one in told)

    def _write(self, text: str) -> None:
        with whole_file(self.look) as write:
            write(text)


def look_for(rig: str, day: int, by: str, pack: Pack) -> tuple[Path, bool]:
    """Return the look of this person and day beside the rig, begun now where there is none; and whether it was there.

    A look by somebody else, or one that was written by hand, is left alone. Raises `ProblemFound`.
    """
    for path in _names(rig, day):
        if not os.path.lexists(path):
            shown = os.path.basename(rig)
            new_file(path, begun_look(shown, date.fromordinal(day).isoformat(), by).encode())
            forget_evidence(pack)
            return path, False
        if _is_mine(path, rig, day, by, pack):
            return path, True
    raise ProblemFound(f"there are {_MOST_LOOKS} looks at {rig} of this day; take old ones away.")


def _names(rig: str, day: int) -> Iterator[Path]:
    stem, folder = Path(rig).stem, Path(rig).parent
    own = f"{stem}-look-{date.fromordinal(day).isoformat()}"
    yield folder / f"{own}.yaml"
    yield from (folder / f"{own}-{number}.yaml" for number in range(2, _MOST_LOOKS + 1))


def _is_mine(path: Path, rig: str, day: int, by: str, pack: Pack) -> bool:
    """Whether a file is a look that this person can go on with."""
    try:
        data = file_bytes(path)
        look = read_look(data, str(path), pack.vocabulary)
        with_answer(data.decode(), Answer())
    except (OSError, ValueError, Refused):
        return False
    return (look.rig, look.day, look.by) == (os.path.basename(rig), day, by)
