"""Every form in which people and programs are handed one rig, made by the command itself."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

from rigcheck.cli.main import main
from rigcheck.rules.folders import configs_folder, rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.procedures import procedures_of

__all__ = ["DAY", "SHIPPED_RIGS", "SHIPPED_SITES", "forms_of", "forms_of_many", "told"]

DAY = "2026-11-25"
SHIPPED_RIGS = sorted(
    path for name in ("sites", "templates", "yards") for path in (configs_folder() / name).glob("[!.]*.yaml")
)

SHIPPED_SITES = [path for path in SHIPPED_RIGS if "\nsite: " in path.read_text(encoding="utf-8")]
"""Those that are a yard with its rigs, and no rig of its own."""

_INSPECTED = ("text", "json", "sarif", "junit", "markdown", "lines")
_FORMS = {
    "figures": ("text", "json", "svg"),
    "due": ("text", "json", "csv", "icalendar"),
    "summary": ("text", "json", "markdown"),
    "compare": ("text", "json"),
    "history": ("text",),
}
_SHEET_FORMS = ("text", "markdown", "html", "json")


def told(*arguments: object) -> str:
    """Return what a command writes to the screen."""
    out = io.StringIO()
    with redirect_stdout(out), redirect_stderr(io.StringIO()):
        main([str(argument) for argument in arguments])
    return out.getvalue()


def forms_of(path: Path) -> Iterator[tuple[str, str]]:
    """Yield every report that there is of the rig in a file, by the command that makes it."""
    for form in _INSPECTED:
        yield f"inspect --format {form}", told("inspect", path, "--day", DAY, "--format", form, "--tell-holds")
    if path in SHIPPED_SITES:  # a yard is judged as a whole, and has no parts of its own
        return
    for command, forms in _FORMS.items():
        files = (path, path) if command == "compare" else (path,)
        for form in forms:
            yield f"{command} --format {form}", told(command, *files, "--day", DAY, "--format", form)
    yield "ask --paper", told("ask", path, "--paper", "--day", DAY)
    yield "draw", told("draw", path, "--day", DAY)
    yield "file", told("file", path, "--day", DAY)
    for procedure in procedures_of(load_pack(rules_folder())):
        forms = _SHEET_FORMS if procedure == "start-up" else ("text",)  # the words of a sheet are the same in each
        for form in forms:
            made = told("sheet", path, procedure, "--day", DAY, "--format", form)
            yield f"sheet {procedure} --format {form}", made


def forms_of_many() -> Iterator[tuple[str, str]]:
    """Yield every report that is of more than one rig, of a register or of no rig at all, by its command."""
    configs, day = configs_folder(), ("--day", DAY)
    sites, harbour = configs / "sites", configs / "harbour"
    for form in _INSPECTED:
        yield f"inspect sites --format {form}", told("inspect", sites, *day, "--format", form)
        yield f"inspect register --format {form}", told("inspect", harbour / "register", *day, "--format", form)
    for form in _FORMS["due"]:
        yield f"due harbour --format {form}", told("due", harbour, *day, "--daily", "--format", form)
    for form in _FORMS["summary"]:
        yield f"summary sites --format {form}", told("summary", sites, configs / "yards", *day, "--format", form)
    for form in ("text", "json"):
        yield f"history --format {form}", told("history", harbour / "plate-shop-2.yaml", *day, "--format", form)
    for arguments in (("rules", "list"), ("rules", "list", "--sources"), ("words",), ("words", "hose"), ("new",)):
        yield " ".join(arguments), told(*arguments)
