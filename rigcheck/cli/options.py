"""Options that several commands take, and the forms that reports can have."""

from __future__ import annotations

import argparse
import re
from datetime import date
from pathlib import Path
from typing import Any

from rigcheck.rules.gravity import SIGNALS
from rigcheck.rules.local_codes import LOCAL_CODES

__all__ = [
    "BY_ENDING",
    "DEPARTURE_FORMS",
    "DUE_FORMS",
    "FIGURE_FORMS",
    "QUESTIONS",
    "REPORT_FORMS",
    "SCHEMAS",
    "SHEET_FORMS",
    "SHELLS",
    "SUMMARY_FORMS",
    "FormatAction",
    "OutputAction",
    "concessions_option",
    "day_option",
    "evidence_options",
    "hold_option",
    "output_option",
    "purpose_option",
    "rules_option",
    "sheet_options",
]

SCHEMAS = (
    *("rig", "site", "register", "look", "concessions", "settings", "record"),
    *("rule", "limits", "documents", "vocabulary", "procedure"),
    *("report", "figures", "sheet", "departures", "history", "due", "summary"),
)
SHEET_FORMS = ("text", "markdown", "html", "json")
SUMMARY_FORMS = ("text", "json", "markdown")
DUE_FORMS = ("text", "json", "csv", "icalendar")
FIGURE_FORMS = ("text", "json", "svg")
REPORT_FORMS = ("text", "json", "sarif", "junit", "markdown", "lines")
DEPARTURE_FORMS = ("text", "json")
BY_ENDING = "how to write it (default: what the ending of the output says: {}; else text)"
QUESTIONS = ("looks", "danger", "warning", "caution", "all", "none")
SHELLS = ("bash", "zsh", "tcsh")


def _folder(text: str) -> Path:
    if not text:
        raise argparse.ArgumentTypeError("the name of a folder is empty; write . for the one that this runs in")
    return Path(text)


def rules_option(parser: argparse.ArgumentParser) -> None:
    """Folders of rules that are laid on those that ship."""
    parser.add_argument(
        "--rules",
        metavar="DIR",
        type=_folder,
        action="append",
        default=[],
        help="a folder of your own rules and limits, laid on top of those that ship",
    )


def evidence_options(parser: argparse.ArgumentParser) -> None:
    """Options of every command that reads rigs: the rules on top, and what is on record."""
    rules_option(parser)
    told = "what is on record of tagged parts, in place of the one that the rig or .rigcheck.yaml names"
    parser.add_argument("--register", metavar="PATH", help=told)


class FormatAction(argparse.Action):
    """Begins one more report: a pair of its form and of the file that it goes to."""

    def __call__(self, parser: Any, namespace: Any, values: Any, option_string: Any = None) -> None:
        pairs = getattr(namespace, self.dest) or []
        setattr(namespace, self.dest, [*pairs, (values, None)])


class OutputAction(argparse.Action):
    """Says where the report that was begun last goes; without one, the ending of its name says its form."""

    def __call__(self, parser: Any, namespace: Any, values: Any, option_string: Any = None) -> None:
        pairs = getattr(namespace, self.dest) or []
        form, taken = pairs[-1] if pairs else (None, None)
        if taken is None:
            setattr(namespace, self.dest, [*pairs[:-1], (form, values)])
        elif form is None:
            setattr(namespace, self.dest, [*pairs, (None, values)])
        else:
            parser.error("two --output follow one --format; write one --format before each")


def output_option(parser: argparse.ArgumentParser) -> None:
    """Where the report goes."""
    parser.add_argument("--output", metavar="FILE", type=Path, help="write there instead")


def _day(text: str) -> date:
    if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
        raise argparse.ArgumentTypeError(f"{text!r} is no day; write YYYY-MM-DD")
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is not in the calendar") from None


def day_option(parser: argparse.ArgumentParser, what: str) -> None:
    """The day of judgement; `what` says what it is the day of."""
    parser.add_argument("--day", metavar="YYYY-MM-DD", type=_day, help=f"{what} (default: today)")


def purpose_option(parser: argparse.ArgumentParser) -> None:
    """What the rig is judged for."""
    told = (
        "what to judge: a standard rig by what lasts, on whatever day; a rig to be commissioned by all that is "
        "written (the default); a rig in use, where what lasts for a job or a day must have been seen in it"
    )
    parser.add_argument(
        "--for", choices=("standard", "commissioning", "use"), default="commissioning", dest="purpose", help=told
    )


def sheet_options(parser: argparse.ArgumentParser) -> None:
    """What a sheet of a procedure depends on."""
    told = "take the limits and steps of this code, whatever the rig names"
    parser.add_argument("--local-code", choices=LOCAL_CODES, help=told)
    evidence_options(parser)
    day_option(parser, "the day to make it for")
    hold_option(parser)


def concessions_option(parser: argparse.ArgumentParser) -> None:
    """A file of concessions beside the rigs."""
    told = "a file of concessions beside those in the rigs; each entry says 'rig:', a name or a file"
    parser.add_argument("--concessions", metavar="FILE", help=told)


def hold_option(parser: argparse.ArgumentParser) -> None:
    """From which signal word a finding puts a rig on hold."""
    parser.add_argument(
        "--hold-at",
        choices=SIGNALS,
        default="warning",
        help="put the rig on hold for findings with this signal word or a graver one (default: warning)",
    )
