"""Records of work among the files of `rigcheck inspect`: each names the rig that it belongs to."""

from __future__ import annotations

from rigcheck.cli.inputs import rig_bytes, shown_name
from rigcheck.cli.site_input import read_rig
from rigcheck.judge.inspection import Inspection
from rigcheck.procedure.record_reader import Record, read_record
from rigcheck.procedure.record_verdict import judge_record
from rigcheck.rig.concessions import Beside
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Signal
from rigcheck.text.address import led_to
from rigcheck.text.faults import Fault, Refused

__all__ = ["inspect_record"]


def inspect_record(
    data: bytes,
    name: str,
    pack: Pack,
    beside: Beside | None = None,
    *,
    local_code: str,
    hold_at: Signal,
    tell_holds: bool,
    register: str = "",
    strict: bool = False,
) -> Inspection:
    """Return what the procedure says of the record in `data`; `name` is its path. Raises `Refused`.

    `beside`: concessions that are kept beside the rigs, for the rig of the record.
    """
    record = read_record(data, shown_name(name))
    rig = _rig_of(record, name, pack, register, strict=strict)
    if beside is not None:
        rig = beside.given_to(rig)
    return judge_record(record, rig, pack, local_code=local_code, hold_at=hold_at, tell_holds=tell_holds)


def _rig_of(record: Record, name: str, pack: Pack, register: str, *, strict: bool) -> Rig:
    path = record.rig
    try:
        path = led_to(name, record.rig)
        data = rig_bytes(path) if record.rig != "-" else b""
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        read = f"The rig {shown_name(path)} cannot be read: {reason}."
        write = "Write the path of the rig's file, seen from the folder of this record."
        raise Refused([Fault(record.rig_place, read, write)]) from None
    return read_rig(data, path, pack, register, but=name, strict=strict)
