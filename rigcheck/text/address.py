"""Names of files as reports have them: paths, and addresses of stores, of which a chain of archives may follow."""

from __future__ import annotations

import errno
import os
import re
from urllib.parse import unquote

__all__ = ["FETCHED", "address_of", "beside", "folder_of", "led_to"]

FETCHED = ".rigcheck-fetched-"
"""How the name of a folder begins that holds what was fetched from an address."""
_FETCHED = re.compile(rf"^.*?[/\\]{re.escape(FETCHED)}\w+[/\\]([^/\\]+)(?:[/\\](.*))?$", re.DOTALL)


def folder_of(file: str) -> str:
    """Return the folder that a file lies in.

    >>> folder_of("zip://yard/a.yaml::s3://rigs.zip"), folder_of("yard/a.yaml"), folder_of("a.yaml")
    ('zip://yard::s3://rigs.zip', 'yard', '')
    """
    head, store, path, chain = _parts(file)
    return f"{head}{store}{os.path.dirname(path)}{chain}"


def beside(file: str, path: str) -> str:
    """Return what a path that is seen from a file leads to.

    >>> beside("s3://bucket/yard/a.yaml", "../site.yaml"), beside("yard/a.yaml", "site.yaml")
    ('s3://bucket/site.yaml', 'yard/site.yaml')
    """
    head, store, own, chain = _parts(file)
    return f"{head}{store}{os.path.normpath(os.path.join(os.path.dirname(own), path))}{chain}"


def led_to(file: str, path: str) -> str:
    """Return what a path leads to that is seen from a file of this machine.

    What was fetched from an address speaks of what lies below it alone: no store names files of this machine.
    Raises OSError where it would.

    >>> led_to("yard/a.yaml", "../site.yaml")
    'site.yaml'
    """
    led = os.path.normpath(os.path.join(os.path.dirname(file), path))
    fetched = _FETCHED.match(file)
    if fetched is not None and not led.startswith(file[: fetched.end(1)] + os.sep):
        raise PermissionError(errno.EACCES, "it would lie outside of what the address names", path)
    return led


def _parts(file: str) -> tuple[str, str, str, str]:
    first, chained, rest = file.partition("::") if "://" in file else (file, "", "")
    head, store, path = first.rpartition("://")
    return head, store, path, f"{chained}{rest}"


def address_of(name: str) -> str:
    """Return the address that a file was fetched from; any other name stays as it is.

    >>> address_of("/tmp/.rigcheck-fetched-x1/zip%3A%2F%2F%3A%3As3%3A%2F%2Fyard.zip/a/b.yaml")
    'zip://a/b.yaml::s3://yard.zip'
    """
    found = _FETCHED.match(name)
    if found is None:
        return name
    first, chain, rest = unquote(found[1]).partition("::")
    below = (found[2] or "").replace(os.sep, "/")
    gap = "" if first.endswith("/") or not below else "/"
    return f"{first}{gap}{below}{chain}{rest}"
