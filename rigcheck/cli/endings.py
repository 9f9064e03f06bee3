"""What the ending of an output's name says: which form is written there, or that none is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from rigcheck.cli.console import ProblemFound

__all__ = ["form_for", "keep_to_folder"]

_ENDINGS: Mapping[str, tuple[str, ...]] = {
    "text": (".txt",),
    "lines": (".log",),
    "json": (".json",),
    "sarif": (".sarif",),
    "junit": (".xml",),
    "markdown": (".md",),
    "html": (".html", ".htm"),
    "svg": (".svg",),
    "csv": (".csv",),
    "icalendar": (".ics",),
    "yaml": (".yaml", ".yml"),
}
_TOO = {"sarif": (".json",)}
"""Endings that a form may have if it is asked for by name."""


def form_for(output: Path | None, asked: str | None, forms: Sequence[str]) -> str:
    """Return the form of a report: the one asked for, or that of the ending, or else the first of `forms`.

    Raises `ProblemFound` where the ending says another form than was asked for, or none that there is.
    """
    ending = output.suffix.lower() if output is not None else ""
    said = [form for form, endings in _ENDINGS.items() if ending in endings]
    if asked:
        if said and asked not in said and ending not in _TOO.get(asked, ()):
            raise ProblemFound(f"{output} would hold {asked}; name it otherwise, or leave --format out.")
        return asked
    if not ending:
        return forms[0]
    here = [form for form in said if form in forms]
    if not here:
        told = f"{output}: nothing is written here under that ending. There is {_listed(forms)}."
        raise ProblemFound(f"{told}{_hint(ending, forms)}")
    return here[0]


def keep_to_folder(output: Path) -> None:
    """Raise `ProblemFound` where a folder would be called as a file of some form is: nobody opens it as one."""
    if output.suffix.lower() in (".parquet", *(one for endings in _ENDINGS.values() for one in endings)):
        raise ProblemFound(f"{output} would be a folder of tables; name it without {output.suffix!r}.")


def _listed(forms: Sequence[str]) -> str:
    return ", ".join(f"{_ENDINGS[form][0]} ({form})" if form in _ENDINGS else form for form in forms)


def _hint(ending: str, forms: Sequence[str]) -> str:
    return " For a PDF, have a browser print the HTML." if ending == ".pdf" and "html" in forms else ""
