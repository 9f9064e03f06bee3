"""What the tests of procedures share: a pack with procedures of the tests' own, rigs, and records of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path

from msgspec.structs import replace

from rigcheck.judge.compiled_rules import compiled_for
from rigcheck.judge.inspection import Inspection
from rigcheck.procedure.expansion import Expansion, Instance, expand
from rigcheck.procedure.record_reader import read_record
from rigcheck.procedure.record_verdict import judge_record
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of
from support.small_rigs import known

__all__ = ["DAY", "FOLDER", "entry", "expanded", "judged", "marked", "pack_with", "read_rig", "record_text"]

FOLDER = Path(__file__).parents[1] / "unit" / "procedure"
DAY = date(2026, 11, 24).toordinal()


def marked(text: str) -> tuple[str, str]:
    """Return a text without its mark «, and line and column of the mark ('' where there is none)."""
    before, mark, after = text.partition("«")
    place = f"{before.count(chr(10)) + 1}:{len(before) - before.rfind(chr(10))}"
    return before + after, place if mark else ""


def pack_with(pack: Pack, procedures: Mapping[str, str]) -> Pack:
    """Return a pack with these procedures, by name and text, in place of its own; no rule judges a rig."""
    files = tuple((f"procedures/{name}.yaml", text.encode()) for name, text in procedures.items())
    return replace(pack, procedure_files=files, rules={})


def read_rig(pack: Pack, text: str, file: str = "rig.yaml") -> Rig:
    """Return the rig of a text."""
    return load_rig(text.encode(), file, pack.vocabulary)


def expanded(pack: Pack, rig: Rig, procedure: str, local_code: str = "general") -> Expansion:
    """Return a procedure of a pack for a rig on the day of the tests."""
    judge = compiled_for(pack, local_code, DAY).judge
    return expand(procedures_of(pack)[procedure], known(rig, DAY, judge.limits, pack), judge, local_code)


def entry(instance: Instance, values: Mapping[str, str] | None = None) -> str:
    """Return one line of a record."""
    thing = [f'thing: "{instance.called}"'] if instance.thing else []
    told = [f'{name}: "{value}"' for name, value in (values or {}).items()]
    return f"  - {instance.step.name}: {{{', '.join(thing + told)}}}"


def record_text(procedure: str, entries: Iterable[str]) -> str:
    """Return the text of a record."""
    head = f"record: {procedure}\nrig: rig.yaml\ndone: 2026-11-24\nby: the user\nsteps:\n"
    return head + "".join(f"{line}\n" for line in entries)


def judged(pack: Pack, rig: Rig, text: str, local_code: str = "") -> Inspection:
    """Return what comes of a record."""
    return judge_record(read_record(text.encode(), "record.yaml"), rig, pack, local_code=local_code)
