"""The arguments of the command line, with help."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, NoReturn

from rigcheck.cli.examples import EXAMPLES
from rigcheck.cli.help_texts import FittedHelp, options_of, with_nearest
from rigcheck.cli.options import (
    BY_ENDING,
    DEPARTURE_FORMS,
    DUE_FORMS,
    FIGURE_FORMS,
    QUESTIONS,
    REPORT_FORMS,
    SCHEMAS,
    SHEET_FORMS,
    SHELLS,
    SUMMARY_FORMS,
    FormatAction,
    OutputAction,
    concessions_option,
    day_option,
    evidence_options,
    hold_option,
    output_option,
    purpose_option,
    rules_option,
    sheet_options,
)
from rigcheck.rules.gravity import SIGNALS
from rigcheck.rules.local_codes import LOCAL_CODES
from rigcheck.text.harmless import harmless
from rigcheck.version import __version__

__all__ = ["build_parser"]


def build_parser(named: str | None = None) -> argparse.ArgumentParser:
    """Return the parser of the whole command line, or of one that begins with the command that is named.

    A start pays for its own command alone: that there are others is of use to help and to what is mistyped.
    """
    parser: argparse.ArgumentParser = _Parser(
        prog="rigcheck",
        description="Judge descriptions of oxy-fuel cutting and welding rigs by rules that are data.",
        epilog="The local code, the makers' instructions and a competent person decide.",
    )
    parser.add_argument("--version", action="version", version=f"rigcheck {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for name, (told, arguments) in _COMMANDS.items():
        if named == name or named not in _COMMANDS:
            arguments(_command(commands, name, told))
    return parser


class _Parser(argparse.ArgumentParser):
    def __init__(self, **options: Any) -> None:
        """Take no shortened options: '--for' would be '--format' where a command is not told what to judge for."""
        super().__init__(**{"allow_abbrev": False} | options)

    def _print_message(self, message: str, file: Any = None) -> None:
        """Show help; unlike the parser's own, a stream that does not take it is not passed over."""
        (file or sys.stderr).write(message)

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> tuple[Any, list[str]]:
        """Return what was given; what a command does not know is refused by that command, which has the help for it."""
        given, left = super().parse_known_args(args, namespace)
        return (given, []) if not left else self.error(f"unrecognized arguments: {' '.join(left)}")

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


def _inspect(parser: argparse.ArgumentParser) -> None:
    told = "a rig file, a record or register file, a folder of them, an address as zip://::rigs.zip, or - for input"
    parser.add_argument("paths", metavar="PATH", nargs="+", help=told)
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="judge under this code, whatever the rig names")
    evidence_options(parser)
    day_option(parser, "the day to judge rigs for; a record has its own day")
    told = "how to report (default: what the ending of the output says; else text); --output follows its form"
    parser.add_argument("--format", choices=REPORT_FORMS, dest="reports", action=FormatAction, help=told)
    parser.add_argument("--output", metavar="FILE", type=Path, dest="reports", action=OutputAction, help="write there")
    hold_option(parser)
    parser.add_argument(
        "--hold-on-unproven",
        choices=SIGNALS,
        help="put it on hold where an open question keeps a rule of this word or a graver one unproven",
    )
    purpose_option(parser)
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
    concessions_option(parser)
    told = "an earlier JSON report of inspect: fail only for what is new or graver, and tell what is gone; states stay"
    parser.add_argument("--known", metavar="REPORT.json", help=told)
    told = (
        "which open questions are listed, the rest is counted: look by look, the gravest looks (looks: the default, "
        "where they are more than a few); those that hold up a rule of this word or a graver one; all; none"
    )
    parser.add_argument("--questions", choices=QUESTIONS, default="looks", help=told)
    told = "tell each rig in full; of more than ten, text and markdown have a row each, the worst first, else"
    parser.add_argument("--in-full", action="store_true", help=told)
    parser.add_argument("--tell-holds", action="store_true", help="also name every check that held")


def _ask(parser: argparse.ArgumentParser) -> None:
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
    told = "ask nothing: show what looks have seen that lasts, as the description would have it, and write it if wanted"
    parser.add_argument("--write", action="store_true", help=told)
    parser.add_argument("--output", metavar="FILE", type=Path, help="with --paper: the file to write (default: text)")
    parser.add_argument("--only", choices=SIGNALS, help="ask only after what can be this word or a graver one")
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="judge under this code, whatever the rig names")
    evidence_options(parser)
    day_option(parser, "the day of the look")
    purpose_option(parser)
    hold_option(parser)


def _answer(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("rig", metavar="RIG", help="a rig file")
    parser.add_argument("sheet", metavar="SHEET", help="the sheet, as `rigcheck ask RIG --paper --output` made it")
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="judge under this code, whatever the rig names")
    evidence_options(parser)
    purpose_option(parser)
    hold_option(parser)


def _figures(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("rig", metavar="RIG", help="a rig file, or - for input")
    parser.add_argument(
        "--local-code", choices=LOCAL_CODES, help="take the limits of this code, whatever the rig names"
    )
    parser.add_argument("--all", action="store_true", help="in text: every figure, not only those that decide the rig")
    evidence_options(parser)
    day_option(parser, "the day to work out for")
    what = "text, json or svg (default: svg for an output that ends in .svg, else text)"
    parser.add_argument("--format", choices=FIGURE_FORMS, help=what)
    output_option(parser)


def _draw(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("rig", metavar="RIG", help="a rig file, or - for input")
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="judge under this code, whatever the rig names")
    evidence_options(parser)
    day_option(parser, "the day to judge for")
    concessions_option(parser)
    hold_option(parser)
    output_option(parser)


def _file(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("rig", metavar="RIG", help="a rig file, or - for input")
    sheet_options(parser)
    parser.add_argument("--without-working", action="store_true", help="leave out the appendix with the working")
    concessions_option(parser)
    output_option(parser)


def _sheet(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("rig", metavar="RIG", help="a rig file, or - for input")
    parser.add_argument("procedure", metavar="PROCEDURE", nargs="?", help="a procedure by name, as start-up")
    sheet_options(parser)
    concessions_option(parser)
    what = "text, markdown, html or json (default: what the ending of the output says, else text)"
    parser.add_argument("--format", choices=SHEET_FORMS, help=what)
    output_option(parser)


def _compare(parser: argparse.ArgumentParser) -> None:
    parser.usage = "rigcheck compare [BEFORE] AFTER [options]"
    told = "a rig file: the earlier description; without one, the standard rig that AFTER names"
    parser.add_argument("before", metavar="BEFORE", nargs="?", help=told)
    parser.add_argument("after", metavar="AFTER", help="a rig file; one of the two may be - for input")
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="judge both under this code, whatever they name")
    evidence_options(parser)
    day_option(parser, "the day to judge both for")
    parser.add_argument("--format", choices=DEPARTURE_FORMS, help=BY_ENDING.format(".json"))
    output_option(parser)


def _history(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("rig", metavar="RIG", help="a rig file; looks and records are found beside it")
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="judge under this code instead of the rig's own")
    evidence_options(parser)
    day_option(parser, "the last day to tell of")
    parser.add_argument("--format", choices=DEPARTURE_FORMS, help=BY_ENDING.format(".json"))
    output_option(parser)


def _due(parser: argparse.ArgumentParser) -> None:
    told = "a rig file, a register file, a folder of them, or - for input"
    parser.add_argument("paths", metavar="PATH", nargs="+", help=told)
    parser.add_argument("--daily", action="store_true", help="also tests that count for a day, as the leak test")
    parser.add_argument("--within", metavar="TIME", help="only what falls due by then, as 90d or '3 month'")
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="by the limits of this code, whatever a rig names")
    evidence_options(parser)
    day_option(parser, "the day to count from")
    parser.add_argument("--format", choices=DUE_FORMS, help=BY_ENDING.format(".json, .csv or .ics"))
    output_option(parser)


def _summary(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("paths", metavar="PATH", nargs="+", help="a rig file, a record file, or a folder of them")
    told = "an earlier JSON report of inspect: tell which findings are new, gone and still there"
    parser.add_argument("--against", metavar="REPORT.json", help=told)
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="judge under this code, whatever a rig names")
    evidence_options(parser)
    day_option(parser, "the day to judge rigs for; a record has its own day")
    purpose_option(parser)
    hold_option(parser)
    concessions_option(parser)
    parser.add_argument("--format", choices=SUMMARY_FORMS, help=BY_ENDING.format(".json or .md"))
    output_option(parser)


def _rows(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("paths", metavar="PATH", nargs="+", help="a rig, record or register file, or a folder of them")
    told = "the folder of Parquet files to write; an earlier one of them is replaced"
    parser.add_argument("--output", metavar="FOLDER", type=Path, required=True, help=told)
    told = "have the workers of this Dask scheduler do it, as tcp://10.0.0.5:8786; they must see the same files"
    parser.add_argument("--fleet", metavar="ADDRESS", help=told)
    parser.add_argument("--local-code", choices=LOCAL_CODES, help="judge under this code, whatever a rig names")
    evidence_options(parser)
    day_option(parser, "the day to judge rigs for; a record has its own day")
    purpose_option(parser)
    hold_option(parser)
    concessions_option(parser)


def _register(parser: argparse.ArgumentParser) -> None:
    inner = parser.add_subparsers(dest="action", metavar="ACTION", required=True)
    read = _command(inner, "read", "a register from a table of comma-separated values, one thing a row")
    read.add_argument("table", metavar="TABLE.csv", help="its first row names the columns: tag, kind, made, …")
    read.add_argument("file", metavar="FILE.yaml", type=Path, help="the register to write")
    told = "the register that it joins: its kinds may be named in a column 'as', and its tags are taken"
    read.add_argument("--register", metavar="PATH", help=told)
    read.add_argument("--called", metavar="NAME", help="what the register is called")
    told = "leave out the rows and columns that cannot be read, instead of writing nothing"
    read.add_argument("--what-can-be-read", action="store_true", help=told)
    written = _command(inner, "write", "a register as a table of comma-separated values")
    written.add_argument("register", metavar="REGISTER", help="a register file, or a folder of them")
    written.add_argument("table", metavar="TABLE.csv", type=Path, help="the table to write")
    for one in (read, written):
        rules_option(one)


def _rules(parser: argparse.ArgumentParser) -> None:
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
        rules_option(one)
        day_option(one, "with the limits of this day")


def _words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("kind", metavar="KIND", nargs="?", help="a kind, as hose; without one all are listed")
    parser.add_argument("fact", metavar="FACT", nargs="?", help="one of its facts, as cover")
    rules_option(parser)


def _new(parser: argparse.ArgumentParser) -> None:
    parser.usage = "rigcheck new [TEMPLATE FILE]\n       rigcheck new record RIG PROCEDURE FILE [options]"
    parser.add_argument("template", metavar="TEMPLATE", nargs="?", help="a template by name, or the word record")
    parser.add_argument("file", metavar="FILE", nargs="?", type=Path, help="the file to write; for a record, the rig")
    parser.add_argument("procedure", metavar="PROCEDURE", nargs="?", help="for a record: the procedure, as start-up")
    parser.add_argument("record", metavar="FILE", nargs="?", type=Path, help="for a record: the file to write")
    sheet_options(parser)
    parser.set_defaults(hold_at=None)  # a template takes none, and a record has that of a sheet


def _schema(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("what", metavar="WHAT", choices=SCHEMAS, help=f"which kind of file: {', '.join(SCHEMAS)}")
    rules_option(parser)
    output_option(parser)


def _completion(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("shell", choices=SHELLS)


_COMMANDS: Mapping[str, tuple[str, Callable[[argparse.ArgumentParser], None]]] = {
    "inspect": ("judge rig descriptions, and records of work", _inspect),
    "ask": ("ask what is still to be looked at round a rig, and write down what was seen", _ask),
    "answer": ("take in what was filled in on a sheet of a walk and typed", _answer),
    "figures": ("work out the figures of a rig, with their working", _figures),
    "draw": ("draw a rig as SVG, each finding pinned to its part", _draw),
    "file": ("make the commissioning file of a rig: one page with state, drawing, findings, figures and sheets", _file),
    "sheet": ("make the sheet of a procedure for a rig", _sheet),
    "compare": ("tell how one description departs from another", _compare),
    "history": ("tell what was seen of a rig when, and which findings came and went", _history),
    "due": ("list by day what falls due on all rigs", _due),
    "summary": ("sum up many rigs, and what changed since a report", _summary),
    "rows": ("write many rigs as tables for a database, on this machine or by a fleet", _rows),
    "register": ("read the register of parts from a table, or write it as one", _register),
    "rules": ("read and prove the rules", _rules),
    "words": ("list what can be written of each kind of thing", _words),
    "new": ("begin a rig description from a template, or a record", _new),
    "schema": ("print a JSON Schema for editors", _schema),
    "completion": ("print shell completion", _completion),
}
