"""What the commissioning file rests on: limits, what was changed or conceded, who signs, what it was made from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigcheck.judge.inspection import Inspection
from rigcheck.quantity.wording import counted, shown_day
from rigcheck.report.drawing.drawing import finding_anchor
from rigcheck.report.html.findings_part import word_mark
from rigcheck.report.html.markup import joined, listed, rows, section, shown, table, tag
from rigcheck.report.text.inspection_text import loosened_words, source_words
from rigcheck.tasks.commissioning_file import RigFile, UsedLimit
from rigcheck.version import __version__

__all__ = ["code_words", "limits_section", "origins_section", "signing_section"]

_ROLES = (
    "Described the rig on site and measured",
    "Put right what was found",
    "Checked on site that it was put right",
    "Decides on the use of the rig: competent or licensed person under the local code",
    "Took the rig over for its users, with this file",
)
"""Who signs, by role: the file names nobody."""


def code_words(inspection: Inspection) -> str:
    """Return the local code, and whether anybody said so."""
    named = "" if inspection.code_stated else " (none is stated: the most cautious values)"
    return f"{inspection.local_code}{named}"


def limits_section(file: RigFile) -> str:
    """Return the limits that counted, then what was loosened, replaced and conceded."""
    told = (
        f"Local code {code_words(file.inspection)}. A rule or figure that concerns this rig took each of these limits."
    )
    heads = ("Limit", "Value", "Code", "Since", "Taken by", "Drawn from")
    limits = table("limits-used", "Each limit with its value and source", heads, map(_limit, file.limits), "limits")
    return section("limits", "Limits used", tag("p", shown(told)), *_changed(file.inspection), limits)


def _limit(used: UsedLimit) -> tuple[str, ...]:
    limit = used.limit
    name = f"{shown(limit.name.replace('_', ' '))} {tag('small', shown(used.means))}"
    value = limit.value.text if limit.value else "withdrawn"
    since = shown_day(limit.since) + (" [from memory]" if limit.since_from_memory else "")
    because = f" Changed, because: {shown(limit.because)}" if limit.because else ""
    sources = f"{shown(source_words(limit.sources))}{because}"
    return name, tag("b", shown(value)), shown(limit.local_code), since, _taken(used), sources


def _taken(used: UsedLimit) -> str:
    parts = ((used.rules, "rule"), (used.figures, "figure"))
    return ", ".join(counted(number, noun) for number, noun in parts if number)


def _changed(inspection: Inspection) -> Iterator[str]:
    yield from _stress("Limits that were loosened", map(loosened_words, inspection.loosened))
    yield from _stress("Rules replaced by rules of your own", inspection.replaced)
    conceded = list(_conceded(inspection))
    if conceded:
        heads = ("Finding", "Reason", "Leave given by", "Until", "Written at")
        yield tag("h3", "Concessions")
        yield table("conceded", "Findings that leave was given for", heads, conceded, "limits")
    if not (inspection.loosened or inspection.replaced or conceded):
        yield tag("p", "No limit was loosened, no rule was replaced, and no finding is conceded.")


def _stress(title: str, told: Iterable[str]) -> Iterator[str]:
    items = listed(tag("b", shown(one)) for one in told)
    if items:
        yield tag("h3", shown(title))
        yield items


def _conceded(inspection: Inspection) -> Iterator[tuple[str, ...]]:
    for number, finding in enumerate(inspection.findings, start=1):
        given = finding.conceded
        if given is not None:
            named = tag("a", f"{number}. {shown(finding.thing)}", href=f"#{finding_anchor(number)}")
            until = shown_day(given.until)
            place = tag("code", shown(str(given.place)))
            yield f"{word_mark(finding.signal)} {named}", shown(given.reason), shown(given.who), until, place


def signing_section() -> str:
    """Return the block to be signed, by role."""
    lines = ((shown(role), "", "", "") for role in _ROLES)
    heads = ("Role", "Name in print", "Day and time", "Signature")
    signed = table("signed", "Signed on paper, by role", heads, lines, "sign")
    told = "A signature stands for what its role did, and for no permit that the local code asks for elsewhere."
    return section("signing", "Sign-off", tag("p", shown(told)), signed)


def origins_section(file: RigFile) -> str:
    """Return what the file was made from, so that it can be made again."""
    inspection = file.inspection
    told = [(f"Read: {one.what}", _origin(one.name, one.digest)) for one in file.origins]
    told += [
        ("Rules", f"{tag('code', shown(inspection.pack))} SHA-256 of rules, limits, documents and vocabulary"),
        ("Made by", shown(f"rigcheck {__version__}")),
        ("Judged for", shown_day(inspection.day)),
        ("Local code", shown(code_words(inspection))),
        ("Hold level", shown(file.hold_at.upper())),
    ]
    same = "The same files, rules, day, code and version give the same file, byte for byte."
    return section("origins", "What this file was made from", joined([rows(told), tag("p", same, class_="quiet")]))


def _origin(name: str, digest: str) -> str:
    return f"{tag('bdi', shown(name))}<br>{tag('code', shown(digest))} SHA-256"
