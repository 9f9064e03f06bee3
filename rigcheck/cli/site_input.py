"""Rigs that stand at a site, and the site files that they name: read from the paths that they give each other."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial
from typing import Any

from msgspec.structs import replace

from rigcheck.cli.evidence_input import around_of, records_of
from rigcheck.cli.inputs import rig_bytes, shown_name
from rigcheck.judge.judged import judge
from rigcheck.judge.standing import standing_facts
from rigcheck.quantity.wording import shown_day
from rigcheck.rig.loader import load_rig
from rigcheck.rig.look_file import LookFile
from rigcheck.rig.premises import load_premises
from rigcheck.rig.shared_facts import SharedFacts, shared_facts
from rigcheck.rig.thing import Rig
from rigcheck.rig.vocabulary import Vocabulary
from rigcheck.rules.pack import Pack
from rigcheck.text.address import led_to
from rigcheck.text.faults import Fault, Refused, shown_text
from rigcheck.text.place import Place

__all__ = ["holds_site", "read_premises", "read_rig", "with_their_sites"]

_SITE_KEY = re.compile(rb"^(?:\xef\xbb\xbf)?site[ \t]*:[ \t]*[^\s{#]", re.MULTILINE)
_RIG_KEY = re.compile(rb"^(?:\xef\xbb\xbf)?[\"']?rig[\"']?[ \t]*:", re.MULTILINE)
_STANDS_AT = re.compile(
    rb"^stands_at[ \t]*:[ \t]*(?:'([^'\r\n]+)'|\"([^\"\r\n]+)\"|([^\s#'\"][^#\r\n]*))", re.MULTILINE
)


def holds_site(data: bytes) -> bool:
    """Return whether a file describes a site: its top level has the key 'site' with a name, and no 'rig'."""
    return _SITE_KEY.search(data) is not None and _RIG_KEY.search(data) is None


def read_rig(
    data: bytes,
    name: str,
    pack: Pack,
    register: str = "",
    *,
    strict: bool = False,
    but: str = "",
    until: int | None = None,
    day: int | None = None,
) -> Rig:
    """Return the rig of a file with what its standard rig, its site, the register, looks and records say.

    `register`: the path of the one that the command names, if it names one; `strict`: refuse a rig with a statement
    that cannot be read, which else stands in its `unread`;
    `but`: the path of a record that is left out, since it is judged itself; `until`: the last day of looks and
    records that count; `day`: the one that is judged for, where what is of a later day is to be told. Raises `Refused`.
    """
    around = around_of(name, pack, register)._replace(site_of=partial(_shared, name, pack.vocabulary))
    if until is not None:
        looks = tuple(look for look in around.looks if look.day <= until)
        around = around._replace(looks=looks, looks_with=partial(_until, around.looks_with, until))
    rig = load_rig(data, shown_name(name), pack.vocabulary, around, what_can_be_read=not strict)
    records = [path for path in records_of(name, pack) if not but or os.path.realpath(path) != os.path.realpath(but)]
    days = [*((look.day, look.day_place) for look in around.looks), *_own_days(rig)]
    if records:
        rig, more = _with_records(records, rig, pack, until)
        days += more
    return rig if day is None else _told_of_what_is_later(rig, days, day)


def _own_days(rig: Rig) -> Iterator[tuple[int, Place]]:
    """Yield the days on which a description itself says that something was seen, each where it is written."""
    marks = {(one.seen.day, one.seen.place) for one in rig.things if one.seen is not None}
    said = (one for thing in rig.things for several in thing.said.values() for one in several)
    marks |= {(one.day, one.place) for one in said if one.day is not None and one.place.file == rig.file}
    yield from sorted(marks, key=lambda mark: mark[1])


def _until(looks_with: Callable[[str], Iterable[LookFile]] | None, until: int, tag: str) -> Iterator[LookFile]:
    yield from (look for look in looks_with(tag) if look.day <= until) if looks_with is not None else ()


def _told_of_what_is_later(rig: Rig, days: Iterable[tuple[int, Place]], day: int) -> Rig:
    """Return a rig that says which looks and records of it are of a day that is still to come."""
    read = f"This is of a day after the one that is judged for, {shown_day(day)}: it does not count yet."
    write = "Correct the day, or judge for a later one with --day."
    later = [Fault(place, read, write, alone=True) for one, place in days if one > day]
    return replace(rig, unread=(*rig.unread, *later)) if later else rig


def _with_records(paths: Iterable[str], rig: Rig, pack: Pack, until: int | None) -> tuple[Rig, list[tuple[int, Place]]]:
    """Lay in what records say, and return their days too.

    One that cannot be read is left out, and stands among what was not read.
    """
    from rigcheck.procedure.record_evidence import lay_records  # most rigs have none
    from rigcheck.procedure.record_reader import read_record

    records = []
    faults: list[Fault] = []
    for path in paths:
        try:
            record = read_record(rig_bytes(path), shown_name(path))
        except Refused as refused:
            faults += refused.faults
        else:
            records += [record] if until is None or record.day <= until else []
    faults += lay_records(records, rig, pack)
    days = [(record.day, record.day_place) for record in records]
    return replace(rig, unread=(*rig.unread, *faults)) if faults else rig, days


def read_premises(data: bytes, name: str, pack: Pack, *, day: int, local_code: str, strict: bool = False) -> Rig:
    """Return the premises of a site file, its rigs judged for what they hold; `strict` as in `read_rig`.

    Raises `Refused`.
    """
    unread: list[Fault] = []

    def stand(path: str) -> tuple[Mapping[str, Any], Place]:
        at = led_to(name, path)
        rig = read_rig(rig_bytes(at), at, pack, strict=strict)
        unread.extend(rig.unread)
        place = rig.place(rig.root)
        if not rig.stands_at or _real(led_to(at, rig.stands_at)) != _real(name):
            read = "This rig is listed by a site, and does not name it."
            write = f"Write 'stands_at: {os.path.relpath(name, os.path.dirname(at) or '.')}' below its name."
            raise Refused([Fault(place, read, write)])
        judged = judge(rig, pack, day=day, local_code=local_code)
        said = {"name": rig.name, **standing_facts(judged)}
        judged.take_apart()
        return said, place

    premises = load_premises(data, shown_name(name), pack.vocabulary, stand, what_can_be_read=not strict)
    return replace(premises, unread=(*premises.unread, *unread)) if unread else premises


def with_their_sites(files: list[str]) -> list[str]:
    """Return files with the site files that the rigs among them name, each once, at the end."""
    known = {_real(name) for name in files if name != "-"}
    added = []
    for name in files:
        site = "" if name == "-" else _site_named(name)
        if site and _real(site) not in known:
            known.add(_real(site))
            added.append(site)
    return [*files, *added]


def _site_named(name: str) -> str:
    try:
        found = _STANDS_AT.search(rig_bytes(name))
        said = next(filter(None, found.groups())) if found is not None else b""
        path = led_to(name, said.decode("utf-8", "replace").strip()) if said else ""
    except OSError:  # reading it will say so
        return ""
    return path if os.path.isfile(path) else ""


def _shared(rig: str, vocabulary: Vocabulary, path: str) -> SharedFacts:
    if rig == "-":
        raise ValueError("a rig on standard input has no folder to look for it in")
    at = led_to(rig, path)
    shared = shared_facts(rig_bytes(at), shown_name(at), vocabulary)
    if _real(rig) not in {_real(led_to(at, one)) for one in shared.rigs}:
        read = f"This site file does not list the rig {shown_text(shown_name(rig))}, which names it."
        write = f"Write '- file: {os.path.relpath(rig, os.path.dirname(at) or '.')}' under 'rigs:'."
        raise Refused([Fault(Place(shown_name(at), 1, 1), read, write)])
    return shared


def _real(name: str) -> str:
    return os.path.realpath(name)
