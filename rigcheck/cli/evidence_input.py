"""What belongs to a rig beside its description: its standard rig, its site, the register, the looks at it.

Looks and records lie beside the rig, or in a folder `looks` or `records` there or one up. The register is the one
that the command names, or else the rig, or else the nearest `.rigcheck.yaml` upwards from it.
"""

from __future__ import annotations

import errno
import os
import re
from collections.abc import Hashable, Iterable, Iterator
from functools import partial
from typing import NamedTuple

from rigcheck.cli.console import complain
from rigcheck.cli.evidence_head import HEAD, evidence_in, head_of, rig_named
from rigcheck.cli.inputs import SETTINGS, listed_yaml, rig_bytes, shown_name, yaml_files
from rigcheck.cli.register_input import register_at
from rigcheck.cli.tags_in_looks import tags_named
from rigcheck.rig.around import Around, Settings
from rigcheck.rig.look_file import LookFile, read_look
from rigcheck.rig.register import Register
from rigcheck.rig.thing_names import folded_name
from rigcheck.rules.pack import Pack
from rigcheck.rules.standard_rigs import standard_of
from rigcheck.text.address import FETCHED, led_to
from rigcheck.text.faults import Fault, Refused, nearest_word, shown_text
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, Scalar, laid_in, read_yaml

__all__ = [
    "EVIDENCE_FOLDERS",
    "Parted",
    "around_of",
    "check_evidence",
    "forget_evidence",
    "holds_register",
    "parted",
    "records_of",
    "rig_named",
    "stamp_of",
]

_KNOWN_SETTINGS = ("register", "every")
EVIDENCE_FOLDERS = ("looks", "records")
"""Folders for evidence, beside the rigs or beside their folder."""
_TAGGED, _LOST = "looks by tag", "evidence of no rig"
_REGISTER_KEY = re.compile(rb"^(?:\xef\xbb\xbf)?register[ \t]*:", re.MULTILINE)
_LEAVE_KEY = re.compile(rb"(?:\xef\xbb\xbf)?(?:[ \t]*(?:#.*|---)?\r?\n)*[\"']?concessions[\"']?[ \t]*:")
"""Concessions kept beside rigs begin with their key; only a file that does is read whole to know it for them."""
_RIG_KEY = re.compile(rb"^(?:\xef\xbb\xbf)?[\"']?rig[\"']?[ \t]*:", re.MULTILINE)


def around_of(name: str, pack: Pack, register: str = "") -> Around:
    """Return what a rig file may lead to, but for its site; `register`: the path of the one that the command names."""
    looks, unread = _looks_at(name, pack) if name != "-" else ((), ())
    settings = None
    try:
        settings = None if name == "-" else _settings_of(name, pack)
    except Refused as refused:  # the rig is judged without what its folder says of it
        unread = (*unread, *(fault._replace(alone=True) for fault in refused.faults))
    told = settings if settings is not None and settings.every is not None else None
    elsewhere = None if name == "-" else partial(_looks_elsewhere, name, pack)
    return Around(
        standard_of=standard_of(pack, name),
        register_of=partial(_register, name, pack, register, settings),
        looks=looks,
        settings=told,
        unread=unread,
        looks_with=elsewhere,
    )


# --- looks and records ---


def _looks_at(name: str, pack: Pack) -> tuple[tuple[LookFile, ...], tuple[Fault, ...]]:
    """Return the looks at a rig, and what is wrong with those that cannot be read: the rig is judged without them."""
    looks: list[LookFile] = []
    unread: list[Fault] = []
    for path in filter(rig_named, _evidence_of(name, pack)):
        try:
            looks.append(read_look(rig_bytes(path), shown_name(path), pack.vocabulary))
        except Refused as refused:
            unread += (fault._replace(alone=True) for fault in refused.faults)
    return tuple(looks), (*unread, *_astray(name, pack))


def _astray(name: str, pack: Pack) -> Iterator[Fault]:
    """Yield a fault for each look or record that names no file that is there, and this rig nearly."""
    folder, real = os.path.dirname(name), os.path.realpath(name)
    for meant, paths in pack.kept.get((_LOST, *_folders(name)), {}).items():
        called = os.path.basename(meant)
        if os.path.dirname(meant) == os.path.dirname(real) and _nearest(called, folder) == os.path.basename(name):
            for path in paths:
                read = f"There is no rig {shown_text(called)} that this would be of."
                write = "Write the path of the rig's file, seen from here."
                yield Fault(Place(shown_name(path), 1, 1), read, write, os.path.basename(name), alone=True)


def _nearest(called: str, folder: str) -> str:
    known = listed_yaml(folder or ".")
    same = (one for one in known if one.casefold() == called.casefold())
    return next(same, "") or nearest_word(called, known)


def _looks_elsewhere(name: str, pack: Pack, tag: str) -> Iterator[LookFile]:
    """Yield the looks at other rigs that speak of a tag; one that cannot be read is told with its own rig."""
    key = (_TAGGED, *_folders(name))
    if key not in pack.kept:
        pack.kept[key] = {}
        for path in filter(rig_named, _near(name)):
            for called in tags_named(path):
                pack.kept[key].setdefault(called, {})[path] = None
    for path in pack.kept[key].get(folded_name(tag), ()):
        if os.path.realpath(os.path.join(os.path.dirname(path), rig_named(path))) != os.path.realpath(name):
            try:
                yield read_look(rig_bytes(path), shown_name(path), pack.vocabulary)
            except Refused:
                continue


def records_of(name: str, pack: Pack) -> tuple[str, ...]:
    """Return the paths of the records of work with a rig that lie where evidence is looked for."""
    return () if name == "-" else tuple(path for path in _evidence_of(name, pack) if not rig_named(path))


def _evidence_of(name: str, pack: Pack) -> tuple[str, ...]:
    """Return the looks and records that name a rig; each folder is gone through once for all of its rigs."""
    key = ("evidence", *_folders(name))
    if key not in pack.kept:
        found: dict[str, list[str]] = {}
        for path in _near(name):
            rig = evidence_in(path).rig
            if rig:
                meant = os.path.realpath(os.path.join(os.path.dirname(path), rig))
                found.setdefault(meant, []).append(path)
        pack.kept[key] = found
        pack.kept[_LOST, *_folders(name)] = {one: paths for one, paths in found.items() if not os.path.lexists(one)}
    kept = pack.kept[key]
    return tuple(kept.get(os.path.realpath(name), ())) if kept else ()


def _folders(name: str) -> tuple[str, str]:
    """Return where a file is named and where it lies: both are looked through."""
    return os.path.realpath(os.path.dirname(name) or "."), os.path.dirname(os.path.realpath(name))


def forget_evidence(pack: Pack) -> None:
    """Have folders gone through anew: looks and records came since, while a page was served."""
    for key in [one for one in pack.kept if isinstance(one, tuple) and one[0] in ("evidence", _TAGGED, _LOST)]:
        del pack.kept[key]


def stamp_of(name: str, more: Iterable[str] = ()) -> Hashable:
    """Return what tells a rig and all that may lie beside it from what lay there before; `more`: files elsewhere."""
    return tuple(map(_stamp, dict.fromkeys((name, *_near(name), *more))))


def _stamp(path: str) -> Hashable:
    try:
        told = os.stat(path)
    except OSError:  # reading it says so
        return path
    return path, told.st_ino, told.st_size, told.st_mtime_ns


def _near(name: str) -> Iterator[str]:
    """Yield the files in which looks at a rig, and records of work with it, may lie; of a link, at its end too."""
    real = os.path.realpath(name)
    if real == os.path.abspath(name):
        yield from _beside(name)
        return
    met: set[str] = set()
    for path in (*_beside(name), *_beside(real)):
        there = os.path.realpath(path)
        if there not in met:
            met.add(there)
            yield path


def _beside(name: str) -> Iterator[str]:
    folder = os.path.dirname(name)
    yield from (os.path.join(folder, one) for one in listed_yaml(folder or "."))
    for one in (*EVIDENCE_FOLDERS, *(os.path.join(os.pardir, one) for one in EVIDENCE_FOLDERS)):
        beside = os.path.normpath(os.path.join(folder, one))
        for path in yaml_files(beside) if os.path.isdir(beside) else ():
            if os.path.isdir(path):  # it cannot be listed, and looks in it would be passed over
                raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), path)
            yield path


class Parted(NamedTuple):
    """Files by what they hold; `rigs` has records and sites too, and the rigs that `looks` are of."""

    rigs: list[str]
    looks: list[str]
    registers: list[str]


def parted(files: list[str], concessions: str | None = "") -> Parted:
    """Return files by what they hold; a folder that holds only a register's files stands for them.

    A file of concessions that lies among rigs is none of them. `concessions`: the one that the command was given, None
    where it was given none: of any other it is said that it does not count. Empty for a command that takes none.
    """
    leaves = [name for name in files if os.path.isfile(name) and os.access(name, os.R_OK) and _holds_leave(name)]
    if 0 < len(leaves) < len(files):  # alone it is refused as what it is not
        files = [name for name in files if name not in leaves]
        _complain_of(leaves if concessions is None else [name for name in leaves if not _same(name, concessions)])
    named = [name for name in files if os.path.isfile(name) and os.access(name, os.R_OK)]  # of others reading says why
    looks = {name: rig for name in named if (rig := rig_named(name))}
    registers = [name for name in named if name not in looks and holds_register(head_of(name))]
    if not looks and not registers:
        return Parted(files, [], [])
    rest = [name for name in files if name not in looks and name not in registers]
    known = {os.path.realpath(name) for name in rest}
    for name, rig in looks.items():
        path = _led_to(name, rig)
        if os.path.isfile(path) and os.path.realpath(path) not in known:
            known.add(os.path.realpath(path))
            rest.append(path)
    return Parted(rest, list(looks), list(dict.fromkeys(_whole(name, registers) for name in registers)))


def _same(name: str, concessions: str) -> bool:
    return not concessions or os.path.realpath(name) == os.path.realpath(concessions)


def _complain_of(leaves: list[str]) -> None:
    for name in map(shown_name, leaves):
        complain(f"{name} holds concessions; none of them counts without --concessions {name}.")


def _holds_leave(name: str) -> bool:
    """Whether a file holds concessions and nothing else; a rig that begins with its own, however long, is a rig."""
    if _LEAVE_KEY.match(head_of(name)) is None:
        return False
    try:
        root = read_yaml(rig_bytes(name), shown_name(name))
    except Refused:  # whoever reads it says why
        return False
    return isinstance(root, Mapping) and set(root.items) == {"concessions"}


def _whole(name: str, registers: list[str]) -> str:
    """Return the folder that a register's file lies in, where all that lies there was named and is of a register."""
    folder = os.path.dirname(name) or "."
    lying = [os.path.join(os.path.dirname(name), one) for one in listed_yaml(folder)]
    return folder if len(lying) > 1 and set(lying) <= set(registers) else name


def _led_to(look: str, rig: str) -> str:
    """Return the rig that a look leads to; nothing where it may not lead there."""
    try:
        return led_to(look, rig)
    except OSError:
        return ""


def holds_register(data: bytes) -> bool:
    """Return whether a file is one of a register: its top level has the key 'register', and no 'rig'."""
    head = data[:HEAD]
    return _REGISTER_KEY.search(head) is not None and _RIG_KEY.search(head) is None


def check_evidence(data: bytes, name: str, pack: Pack) -> None:
    """Refuse a look that cannot be read, and one that no rig will find: nothing is passed over."""
    look = read_look(data, shown_name(name), pack.vocabulary)
    rig = _led_to(name, look.rig)
    if not os.path.isfile(rig):
        read = f"There is no rig {shown_text(rig)} that this would be a look at."
        raise Refused([Fault(look.rig_place, read, "Write the path of the rig's file, seen from here.")])
    if not any(os.path.realpath(path) == os.path.realpath(name) for path in _near(rig)):
        read = "The rig does not find this look."
        write = f"Put it beside {shown_text(rig)}, or into a folder {EVIDENCE_FOLDERS[0]!r} there."
        raise Refused([Fault(look.rig_place, read, write)])


# --- the register ---


def _register(name: str, pack: Pack, chosen: str, settings: Settings | None, own: str) -> Register | None:
    """Return the register for a rig: of the command, of the rig, or of the settings found upwards from it."""
    if chosen:
        return register_at(chosen, pack)
    if own:
        return register_at(led_to(name, own), pack)
    return register_at(settings.register, pack) if settings is not None and settings.register else None


# --- settings ---


def _settings_of(name: str, pack: Pack) -> Settings | None:
    """Return the nearest settings upwards from a rig, kept with the pack; None where there are none."""
    for folder in _upwards(os.path.dirname(os.path.abspath(name))):
        path = os.path.join(folder, SETTINGS)
        if os.path.lexists(path):  # a link that leads nowhere, or a pipe, is told of: settings are looked for there
            key = ("settings", path)
            if key not in pack.kept:
                pack.kept[key] = _read_settings(path)
            found: Settings = pack.kept[key]
            return found
        if os.path.lexists(other := f"{path.removesuffix('.yaml')}.yml"):
            read = "Settings are looked for under another name."
            raise Refused([Fault(Place(_from_here(other), 1, 1), read, f"Call the file {SETTINGS}.")])
    return None


def _upwards(folder: str) -> Iterator[str]:
    """Yield a folder and those that it lies in; of one that was fetched, those that its address names alone."""
    while True:  # names alone: paths as objects take ten times as long, for every rig
        yield folder
        above = os.path.dirname(folder)
        if above == folder or os.path.basename(above).startswith(FETCHED):
            return
        folder = above


def _from_here(path: str) -> str:
    """Return a path as it is told: by its address, or as seen from here, where that is not longer."""
    if FETCHED in path:
        return shown_name(path)
    return min(os.path.relpath(path), path, key=len)


def _read_settings(path: str) -> Settings:
    """Return the settings of a folder. Raises `Refused`, OSError."""
    shown = _from_here(path)
    root = read_yaml(rig_bytes(path), shown)
    items = root.items if isinstance(root, Mapping) else {}
    for key in items:
        if key not in _KNOWN_SETTINGS:
            where = root.keys[key] if isinstance(root, Mapping) else root
            read = f"{shown_text(key)} is nothing known of the settings."
            write = "Write 'register:' and its path, or 'every:' and what is so of every rig here."
            at = Place(shown, where.line, where.column)
            raise Refused([Fault(at, read, write, nearest_word(key, _KNOWN_SETTINGS))])
    node, every = items.get("register"), items.get("every")
    if every is None and (not isinstance(node, Scalar) or not node.text.strip()):
        at = Place(shown, (node or root).line, (node or root).column)
        read, write = "The settings name no register.", "Write 'register:' and its path, seen from here."
        raise Refused([Fault(at, read, write)])
    named = node.text.strip() if isinstance(node, Scalar) else ""
    register = _from_here(led_to(path, named)) if named else ""
    return Settings(shown, register, laid_in(every, shown) if every is not None else None)
