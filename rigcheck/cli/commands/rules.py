"""`rigcheck rules`: the pack as a table, one rule in words, and the proof of the rules."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Callable, Iterator
from functools import partial

from msgspec.structs import replace

from rigcheck.cli.console import Console, ProblemFound, complain
from rigcheck.cli.pack_option import chosen_day, chosen_pack
from rigcheck.judge.compiled_rules import compiled_for
from rigcheck.judge.figure_proof import prove_figure
from rigcheck.judge.proof import Proof, prove_rule
from rigcheck.quantity.wording import counted
from rigcheck.report.text.layout import Line, wrapped
from rigcheck.report.text.overlay_lines import overlay_lines
from rigcheck.report.text.rulebook import proof_lines, rule_lines, step_lines, table_lines
from rigcheck.report.text.shares_text import share_lines
from rigcheck.report.text.written_figure_text import figure_lines
from rigcheck.rules.cases import read_cases
from rigcheck.rules.folders import label_of
from rigcheck.rules.limits import LOCAL_CODES
from rigcheck.rules.look_proof import prove_looks
from rigcheck.rules.looks import looks_of
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of
from rigcheck.rules.rule import Rule
from rigcheck.rules.selection import Selection, UnknownWord, choose_rules
from rigcheck.rules.steps import Procedure
from rigcheck.rules.topics import topics_of
from rigcheck.tasks.source_shares import by_local_code, by_signal, steps_of
from rigcheck.text.faults import Refused, nearest_word

__all__ = ["run"]

_PROCEDURES = "procedures/"
_COLUMN = 12


def run(parsed: Namespace) -> int:
    """Run `rules list`, `rules show` or `rules prove`."""
    pack, day, console = chosen_pack(parsed), chosen_day(parsed), Console(sys.stdout)
    console.show(overlay_lines(pack.laid, console.width, _COLUMN))
    if parsed.action == "list":
        chosen = _chosen(pack, parsed)
        told = _shares if parsed.sources else _table
        console.show(told(pack, chosen, bool(parsed.names), console.width))
        return 0
    if parsed.action == "show":
        console.show(_shown(pack, parsed.name, day, console.width))
        return 0
    code = _prove(_provable(pack, parsed.names, day), console)
    return code if parsed.names else max(code, _prove_looks_and_procedures(pack, console))


def _chosen(pack: Pack, parsed: Namespace) -> list[Rule]:
    """Return the rules that are to be listed: by the beginning of their names, and by what they are about."""
    named = [rule for rule in _named(pack, parsed.names) if rule.name in pack.rules or parsed.names]
    wanted = Selection(parsed.about or "", parsed.fact or "", parsed.code or "", parsed.signal or ())
    try:
        chosen = choose_rules(named, wanted, pack)
    except UnknownWord as error:
        hint = f" Nearest: {error.near}." if error.near else ""
        raise ProblemFound(f"{error}.{hint}") from None
    if not chosen:
        raise ProblemFound("no rule is about all of that. Leave one of the conditions out.")
    return chosen


def _table(pack: Pack, chosen: list[Rule], named: bool, width: int) -> Iterator[Line]:
    return table_lines(chosen, topics_of(pack), width)


def _shares(pack: Pack, chosen: list[Rule], named: bool, width: int) -> Iterator[Line]:
    """Return how well the sources of rules are known, and of all steps where no rules are named."""
    rules = [rule for rule in chosen if rule.name in pack.rules]
    steps = () if named else steps_of(procedures_of(pack).values())
    return share_lines(by_signal(rules), by_signal(steps), by_local_code(rules), width)


def _all(pack: Pack) -> dict[str, Rule]:
    """Return rules and consequences by name: both are shown and proven."""
    return {**pack.rules, **{name: one.rule for name, one in pack.follows.items()}}


def _named(pack: Pack, names: list[str]) -> list[Rule]:
    rules = sorted(_all(pack).values(), key=lambda rule: rule.name)
    chosen = [rule for rule in rules if not names or rule.name.startswith(tuple(names))]
    if not chosen:
        raise _no_rule(pack, names[0])
    return chosen


def _provable(pack: Pack, names: list[str], day: int) -> list[Callable[[], Proof]]:
    """Return what proves each rule and written figure that is named, or all of them."""
    figures = [name for name in sorted(pack.figures) if not names or name.startswith(tuple(names))]
    rules = [] if figures and names and not _rules_named(pack, names) else _named(pack, names)
    packs = [_under_limits_of(pack, layer) for layer in range(len(pack.folders))]
    return [
        *(partial(prove_rule, rule, packs[_layer_of(rule, pack)], day) for rule in rules),
        *(partial(prove_figure, name, pack) for name in figures),
    ]


def _layer_of(rule: Rule, pack: Pack) -> int:
    """Return which folder a rule comes from; its cases were written for the limits up to that one."""
    own = [number for number, folder in enumerate(pack.folders) if rule.file.startswith(f"{label_of(folder)}/")]
    return max(own, default=0)


def _under_limits_of(pack: Pack, layer: int) -> Pack:
    if layer == len(pack.folders) - 1:
        return pack
    return replace(pack, limits=tuple(one for one in pack.limits if one.layer <= layer))


def _rules_named(pack: Pack, names: list[str]) -> bool:
    return any(rule.startswith(tuple(names)) for rule in _all(pack))


def _no_rule(pack: Pack, name: str) -> ProblemFound:
    known = {**_all(pack), **pack.figures}
    near = next((one for one in known if name and one.startswith(name)), "") or nearest_word(name, known)
    hint = f" Nearest: {near}." if near else " 'rigcheck rules list' has them all."
    return ProblemFound(f"no rule is called {name!r}.{hint}")


def _no_step(procedure: Procedure, name: str) -> ProblemFound:
    near = nearest_word(name.rpartition("/")[2], procedure.steps)
    hint = f" Nearest: {_PROCEDURES}{procedure.name}/{near}." if near else f" It has: {', '.join(procedure.steps)}."
    return ProblemFound(f"no step is called {name!r}.{hint}")


def _shown(pack: Pack, name: str, day: int, width: int) -> Iterator[Line]:
    procedure, _, step = name.removeprefix(_PROCEDURES).partition("/")
    if name.startswith(_PROCEDURES) and procedure in (known := procedures_of(pack)):
        if step in known[procedure].steps:
            return step_lines(known[procedure].steps[step], name, width)
        raise _no_step(known[procedure], name)
    if name in pack.figures:
        return figure_lines(pack.figures[name], name, width)
    rule = _all(pack).get(name)
    if rule is None:
        raise _no_rule(pack, name)
    benches = {code: compiled_for(pack, code, day) for code in LOCAL_CODES}
    return rule_lines(rule, benches, read_cases(rule, pack.vocabulary), width)


def _prove(provable: list[Callable[[], Proof]], console: Console) -> int:
    proofs: list[Proof] = []
    refused = 0
    for prove in provable:
        try:
            proofs.append(prove())
        except Refused as fault:
            refused += 1
            complain(str(fault))
    for proof in proofs:
        console.show(proof_lines(proof, console.width))
    told = (
        f"{len(provable)} rules and figures, {sum(p.cases for p in proofs)} cases, "
        f"{sum(p.changes for p in proofs)} changes tried: "
        f"{sum(len(p.failed) for p in proofs)} cases fail, "
        f"{sum(len(p.idle) for p in proofs)} changes go unnoticed, "
        f"{refused} have cases that cannot be read."
    )
    console.show(wrapped(told, console.width, style="head"))
    if refused:
        return 2
    return 1 if any(p.failed or p.idle for p in proofs) else 0


def _prove_looks_and_procedures(pack: Pack, console: Console) -> int:
    """Hold the looks to the vocabulary and the rules, each fact asked once by who can know it; read the rest."""
    try:
        wrong, procedures = prove_looks(pack), procedures_of(pack)
    except Refused as refused:
        complain(str(refused))
        return 2
    for fault in wrong:
        complain(str(fault))
    told = f"{len(looks_of(pack).looks)} looks, {len(procedures)} procedures: {counted(len(wrong), 'fault')}."
    console.show(wrapped(told, console.width, style="head"))
    return 1 if wrong else 0
