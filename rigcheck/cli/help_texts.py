"""Help that fits the screen, and what is said of arguments that are wrong: with the nearest word that there is."""

from __future__ import annotations

import argparse
import re
import textwrap
from collections.abc import Iterable, Iterator

from rigcheck.text.faults import nearest_word

__all__ = ["FittedHelp", "options_of", "with_nearest"]

_EXAMPLE = re.compile(r"(  \S.*?)(?:\s{2,}(\S.*))?")
_CHOICE = re.compile(r"(?:argument (\S+): )?invalid choice: '(.*)' \(choose from (.*)\)", re.DOTALL)
_UNKNOWN = re.compile(r"unrecognized arguments: (.*)", re.DOTALL)


class FittedHelp(argparse.RawDescriptionHelpFormatter):
    """Sentences are filled; an example that is too long goes on, and what it is for stands below it."""

    def _fill_text(self, text: str, width: int, indent: str) -> str:
        return "\n".join(row for block in _blocks(text) for row in _fitted(block, max(width, 20)))


def _blocks(text: str) -> Iterator[str]:
    """Yield examples and empty lines as they are, the lines of a paragraph as one."""
    paragraph: list[str] = []
    for line in [*text.splitlines(), ""]:
        if line and not line.startswith(" ") and not line.endswith(":"):
            paragraph.append(line)
            continue
        if paragraph:
            yield " ".join(paragraph)
            paragraph = []
        yield line


def _fitted(block: str, width: int) -> list[str]:
    example = _EXAMPLE.fullmatch(block)
    if len(block) <= width:
        return [block]
    if example is None:
        return textwrap.wrap(block, width, break_on_hyphens=False)
    command, told = example[1], example[2]
    rows = textwrap.wrap(command, width - 2, subsequent_indent=" " * 6, break_on_hyphens=False, break_long_words=False)
    rows = [f"{row} \\" for row in rows[:-1]] + rows[-1:]
    below = textwrap.wrap(told or "", width, initial_indent=" " * 6, subsequent_indent=" " * 6)
    return [*rows, *below]


def with_nearest(message: str, options: Iterable[str]) -> str:
    """Return what is wrong with arguments, in short, with the nearest of the words that there are."""
    if choice := _CHOICE.fullmatch(message):
        where, given, known = choice.groups()
        words = re.findall(r"'([^']*)'", known)
        near = nearest_word(given, words)
        hint = f"Nearest: {near}." if near else f"There are: {', '.join(words)}."
        what = "no command" if where == "COMMAND" else f"no word for {where}" if where else "no word here"
        return f"'{given}' is {what}. {hint}"
    if unknown := _UNKNOWN.fullmatch(message):
        given = unknown[1].split()[0]
        near = nearest_word(given.partition("=")[0], options) if given.startswith("-") else ""
        return f"{message}{f'. Nearest: {near}.' if near else ''}"
    return message


def options_of(parser: argparse.ArgumentParser) -> Iterator[str]:
    """Yield the options of a parser and of the commands in it."""
    for action in parser._actions:
        yield from (option for option in action.option_strings if option.startswith("--"))
        if isinstance(action, argparse._SubParsersAction):
            yield from (option for inner in action.choices.values() for option in options_of(inner))
