"""Where the process begins and ends: its signals and streams, before anything slow is imported."""

from __future__ import annotations

import errno
import io
import os
import sys

TYPE_CHECKING = False  # as checkers of types read it; `typing` would be the slowest import here
if TYPE_CHECKING:
    import signal
    from types import FrameType
    from typing import NoReturn
else:
    import _signal as signal  # without its enumerations, which take longer than all else before Ctrl-C is ours

__all__ = ["start"]

_UNREADABLE = 2
_ENDING = tuple(getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name))

_SWEPT = 100_000, 10, 10
"""After how many new things garbage is looked for: most of what a run makes stays to its end, and with the usual 700
half the time of a register of 16,000 parts went into looking."""


def start() -> int:
    """Run the command that the process was started with, and return its exit code."""
    obeyed = [number for number in _ENDING if signal.getsignal(number) is not signal.SIG_IGN]
    _end_by(obeyed, signal.SIG_DFL)  # nothing is half done while modules are imported: end at once, without a word
    _open_closed_streams()
    if not _has_folder():
        sys.stderr.write("rigcheck: the folder that this runs in is gone or closed; go to another one.\n")
        return _UNREADABLE
    import gc

    from rigcheck.cli.main import main

    gc.set_threshold(*_SWEPT)
    sys.unraisablehook = _end_or_tell
    try:
        _end_by(obeyed, _stop)
        return _unless_unanswered(main())
    finally:
        _end_by(obeyed, signal.SIG_DFL)


def _unless_unanswered(code: int) -> int:
    """Return the exit code, or end with it at once where a store that files are fetched from does not answer."""
    addresses = sys.modules.get("rigcheck.cli.addresses")  # most runs fetch nothing
    if addresses is not None:
        addresses.end_without_answer(code)
    return code


def _end_by(numbers: list[int], action: signal._HANDLER) -> None:
    for number in numbers:
        signal.signal(number, action)


def _stop(number: int, frame: FrameType | None) -> NoReturn:
    """Unwind, so that drafts are taken away and workers ended; a second signal does not disturb that."""
    _end_by([one for one in _ENDING if signal.getsignal(one) is _stop], signal.SIG_IGN)
    raise SystemExit(128 + number)


def _end_or_tell(lost: sys.UnraisableHookArgs) -> None:
    """End where a signal came while an object was let go: nothing unwinds from there, and the run would go on."""
    if isinstance(lost.exc_value, SystemExit):
        os._exit(int(lost.exc_value.code or 0))
    sys.__unraisablehook__(lost)


# --- streams that are closed, a folder that is gone ---


class _Closed(io.TextIOBase):
    """A standard stream that was closed before the process began: whoever uses it is told."""

    encoding = "utf-8"

    @property
    def buffer(self) -> _Closed:
        return self

    def read(self, size: int | None = -1, /) -> NoReturn:
        raise OSError(errno.EBADF, "it is closed")

    def readline(self, size: int | None = -1, /) -> str:  # type: ignore[override]
        return ""  # nobody answers any more: a walk stops as at the end of its input

    def write(self, text: str, /) -> NoReturn:
        raise OSError(errno.EBADF, "it is closed")


def _open_closed_streams() -> None:
    """Take the numbers of closed streams, so that no report's file gets one of them."""
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # the lowest free number is this one
    sys.stdin = sys.stdin or _Closed()
    sys.stdout = sys.stdout or _Closed()
    sys.stderr = sys.stderr or open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115  stays open to the end


def _has_folder() -> bool:
    try:
        os.getcwd()
    except OSError:
        return False
    return True
