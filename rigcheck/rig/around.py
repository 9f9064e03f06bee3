"""What a rig description may lead to: its site, its standard rig, the register, what was seen of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

from rigcheck.rig.look_file import LookFile
from rigcheck.rig.register import Register
from rigcheck.rig.shared_facts import SharedFacts
from rigcheck.text.faults import Fault
from rigcheck.text.yamlfile import Node

__all__ = ["Around", "Settings", "UnknownStandard"]


class UnknownStandard(LookupError):
    """There is no standard rig of that name; `near` is the nearest that there is, or nothing."""

    def __init__(self, near: str) -> None:
        super().__init__(near)
        self.near = near


class Settings(NamedTuple):
    """What a folder says of all rigs in it: its file, the path of the register as written there, and `every:`."""

    file: str
    register: str = ""
    every: Node | None = None


class Around(NamedTuple):
    """What a description may lead to; without one of these a rig that names such a file is refused.

    `site_of` reads what a site file shares, by its path as the rig writes it; `standard_of` returns content and
    name of the file of a standard rig, by its name or path; `register_of` the register that a rig names by its path
    (an empty one: the one that is in force for it, or none). They raise OSError, ValueError or `Refused`.
    `looks`: what was seen of this rig; `looks_with`: the looks at other rigs that speak of a tag;
    `unread`: what is wrong with those at this one that cannot be read.
    `settings`: those of the folder that it lies in.
    """

    site_of: Callable[[str], SharedFacts] | None = None
    standard_of: Callable[[str], tuple[bytes, str]] | None = None
    register_of: Callable[[str], Register | None] | None = None
    looks: tuple[LookFile, ...] = ()
    settings: Settings | None = None
    unread: tuple[Fault, ...] = ()
    looks_with: Callable[[str], Iterable[LookFile]] | None = None
