"""Words by which a text would say that a rig may be used, is ready or is safe, and the texts that people can meet."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from html import unescape
from typing import Any

from rigcheck.report.sheet.sheet_words import SHEET_CAUTION
from rigcheck.report.text.inspection_text import CAUTIONS
from rigcheck.rules.looks import looks_of
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of

__all__ = ["found_in", "leave_in", "plain", "texts_of_pack", "texts_of_schema", "without_titles"]

_THING = r"(?:rig|set|sets|torch|line|lines|hose|hoses|cylinder|trolley|place|work|job|it|they|all|everything)"
_USED = (
    r"(?:used|lit|lighted|relit|operated|worked with|put to use|taken into use|put into service|"
    r"started|begun|handed over|left(?! out)|entered)"
)
_LEAVE = re.compile(
    "|".join(
        (
            r"\bsafe(?:ly)?\b",
            rf"\b(?:may|can|might) (?:now |again |then )*be {_USED}\b",
            r"\bmay (?:now |again |then )*(?:stand (?:alone|idle|by itself)|light|weld|braze)\b",
            r"\bready (?:for|to)\b",
            rf"\b{_THING} (?:is|are|stands?|lies?) ready\b",
            r"\bfit (?:for|to) (?:use|work|service)\b",
            r"\b(?:approved|cleared|released|passed|good|suitable|free) (?:for|to) (?:use|service|be used|work)\b",
            r"\b(?:okay|ok) to (?:use|light|work|begin)\b|\bgood to go\b",
            r"\b(?:harmless|risk-free|hazard-free|foolproof)\b|\bno (?:risk|danger)\b",
            r"\bnothing (?:is )?wrong\b(?! with the rig\?)",
        )
    ),
    re.IGNORECASE,
)
_SAID = tuple(" ".join(text.split()) for text in (*CAUTIONS, SHEET_CAUTION))
_TAG = re.compile(r"<[^>]*>")
_ATTRIBUTE = re.compile(r'[\w:-]+="([^"]*)"')


def leave_in(text: str) -> list[str]:
    """Return every piece of a text that gives leave, with a few words round it; the cautions may say what they say."""
    for said in _SAID:
        text = text.replace(said, "")
    return [text[max(0, found.start() - 30) : found.end() + 20] for found in _LEAVE.finditer(text)]


def plain(report: str) -> str:
    """Return the words of a report of any form on one line, no tags, no folded lines; those of attributes last."""
    unfolded = report.replace("\r\n ", "").replace("\\n", " ").replace("\\,", ",").replace("\\;", ";")
    words = " ".join((_TAG.sub(" ", unfolded), *_ATTRIBUTE.findall(unfolded)))
    return " ".join(unescape(words).replace("\\", "").split())


def without_titles(text: str, pack: Pack) -> str:
    """Return text without names of documents, chapters: what somebody else called a book is no word of ours."""
    titles = {*pack.documents, *(one.title for one in pack.documents.values())}
    titles |= {clause for one in pack.documents.values() for clause in one.clauses if leave_in(clause)}
    for title in sorted(titles, key=len, reverse=True):
        text = text.replace(title, "")
    return text


def texts_of_pack(pack: Pack) -> Iterator[tuple[str, str]]:
    """Yield name and text of everything in a pack that a person can meet."""
    for rule in pack.rules.values():
        yield rule.name, f"{rule.claim} {rule.harm} {rule.put_right}"
    for kind in pack.vocabulary.kinds.values():
        yield kind.name, kind.means
        for fact in kind.facts.values():
            words = " ".join(f"{word} {means}" for word, means in fact.words.items())
            yield f"{kind.name}.{fact.name}", f"{fact.entry.means} {fact.entry.ask} {words}"
        for key, held in kind.holds.items():
            yield f"{kind.name}.{key}", held.means
    for limit in pack.definitions.values():
        yield f"limit {limit.name}", limit.means
    for procedure in procedures_of(pack).values():
        yield procedure.name, " ".join((procedure.title, procedure.means, *procedure.cautions))
        for step in procedure.steps.values():
            values = (f"{value.fact.entry.means} {value.fact.entry.ask}" for value in step.values.values())
            told = (step.do, step.stand, step.hazard, step.put_right, *values)
            yield f"{procedure.name}/{step.name}", " ".join(told)
    for look in looks_of(pack).looks.values():
        lists = (f"{one.none} {' '.join(tick.shows for tick in one.ticks)}" for one in look.lesser)
        yield f"look {look.name}", " ".join((look.look, look.do, look.who, *lists))
    for follows in pack.follows.values():
        yield follows.rule.name, follows.rule.claim


def texts_of_schema(schema: str) -> Iterator[str]:
    """Yield every title and description of a JSON Schema."""
    yield from _described(json.loads(schema))


def _described(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        yield from (str(node[key]) for key in ("title", "description") if isinstance(node.get(key), str))
        yield from (text for inner in node.values() for text in _described(inner))
    elif isinstance(node, list):
        yield from (text for inner in node for text in _described(inner))


def found_in(texts: Iterable[tuple[str, str]]) -> list[tuple[str, str]]:
    """Return every piece that gives leave, with the name of its text."""
    return [(name, piece) for name, text in texts for piece in leave_in(" ".join(text.split()))]
