"""What a shell completes: commands, options, and the names of templates, procedures, rules and kinds that ship."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Mapping

import shtab

from rigcheck.cli.arguments import build_parser
from rigcheck.rules.folders import configs_folder, rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.procedures import procedures_of

__all__ = ["shell_completion"]


def shell_completion(shell: str) -> str:
    """Return the completion for a shell; it knows what shipped when it was made."""
    parser = build_parser()
    _offer(parser, _names())
    return f"{shtab.complete(parser, shell)}\n"


def _names() -> Mapping[str, Iterable[str]]:
    """Return by the word that help shows for an argument what can stand there."""
    pack = load_pack(rules_folder())
    return {
        "TEMPLATE": ["record", *sorted(path.stem for path in (configs_folder() / "templates").glob("*.yaml"))],
        "PROCEDURE": sorted(procedures_of(pack)),
        "NAME": sorted(pack.rules),
        "KIND": sorted(name for name in pack.vocabulary.kinds if " " not in name),
    }


def _offer(parser: argparse.ArgumentParser, names: Mapping[str, Iterable[str]]) -> None:
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for inner in action.choices.values():
                _offer(inner, names)
        elif action.choices is None and (known := names.get(_called(action))):
            action.choices = list(known)


def _called(action: argparse.Action) -> str:
    """Return the word that help shows for it; a NAME behind an option is no rule's."""
    return "" if action.option_strings and action.metavar == "NAME" else str(action.metavar)
