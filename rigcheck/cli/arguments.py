"""The arguments of the command line, with help."""

from __future__ import annotations

import argparse
import re
import sys
from datetime import date
from pathlib import Path
from typing import Any, NoReturn

from rigcheck.cli.examples import EXAMPLES
from rigcheck.cli.help_texts import FittedHelp, options_of, with_nearest
from rigcheck.rules.gravity import SIGNALS
from rigcheck.rules.local_codes import LOCAL_CODES
from rigcheck.text.harmless import harmless
from rigcheck.version import __version__

__all__ = [
    "DEPARTURE_FORMS",
    "DUE_FORMS",
    "FIGURE_FORMS",
    "REPORT_FORMS",
    "SCHEMAS",
    "SHEET_FORMS",
    "SHELLS",
    "SUMMARY_FORMS",
    "build_parser",
]

SCHEMAS = (
    *("rig", "site", "record", "rule", "limits", "documents", "vocabulary", "procedure"),
    *("report", "figures", "sheet", "departures", "history", "due", "summary"),
)
SHEET_FORMS = ("text", "markdown", "html", "json")
SUMMARY_FORMS = ("text", "json", "markdown")
DUE_FORMS = ("text", "json", "csv", "icalendar")
FIGURE_FORMS = ("text", "json", "svg")
REPORT_FORMS = ("text", "json", "sarif", "junit", "markdown")
DEPARTURE_FORMS = ("text", "json")
_BY_ENDING = "how to write it (default: what the ending of the output says: {}; else text)"
QUESTIONS = ("looks", "danger", "warning", "caution", "all", "none")
SHELLS = ("bash", "zsh", "tcsh")


def build_parser() -> argparse.ArgumentParser:
    """Return the parser of the whole command line."""
    parser: argparse.ArgumentParser = _Parser(
        prog="rigcheck",
        description="Judge descriptions of oxy-fuel cutting and welding rigs by rules that are data.",
        epilog="The local code, the makers' instructions and a competent person decide.",
    )
    parser.add_argument("--version", action="version", version=f"rigcheck {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    _inspect(commands)
    _ask(commands)
    _answer(commands)
    _figures(commands)
    _draw(commands)
    _file(commands)
    _sheet(commands)
    _compare(commands)
    _history(commands)
    _due(commands)
    _summary(commands)
    _register(commands)
    _rules(commands)
    _words(commands)
    _new(commands)
    _schema(commands)
    _completion(commands)
    return parser


class _Parser(argparse.ArgumentParser):
    def _print_message(self, message: str, file: Any = None) -> None:
        """Show help; unlike the parser's own, a stream that does not take it is not passed over."""
        (file or sys.stderr).write(message)

    def error(self, message: str) -> NoReturn:
        """Say what is wrong with the arguments, which may be names of files, without the usage of all of them."""
        told = harmless(with_nearest(message, options_of(self)))
        self.exit(2, f"{self.prog}: {told}\n'{self.prog} --help' tells what there is.\n")


_Commands = argparse._SubParsersAction


def _command(commands: _Commands[argparse.ArgumentParser], name: str, help_text: str) -> argparse.ArgumentParser:
    return commands.add_parser(
        name,
        help=help_text,
        description=help_text[0].upper() + help_text[1:] + ".",
        epilog=EXAMPLES.get(name),  # what `rules` does has none of its own
        formatter_class=FittedHelp,
    )


def _folder(text: str) -> Path:
    if not text:
        raise argparse.ArgumentTypeError("the name of a folder is empty; write . for the one that this runs in")
    return Path(text)


def _rules_option(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--rules",
        metavar="DIR",
        type=_folder,
        action="append",
        default=[],
        help="a folder of your own rules and limits, laid on top of those that ship",
    )


def _evidence_options(parser: argparse.ArgumentParser) -> None:
    """Options of every command that reads rigs: the rules on top, and what is on record."""
    _rules_option(parser)
    told = "what is on record of tagged parts, in place of the one that the rig or .rigcheck.yaml names"
    parser.add_argument("--register", metavar="PATH", help=told)


class _FormatAction(argparse.Action):
    """Begins one more report: a pair of its form and of the file that it goes to."""

    def __call__(self, parser: Any, namespace: Any, values: Any, option_string: Any = None) -> None:
        pairs = getattr(namespace, self.dest) or []
        setattr(namespace, self.dest, [*pairs, (values, None)])


class _OutputAction(argparse.Action):
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


def _output_option(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--output", metavar="FILE", type=Path, help="write there instead")


def _day(text: str) -> date:
    if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
        raise argparse.ArgumentTypeError(f"{text!r} is no day; write YYYY-MM-DD")
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is not in the calendar") from None


def _day_option(parser: argparse.ArgumentParser, what: str) -> None:
    parser.add_argument("--day", metavar="YYYY-MM-DD", type=_day, help=f"{what} (default: today)")


def _inspect(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "inspect", "judge rig descriptions, and records of work")
    told = "a rig file, a record or register file, a folder of them, or - for input"
    parser.add_argument("paths", metavar="PATH", nargs="+", help=told)
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="judge under this code, whatever the rig names")
    _evidence_options(parser)
    _day_option(parser, "the day to judge rigs for; a record has its own day")
    told = "how to report (default: what the ending of the output says; else text); --output follows its form"
    parser.add_argument("--format", choices=REPORT_FORMS, dest="reports", action=_FormatAction, help=told)
    parser.add_argument("--output", metavar="FILE", type=Path, dest="reports", action=_OutputAction, help="write there")
    _hold_option(parser)
    parser.add_argument(
        "--hold-on-unproven",
        action="store_true",
        help="put it on hold for open questions of that gravity too",
    )
    _purpose_option(parser)
    parser.add_argument(
        "--strict",
        action="store_true",
        help="refuse a file in which anything cannot be read, instead of judging what can be",
    )
    parser.add_argument(
        "--hold-on-presumed",
        choices=SIGNALS,
        help="put it on hold where a check of this word or a graver one is only presumed from a standard rig",
    )
    _concessions_option(parser)
    told = (
        "which open questions are listed, the rest is counted: look by look, the gravest looks (looks: the default, "
        "where they are more than a few); those that hold up a rule of this word or a graver one; all; none"
    )
    parser.add_argument("--questions", choices=QUESTIONS, default="looks", help=told)
    parser.add_argument("--tell-holds", action="store_true", help="also name every check that held")


def _purpose_option(parser: argparse.ArgumentParser) -> None:
    told = (
        "what to judge: a standard rig by what lasts, on whatever day; a rig to be commissioned by all that is "
        "written (the default); a rig in use, where what lasts for a job or a day must have been seen in it"
    )
    parser.add_argument(
        "--for", choices=("standard", "commissioning", "use"), default="commissioning", dest="purpose", help=told
    )


def _ask(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "ask", "ask what is still to be looked at round a rig, and write down what was seen")
    parser.add_argument("rig", metavar="RIG", help="a rig file; one that is not there is begun by a few questions")
    told = "do this procedure by the hand, a step at a time, and record it, as start-up (rigcheck sheet lists them)"
    parser.add_argument("procedure", metavar="PROCEDURE", nargs="?", help=told)
    parser.add_argument("--by", metavar="ROLE", help="who looks, by role, as fitter (default: it is asked)")
    told = "ask nothing: make a sheet of what is open, to be filled in by hand (.html) or to be typed (.yaml)"
    parser.add_argument("--paper", action="store_true", help=told)
    parser.add_argument("--page", action="store_true", help="ask on a page that this machine alone is served")
    told = "with --page: serve phones in the same network too; whoever has the address with its key can come in once"
    parser.add_argument("--on-network", action="store_true", help=told)
    parser.add_argument("--port", metavar="N", type=int, help="with --page: the port (default: 8765, or one beside it)")
    parser.add_argument("--output", metavar="FILE", type=Path, help="with --paper: the file to write (default: text)")
    parser.add_argument("--only", choices=SIGNALS, help="ask only after what can be this word or a graver one")
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="judge under this code, whatever the rig names")
    _evidence_options(parser)
    _day_option(parser, "the day of the look")
    _purpose_option(parser)
    _hold_option(parser)


def _answer(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "answer", "take in what was filled in on a sheet of a walk and typed")
    parser.add_argument("rig", metavar="RIG", help="a rig file")
    parser.add_argument("sheet", metavar="SHEET", help="the sheet, as `rigcheck ask RIG --paper --output` made it")
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="judge under this code, whatever the rig names")
    _evidence_options(parser)
    _purpose_option(parser)
    _hold_option(parser)


def _figures(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "figures", "work out the figures of a rig, with their working")
    parser.add_argument("rig", metavar="RIG", help="a rig file, or - for input")
    parser.add_argument(
        "--local-code", choices=LOCAL_CODES, help="take the limits of this code, whatever the rig names"
    )
    parser.add_argument("--all", action="store_true", help="in text: every figure, not only those that decide the rig")
    _evidence_options(parser)
    _day_option(parser, "the day to work out for")
    what = "text, json or svg (default: svg for an output that ends in .svg, else text)"
    parser.add_argument("--format", choices=FIGURE_FORMS, help=what)
    _output_option(parser)


def _draw(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "draw", "draw a rig as SVG, each finding pinned to its part")
    parser.add_argument("rig", metavar="RIG", help="a rig file, or - for input")
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="judge under this code, whatever the rig names")
    _evidence_options(parser)
    _day_option(parser, "the day to judge for")
    _concessions_option(parser)
    _hold_option(parser)
    _output_option(parser)


def _file(commands: _Commands[argparse.ArgumentParser]) -> None:
    told = "make the commissioning file of a rig: one page with state, drawing, findings, figures and sheets"
    parser = _command(commands, "file", told)
    parser.add_argument("rig", metavar="RIG", help="a rig file, or - for input")
    _sheet_options(parser)
    parser.add_argument("--without-working", action="store_true", help="leave out the appendix with the working")
    _concessions_option(parser)
    _output_option(parser)


def _sheet(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "sheet", "make the sheet of a procedure for a rig")
    parser.add_argument("rig", metavar="RIG", help="a rig file, or - for input")
    parser.add_argument("procedure", metavar="PROCEDURE", nargs="?", help="a procedure by name, as start-up")
    _sheet_options(parser)
    _concessions_option(parser)
    what = "text, markdown, html or json (default: what the ending of the output says, else text)"
    parser.add_argument("--format", choices=SHEET_FORMS, help=what)
    _output_option(parser)


def _sheet_options(parser: argparse.ArgumentParser) -> None:
    told = "take the limits and steps of this code, whatever the rig names"
    parser.add_argument("--local-code", choices=LOCAL_CODES, help=told)
    _evidence_options(parser)
    _day_option(parser, "the day to make it for")
    _hold_option(parser)


def _concessions_option(parser: argparse.ArgumentParser) -> None:
    told = "a file of concessions beside those in the rigs; each entry says 'rig:', a name or a file"
    parser.add_argument("--concessions", metavar="FILE", help=told)


def _hold_option(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--hold-at",
        choices=SIGNALS,
        default="warning",
        help="put the rig on hold for findings with this signal word or a graver one (default: warning)",
    )


def _compare(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "compare", "tell how one description departs from another")
    parser.usage = "rigcheck compare [BEFORE] AFTER [options]"
    told = "a rig file: the earlier description; without one, the standard rig that AFTER names"
    parser.add_argument("before", metavar="BEFORE", nargs="?", help=told)
    parser.add_argument("after", metavar="AFTER", help="a rig file; one of the two may be - for input")
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="judge both under this code, whatever they name")
    _evidence_options(parser)
    _day_option(parser, "the day to judge both for")
    parser.add_argument("--format", choices=DEPARTURE_FORMS, help=_BY_ENDING.format(".json"))
    _output_option(parser)


def _history(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "history", "tell what was seen of a rig when, and which findings came and went")
    parser.add_argument("rig", metavar="RIG", help="a rig file; looks and records are found beside it")
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="judge under this code instead of the rig's own")
    _evidence_options(parser)
    _day_option(parser, "the last day to tell of")
    parser.add_argument("--format", choices=DEPARTURE_FORMS, help=_BY_ENDING.format(".json"))
    _output_option(parser)


def _due(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "due", "list by day what falls due on all rigs")
    told = "a rig file, a register file, a folder of them, or - for input"
    parser.add_argument("paths", metavar="PATH", nargs="+", help=told)
    parser.add_argument("--within", metavar="TIME", help="only what falls due by then, as 90d or '3 month'")
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="by the limits of this code, whatever a rig names")
    _evidence_options(parser)
    _day_option(parser, "the day to count from")
    parser.add_argument("--format", choices=DUE_FORMS, help=_BY_ENDING.format(".json, .csv or .ics"))
    _output_option(parser)


def _summary(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "summary", "sum up many rigs, and what changed since a report")
    parser.add_argument("paths", metavar="PATH", nargs="+", help="a rig file, a record file, or a folder of them")
    told = "an earlier JSON report of inspect: tell which findings are new, gone and still there"
    parser.add_argument("--against", metavar="REPORT.json", help=told)
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="judge under this code, whatever a rig names")
    _evidence_options(parser)
    _day_option(parser, "the day to judge rigs for; a record has its own day")
    _hold_option(parser)
    _concessions_option(parser)
    parser.add_argument("--format", choices=SUMMARY_FORMS, help=_BY_ENDING.format(".json or .md"))
    _output_option(parser)


def _register(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "register", "read the register of parts from a table, or write it as one")
    inner = parser.add_subparsers(dest="action", metavar="ACTION", required=True)
    read = _command(inner, "read", "a register from a table of comma-separated values, one thing a row")
    read.add_argument("table", metavar="TABLE.csv", help="its first row names the columns: tag, kind, made, …")
    read.add_argument("file", metavar="FILE.yaml", type=Path, help="the register to write")
    told = "the register that it joins: its kinds may be named in a column 'as', and its tags are taken"
    read.add_argument("--register", metavar="PATH", help=told)
    read.add_argument("--called", metavar="NAME", help="what the register is called")
    told = "leave out the rows that cannot be read, instead of writing nothing"
    read.add_argument("--what-can-be-read", action="store_true", help=told)
    written = _command(inner, "write", "a register as a table of comma-separated values")
    written.add_argument("register", metavar="REGISTER", help="a register file, or a folder of them")
    written.add_argument("table", metavar="TABLE.csv", type=Path, help="the table to write")
    for one in (read, written):
        _rules_option(one)


def _rules(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "rules", "read and prove the rules")
    inner = parser.add_subparsers(dest="action", metavar="ACTION", required=True)
    listed = _command(inner, "list", "the rules as a table")
    listed.add_argument("names", metavar="NAME", nargs="*", help="only rules that begin so")
    listed.add_argument(
        "--about", metavar="KIND", help="only rules that look at this kind of thing or name it, as hose"
    )
    listed.add_argument(
        "--fact", metavar="NAME", help="only rules that read this fact, as bore (of KIND, if one is named)"
    )
    listed.add_argument("--code", choices=LOCAL_CODES, help="only rules that count under this local code")
    listed.add_argument("--signal", choices=SIGNALS, action="append", help="only rules with this word; may be repeated")
    listed.add_argument("--sources", action="store_true", help="count them by how well their sources are known")
    shown = _command(inner, "show", "one rule or step in words, with limits, sources and cases")
    shown.add_argument("name", metavar="NAME", help="as hoses/twin_hoses_part_freely or procedures/lighting/dress")
    proven = _command(inner, "prove", "run the cases of the rules, and change each part to see it bite")
    proven.add_argument("names", metavar="NAME", nargs="*", help="only rules that begin so")
    for one in (listed, shown, proven):
        _rules_option(one)
        _day_option(one, "with the limits of this day")


def _words(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "words", "list what can be written of each kind of thing")
    parser.add_argument("kind", metavar="KIND", nargs="?", help="a kind, as hose; without one all are listed")
    parser.add_argument("fact", metavar="FACT", nargs="?", help="one of its facts, as cover")
    _rules_option(parser)


def _new(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "new", "begin a rig description from a template, or a record")
    parser.usage = "rigcheck new [TEMPLATE FILE]\n       rigcheck new record RIG PROCEDURE FILE [options]"
    parser.add_argument("template", metavar="TEMPLATE", nargs="?", help="a template by name, or the word record")
    parser.add_argument("file", metavar="FILE", nargs="?", type=Path, help="the file to write; for a record, the rig")
    parser.add_argument("procedure", metavar="PROCEDURE", nargs="?", help="for a record: the procedure, as start-up")
    parser.add_argument("record", metavar="FILE", nargs="?", type=Path, help="for a record: the file to write")
    _sheet_options(parser)
    parser.set_defaults(hold_at=None)  # a template takes none, and a record has that of a sheet


def _schema(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "schema", "print a JSON Schema for editors")
    parser.add_argument("what", metavar="WHAT", choices=SCHEMAS, help=f"which kind of file: {', '.join(SCHEMAS)}")
    _rules_option(parser)
    _output_option(parser)


def _completion(commands: _Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "completion", "print shell completion")
    parser.add_argument("shell", choices=SHELLS)
