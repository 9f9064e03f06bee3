"""Standard rigs: what a rig of their sort is presumed to be, and what of a description is no more than that."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from msgspec import Struct

from rigcheck.rig.around import UnknownStandard
from rigcheck.rig.loader import load_rig
from rigcheck.rig.matching import match_rigs, same_as_stated, stated_facts
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.layer import STANDARD_RIGS
from rigcheck.rules.pack import Pack
from rigcheck.text.address import address_of, led_to
from rigcheck.text.faults import Fault, Refused, nearest_word, shown_text
from rigcheck.text.source_file import file_bytes

__all__ = [
    "StandardRig",
    "changed_since",
    "digest_of",
    "presumption_of",
    "standard_of",
    "standard_rig",
    "standard_rig_files",
]

_SHOWN = 16  # hexadecimal digits of a digest: enough to tell two versions apart


class StandardRig(Struct, frozen=True):
    """A standard rig that was read; `digest` names the content of its file."""

    rig: Rig
    digest: str


def digest_of(data: bytes) -> str:
    """Return the digest by which a description names the standard rig that it was begun from."""
    return hashlib.sha256(data).hexdigest()[:_SHOWN]


def standard_rig_files(pack: Pack) -> Mapping[str, Path]:
    """Return the files of standard rigs by name: those that ship, and those of the folders laid on top."""
    folders = [configs_folder() / "templates", *(folder / STANDARD_RIGS for folder in pack.folders)]
    return {path.stem: path for folder in folders if folder.is_dir() for path in sorted(folder.glob("*.yaml"))}


def standard_rig(pack: Pack, name: str) -> StandardRig | None:
    """Return a standard rig by name, None where there is none; it is kept with the pack. Raises `Refused`."""
    key = ("standard rig", name)
    if key not in pack.kept:
        path = standard_rig_files(pack).get(name)
        if path is None:
            return None
        data = file_bytes(str(path))
        pack.kept[key] = StandardRig(load_rig(data, str(path), pack.vocabulary), digest_of(data))
    found: StandardRig = pack.kept[key]
    return found


def standard_of(pack: Pack, rig_file: str) -> Callable[[str], tuple[bytes, str]]:
    """Return what reads the standard rig that a description names: by its name, or by its path seen from the rig.

    It raises `UnknownStandard`, OSError.
    """

    def read(name: str) -> tuple[bytes, str]:
        if name.endswith((".yaml", ".yml")):
            path = led_to(rig_file, name)
            return file_bytes(path), address_of(path)
        found = standard_rig_files(pack)
        if name not in found:
            raise UnknownStandard(nearest_word(name, found))
        return file_bytes(str(found[name])), f"{name}.yaml"

    return read


def presumption_of(rig: Rig, pack: Pack) -> Mapping[Thing, frozenset[str]] | None:
    """Return what a rig only presumes: facts that came with its standard rig and that nobody has marked as seen.

    None for a rig that was begun from none. `kind` stands among the facts of a thing of which nothing else is known.
    Where the standard rig has changed since, all that nobody has seen is presumed. Raises `Refused`.
    """
    begun = rig.begun_from
    if begun is None:
        return None
    if begun.file:
        return dict(_laid_in(rig, begun.file))
    standard = standard_rig(pack, begun.name)
    if standard is None:
        known = standard_rig_files(pack)
        read = f"No standard rig is called {shown_text(begun.name)}."
        write = f"Write one of: {', '.join(known)}; or take 'begun_from' out, then all counts as written."
        raise Refused([Fault(begun.place, read, write, nearest_word(begun.name, known))])
    if begun.digest and begun.digest != standard.digest:
        return dict(_unseen(rig))
    return dict(_as_in(standard.rig, rig))


def changed_since(rig: Rig, pack: Pack) -> str:
    """Return what to do where a standard rig is another one than that a rig was begun from; else nothing."""
    begun = rig.begun_from
    if begun is None or begun.file or not begun.digest:
        return ""
    standard = standard_rig(pack, begun.name)
    if standard is None or standard.digest == begun.digest:
        return ""
    return f"it has changed since. Compare the two, and write 'digest: {standard.digest}' ({begun.place})"


def _laid_in(rig: Rig, file: str) -> Iterator[tuple[Thing, frozenset[str]]]:
    """Yield what of each thing stands in the file of the standard rig alone."""
    for thing in rig.things:
        if thing.last_seen is None:
            stated = _stated(thing)
            same = {name for name in stated if getattr(thing.places[name], "file", "") == file}
            alone = same == stated or thing.file == file  # what is said of every part shows none to be there
            yield thing, frozenset((*same, "kind") if alone and not _looked_at(thing) else same)


def _unseen(rig: Rig) -> Iterator[tuple[Thing, frozenset[str]]]:
    for thing in rig.things:
        if thing.last_seen is None:
            yield thing, frozenset(_stated(thing) if _looked_at(thing) else (*_stated(thing), "kind"))


def _as_in(standard: Rig, rig: Rig) -> Iterator[tuple[Thing, frozenset[str]]]:
    for pair in match_rigs(standard, rig):
        before, after = pair.before, pair.after
        if before is None or after is None or after.last_seen is not None:
            continue
        stated, was, now = _stated(after), stated_facts(before), stated_facts(after)
        same = {name for name in stated if name in was and same_as_stated(was[name], now[name])}
        alone = same == stated and not _looked_at(after)  # nothing is its own: that it is there at all is presumed
        yield after, frozenset((*same, "kind") if alone else same)


def _stated(thing: Thing) -> set[str]:
    """Return what can be presumed of a thing; a line without its gas is no line."""
    kept = ("gas", "name", "local_code") if thing.kind.name in ("line", "rig") else ("name",)
    return {name for name in stated_facts(thing) if name not in kept}


def _looked_at(thing: Thing) -> bool:
    """Whether a look says anything of a thing: then it is there."""
    return any(one.basis == "seen" for said in thing.said.values() for one in said)
