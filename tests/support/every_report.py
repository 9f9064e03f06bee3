"""Every report that rigcheck can make of a rig: what has to hold of all of them is tried on all of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

__all__ = ["JSON_FORMS", "MARKDOWN_FORMS", "REPORTS", "told_by"]

_FORMS: Mapping[tuple[str, ...], tuple[str, ...]] = {
    ("inspect", "RIG"): ("text", "json", "sarif", "junit", "markdown", "lines"),
    ("inspect", "RECORD"): ("text", "json", "sarif", "junit", "markdown", "lines"),
    ("figures", "RIG"): ("text", "json", "svg"),
    ("draw", "RIG"): ("",),
    ("file", "RIG"): ("",),
    ("sheet", "RIG", "start-up"): ("text", "markdown", "html", "json"),
    ("compare", "RIG", "RIG"): ("text", "json"),
    ("due", "RIG"): ("text", "json", "csv", "icalendar"),
    ("summary", "RIG"): ("text", "json", "markdown"),
    ("history", "RIG"): ("text", "json"),
}
REPORTS: Mapping[str, tuple[str, ...]] = {
    " ".join((*command, form)).strip(): (*command, *(("--format", form) if form else ()))
    for command, forms in _FORMS.items()
    for form in forms
}
"""By a name: the arguments, with RIG and RECORD for the files."""
JSON_FORMS = tuple(name for name in REPORTS if name.endswith(("json", "sarif")))
MARKDOWN_FORMS = tuple(name for name in REPORTS if name.endswith("markdown"))
_TAKING_CONCESSIONS = ("inspect", "draw", "file", "sheet", "summary")


def told_by(name: str, rig: str, record: str, *more: str, concessions: str = "") -> list[str]:
    """Return the arguments that make a report of these files; `concessions` where the command takes them."""

    def filled() -> Iterator[str]:
        yield from ({"RIG": rig, "RECORD": record}.get(one, one) for one in REPORTS[name])
        yield from more
        if concessions and name.startswith(_TAKING_CONCESSIONS):
            yield from ("--concessions", concessions)

    return list(filled())
