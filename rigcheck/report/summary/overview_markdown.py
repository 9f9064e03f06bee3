"""An overview of many rigs as Markdown: tables for a summary page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from rigcheck.report.markdown import plain_words
from rigcheck.report.summary.overview_text import change_words, changed_words, group_rows, head_words, key_words
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rules.rule import SIGNALS
from rigcheck.tasks.changes import Changes
from rigcheck.tasks.overview import Overview, Standing

__all__ = ["OVERVIEW_HEAD", "change_rows", "overview_markdown"]

OVERVIEW_HEAD = "# rigcheck summary\n"
_MOST = 30  # rows of one table; the JSON form has all
_COUNTS = [*(signal.upper() for signal in SIGNALS), "Conceded", "Questions"]


def overview_markdown(overview: Overview, day: int) -> Iterator[str]:
    """Yield an overview in lines; `day`: the day number of the inspections."""
    yield OVERVIEW_HEAD
    for words in head_words(overview, day):
        yield f"{plain_words(words)}\n"
    if overview.changes is not None:
        yield from change_rows(overview.changes)
    rigs = [(one.name, one.state, *_counts(one), f"{one.file}") for one in overview.worst_rigs()]
    yield from _table("Rigs with findings, the worst first", ["Rig", "State", *_COUNTS, "File"], rigs)
    for title, groups in group_rows(overview):
        rows = [(one.name or ".", f"{one.held} of {one.rigs}", *_counts(one)) for one in groups]
        yield from _table(title, ["Name", "Rigs on hold", *_COUNTS], rows)
    broken = [(b.signal.upper(), b.claim, b.rigs, b.findings, b.conceded, n) for n, b in overview.most_broken()]
    heads = ["Signal", "Must be", "Rigs", "Findings", "Conceded", "Rule"]
    yield from _table("Rules that are broken, on most rigs first", heads, broken)
    asked = [(one.signal.upper(), kind, ask, one.rigs, one.questions) for (kind, ask), one in overview.most_asked()]
    yield from _table("Questions, those on most rigs first", ["Signal", "Of", "Question", "Rigs", "Times"], asked)
    for title, files in (("Not read", overview.refused), ("Read in part", overview.in_part)):
        unread = [(faults[0].place, f"{faults[0].read} {faults[0].write}", len(faults)) for _, faults in files]
        yield from _table(title, ["Where", "What is wrong", "Faults"], unread)
    yield f"\n_{CAUTION}_\n"


def _counts(one: Standing) -> tuple[int, ...]:
    return (*one.counts, one.conceded, one.questions)


def change_rows(changes: Changes) -> Iterator[str]:
    """Yield which findings are new and which are gone since an earlier report."""
    for words in change_words(changes):
        yield f"{plain_words(words)}\n"
    yield from _folded("new", map(key_words, changes.new))
    yield from _folded("graver or other than then", map(changed_words, changes.changed))
    yield from _folded("gone", map(key_words, changes.gone()))


def _folded(what: str, keys: Iterable[str]) -> Iterator[str]:
    rows = [f"- {plain_words(key)}" for key in keys]
    if rows:
        yield f"<details><summary>{len(rows)} {what}</summary>\n"
        yield "\n".join(rows)
        yield "\n</details>\n"


def _table(title: str, heads: Sequence[str], rows: Sequence[Sequence[object]]) -> Iterator[str]:
    if not rows:
        return
    yield f"\n## {title}\n"
    yield f"| {' | '.join(heads)} |"
    yield f"| {' | '.join('---' for _ in heads)} |"
    for row in rows[:_MOST]:
        yield f"| {' | '.join(plain_words(str(cell)) for cell in row)} |"
    if len(rows) > _MOST:
        yield f"\nAnd {len(rows) - _MOST} more; the JSON form names all."
