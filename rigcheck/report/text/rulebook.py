"""Rules for people to read: the table, one rule in words, and what proving it found."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from rigcheck.condition.wording import in_words
from rigcheck.judge.compiled_rules import CompiledRules
from rigcheck.judge.proof import Proof
from rigcheck.quantity.wording import shown_day
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.rules.cases import Case
from rigcheck.rules.documents import Differing, Source
from rigcheck.rules.limits import DatedLimit
from rigcheck.rules.rule import Rule
from rigcheck.rules.steps import Step
from rigcheck.rules.topics import Topic

__all__ = ["proof_lines", "rule_lines", "step_lines", "table_lines"]

_COLUMN = 12
WHO_DECIDES = "The local code, the makers' instructions and a competent or licensed person decide. No rule does."


def table_lines(rules: Iterable[Rule], topics: Mapping[str, Topic], width: int) -> Iterator[Line]:
    """Yield one rule after the other: signal word, name, claim; before each topic, what belongs there."""
    count, before = 0, ""
    for count, rule in enumerate(rules, start=1):  # noqa: B007
        name = rule.name.partition("/")[0]
        if name != before and name in topics:
            yield from _topic_lines(topics[name], width)
        before, word = name, rule.signal.upper()
        yield from labelled(word, rule.name, width, column=_COLUMN, label_style=rule.signal)
        yield from wrapped(rule.claim, width, indent=" " * _COLUMN)
    yield from wrapped(f"{count} rules.", width, style="head")
    yield from wrapped(WHO_DECIDES, width, style="quiet")


def _topic_lines(topic: Topic, width: int) -> Iterator[Line]:
    yield from wrapped(f"{topic.name}: {topic.means}", width, style="head")
    if topic.elsewhere:
        yield from wrapped(topic.elsewhere, width, indent="  ")


def rule_lines(rule: Rule, benches: Mapping[str, CompiledRules], cases: Iterable[Case], width: int) -> Iterator[Line]:
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
    rows += [
        (kind, f"{own.signal.upper()}. {own.claim} {own.harm} {own.put_right}") for kind, own in rule.sharper.items()
    ]
    rows += _source_rows(rule)
    rows += [("limit", text) for name in rule.limits for text in _limit_rows(name, benches)]
    rows += [("case", f"{case.name}: {case.verdict}") for case in cases]
    yield from _labelled(rows, width)


def step_lines(step: Step, name: str, width: int) -> Iterator[Line]:
    """Yield a step of a procedure in words: what to do, why, sources."""
    yield from wrapped(step.do, width, style="head")
    rows = [
        ("step", f"{name} ({step.place})"),
        ("signal", step.signal.upper()),
        ("done", f"for each {step.about.name}" if step.about else "once for the rig"),
        ("under", ", ".join(step.under) or "every local code"),
        ("after", ", ".join((*step.after, *step.after_on_line))),
        ("hazard", step.hazard),
        ("do", step.put_right),
    ]
    yield from _labelled([*rows, *_source_rows(step)], width)


def _source_rows(one: Rule | Step) -> list[tuple[str, str]]:
    rows = [("drawn from", _source(source)) for source in one.sources]
    return rows + [("differs", f"{other.says} {_source(other.source)}") for other in one.differs]


def _labelled(rows: Iterable[tuple[str, str]], width: int) -> Iterator[Line]:
    before = ""
    for label, text in rows:
        if text:
            shown = "" if label == before else label
            yield from labelled(shown, text, width, column=_COLUMN, label_style="quiet")
            before = label
    yield from wrapped(WHO_DECIDES, width, style="quiet")


def _limit_rows(name: str, benches: Mapping[str, CompiledRules]) -> Iterator[str]:
    told: dict[str, list[str]] = {}
    for code, bench in benches.items():
        limit = bench.limits.get(name)
        if limit is not None and (limit.local_code == code or code == "general"):
            since = shown_day(limit.since)
            remembered = " from memory" if limit.since_from_memory else ""
            sources = "; ".join(_standing(source) for source in limit.sources)
            value = limit.value.text if limit.value else "withdrawn"
            told.setdefault(f"{value}, since {since}{remembered}, {sources}", []).append(code)
    for text, codes in told.items():
        yield f"{name} under {', '.join(codes)}: {text}"
    for one in dict.fromkeys(one for bench in benches.values() for one in _differing(bench.limits.get(name))):
        yield f"{name}, but {_standing(one.source)}: {one.says}"


def _differing(limit: DatedLimit | None) -> tuple[Differing, ...]:
    return limit.differs if limit else ()


def _standing(source: Source) -> str:
    """Return a citation, how far it was read, and whose text it is."""
    told = ", ".join(filter(None, ("in part" if source.in_part else "", source.standing, source.foreign)))
    return f"{source.text} [{told}]"


def _source(source: Source) -> str:
    told = f"{_standing(source)}: {source.title.rstrip('.')}."
    return f"{told} {source.says}" if source.says else told


def proof_lines(proof: Proof, width: int) -> Iterator[Line]:
    """Yield what is wrong with a rule's proof; nothing where all is well."""
    for failed in proof.failed:
        told = f"{proof.rule}, case “{failed.case}”: must be {failed.wanted}, is {failed.got}"
        yield from labelled("fails", f"{told} ({failed.place})", width, column=_COLUMN)
    for idle in proof.idle:
        told = f"{proof.rule}: {idle.change}, and no case notices ({idle.place})"
        yield from labelled("unnoticed", told, width, column=_COLUMN)
