"""A procedure that is done by the hand: its record lies beside the rig, and each step is on the disk before the next.

What may be done now is worked out from the files alone, so that whoever stops goes on where the record ends.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from datetime import date, datetime
from pathlib import Path

from rigcheck.cli.console import ProblemFound
from rigcheck.cli.draft import alone_in, new_file, whole_file
from rigcheck.cli.inputs import rig_bytes
from rigcheck.cli.site_input import read_rig
from rigcheck.judge.inspection import Inspection
from rigcheck.judge.judged import judge
from rigcheck.procedure.expansion import Instance
from rigcheck.procedure.progress import Progress, progress_of
from rigcheck.procedure.record_lines import begun_record, gone_on, stopped_at, with_step
from rigcheck.procedure.record_reader import read_record
from rigcheck.procedure.record_verdict import judge_record
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Signal
from rigcheck.rules.steps import Procedure
from rigcheck.text.faults import Refused
from rigcheck.text.source_file import file_text

__all__ = ["RecordOnDisk"]

_MOST_RECORDS = 100  # of one procedure on one day


class RecordOnDisk:
    """One procedure done with one rig. Its record is there from the first step on."""

    progress: Progress

    def __init__(
        self, rig: str, procedure: Procedure, pack: Pack, day: int, by: str, local_code: str = "", register: str = ""
    ) -> None:
        """Find a record that can be gone on with, and read what there is. Raises `Refused`, OSError."""
        self.rig, self.procedure, self.pack, self.day, self.by = rig, procedure, pack, day, by
        self.local_code, self.register = local_code, register
        self.passed: list[int] = []
        self.began: date | None = None
        self.path: Path | None = None
        self.read_all()

    def read_all(self) -> Progress:
        """Read the rig, its looks and the record as they are now. Raises `Refused`, OSError.

        Where nothing was done yet, it may have been begun elsewhere by the same person: that is gone on with.
        """
        self.path = self.path or next((path for path in self._names() if self._goes_on(path)), None)
        but = str(self.path) if self.path is not None else ""
        description = read_rig(rig_bytes(self.rig), self.rig, self.pack, self.register, but=but)
        self.judged = judge(description, self.pack, day=self.day, local_code=self.local_code)
        return self.read()

    def read(self) -> Progress:
        """Work out from the record where the procedure stands."""
        self.progress = self._standing(self._text())
        return self.progress

    def take(self, instance: Instance, at: datetime, values: Mapping[str, str]) -> Progress:
        """Write a step. Raises `ProblemFound` where it cannot be written, `Refused` where it cannot be read back."""
        with alone_in(Path(self.rig).parent):
            return self._take(instance, at, values)

    def _take(self, instance: Instance, at: datetime, values: Mapping[str, str]) -> Progress:
        try:
            added = with_step(gone_on(self._text()), instance, self._clock(at), values)
        except ValueError:
            raise ProblemFound(f"{self.path} is no longer laid out as a record that is being made.") from None
        self.progress = self._standing(added)  # what cannot be read back is not written
        self._write(added)
        return self.progress

    def pass_over(self, instance: Instance) -> Progress:
        """Leave out a step that need not be done, or does not apply."""
        self.passed.append(instance.number)
        return self.read()

    def stop(self, at: datetime) -> None:
        """Write that it was stopped here, where something was done and not all."""
        if self.path is not None and self.progress.done and not self.progress.finished:
            with alone_in(self.path.parent):
                self._write(stopped_at(self._text(), self._clock(at)))

    def verdict(self, hold_at: Signal) -> Inspection:
        """Return what the procedure says of the record as it stands."""
        return judge_record(
            read_record(self._text().encode(), self._file()),
            self.judged.rig,
            self.pack,
            local_code=self.local_code,
            hold_at=hold_at,
        )

    # --- the file ---

    def _standing(self, text: str) -> Progress:
        return progress_of(read_record(text.encode(), self._file()), self.judged, self.procedure, self.passed)

    def _file(self) -> str:
        return str(self.path or next(self._names()))

    def _text(self) -> str:
        if self.path is None:
            return begun_record(
                self.procedure.name, os.path.basename(self.rig), date.fromordinal(self.day).isoformat(), self.by
            )
        return file_text(self.path)

    def _write(self, text: str) -> None:
        if self.path is not None:
            with whole_file(self.path) as write:
                write(text)
            return
        free = next((path for path in self._names() if not os.path.lexists(path)), None)
        if free is None:
            raise ProblemFound(f"there are {_MOST_RECORDS} records of {self.procedure.name} of this day.")
        new_file(free, text.encode())
        self.path = free

    def _names(self) -> Iterator[Path]:
        stem, folder = Path(self.rig).stem, Path(self.rig).parent
        own = f"{stem}-{self.procedure.name}-{date.fromordinal(self.day).isoformat()}"
        yield folder / f"{own}.yaml"
        yield from (folder / f"{own}-{number}.yaml" for number in range(2, _MOST_RECORDS + 1))

    def _goes_on(self, path: Path) -> bool:
        """Whether a file is a record of this person and day that somebody has not brought to its end."""
        try:
            text = file_text(path)
            record = read_record(text.encode(), str(path))
            gone_on(stopped_at(text, "00:00"))
        except (OSError, ValueError, Refused):
            return False
        same = (record.procedure, record.rig, record.day, record.by)
        if same != (self.procedure.name, os.path.basename(self.rig), self.day, self.by):
            return False
        rig = read_rig(rig_bytes(self.rig), self.rig, self.pack, self.register, but=str(path))
        judged = judge(rig, self.pack, day=self.day, local_code=self.local_code)
        return not progress_of(record, judged, self.procedure).finished

    def _clock(self, at: datetime) -> str:
        """Return a time of day as the record notes it; after midnight with its day."""
        self.began = self.began or at.date()
        days = (at.date() - self.began).days
        return f"{date.fromordinal(self.day + days)} {at:%H:%M:%S}" if days else f"{at:%H:%M:%S}"
