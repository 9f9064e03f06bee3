"""Rules for people to read: the table, one rule in words, and what proving it found."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from rigcheck.condition.wording import in_words
from rigcheck.judge.compiled_rules import Bench
from rigcheck.judge.proof import Proof
from rigcheck.quantity.wording import shown_day
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.rules.cases import Case
from rigcheck.rules.rule import Rule

__all__ = ["proof_lines", "rule_lines", "table_lines"]

_COLUMN = 12


def table_lines(rules: Iterable[Rule], width: int) -> Iterator[Line]:
    """Yield one rule after the other: signal word, name, claim."""
    count = 0
    for count, rule in enumerate(rules, start=1):  # noqa: B007
        word = rule.signal.upper()
        yield from labelled(word, rule.name, width, column=_COLUMN, label_style=rule.signal)
        yield from wrapped(rule.claim, width, indent=" " * _COLUMN)
    yield from wrapped(f"{count} rules.", width, style="head")


def rule_lines(rule: Rule, benches: Mapping[str, Bench], cases: Iterable[Case], width: int) -> Iterator[Line]:
    """Yield a rule in words: claim, condition, limits by local code, sources, cases."""
    yield from wrapped(rule.claim, width, style="head")
    general = benches["general"]
    rows = [
        ("rule", f"{rule.name} ({rule.place})"),
        ("signal", rule.signal.upper()),
        ("looks at", f"every {rule.kind.name}: {rule.kind.means}"),
        ("under", ", ".join(rule.under) or "every local code"),
        ("if", f"{in_words(rule.concerns, general.limit_words, rule.kind.name)}." if rule.concerns else ""),
        ("required", f"{in_words(rule.holds, general.limit_words, rule.kind.name)}."),
        ("harm", rule.harm),
        ("do", rule.put_right),
    ]
    rows += [("drawn from", f"{s.text} [{s.standing}]: {s.title}") for s in rule.sources]
    rows += [("limit", text) for name in rule.limits for text in _limit_rows(name, benches)]
    rows += [("case", f"{case.name}: {case.verdict}") for case in cases]
    before = ""
    for label, text in rows:
        if text:
            shown = "" if label == before else label
            yield from labelled(shown, text, width, column=_COLUMN, label_style="quiet")
            before = label


def _limit_rows(name: str, benches: Mapping[str, Bench]) -> Iterator[str]:
    told: dict[str, list[str]] = {}
    for code, bench in benches.items():
        limit = bench.limits.get(name)
        if limit is not None and (limit.local_code == code or code == "general"):
            since = shown_day(limit.since)
            remembered = " from memory" if limit.since_from_memory else ""
            sources = "; ".join(f"{s.text} [{s.standing}]" for s in limit.sources)
            value = limit.value.text if limit.value else "withdrawn"
            told.setdefault(f"{value}, since {since}{remembered}, {sources}", []).append(code)
    for text, codes in told.items():
        yield f"{name} under {', '.join(codes)}: {text}"


def proof_lines(proof: Proof, width: int) -> Iterator[Line]:
    """Yield what is wrong with a rule's proof; nothing where all is well."""
    for failed in proof.failed:
        told = f"{proof.rule}, case “{failed.case}”: must be {failed.wanted}, is {failed.got}"
        yield from labelled("fails", f"{told} ({failed.place})", width, column=_COLUMN)
    for idle in proof.idle:
        told = f"{proof.rule}: {idle.change}, and no case notices ({idle.place})"
        yield from labelled("unnoticed", told, width, column=_COLUMN)
