"""`rigcheck schema`: the JSON Schema of each kind of file, for editors and for readers of reports."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from collections.abc import Callable, Mapping
from typing import Any

from pydantic import TypeAdapter

from rigcheck.cli.console import ProblemFound, write_whole
from rigcheck.cli.packing import chosen_pack
from rigcheck.procedure.collection import procedures_of
from rigcheck.procedure.schema import procedure_schema, record_schema
from rigcheck.report.departures_json import DeparturesReport
from rigcheck.report.due_json import DueReport
from rigcheck.report.figures import FiguresReport
from rigcheck.report.overview_json import OverviewReport
from rigcheck.report.sheet_json import SheetOut
from rigcheck.report.structured import Report
from rigcheck.rig.declaration import KindFile
from rigcheck.rig.schema import rig_schema
from rigcheck.rules.file_shapes import DocumentsFile, LimitsFile
from rigcheck.rules.pack import Pack
from rigcheck.rules.schema import rule_schema

__all__ = ["run_schema"]

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def run_schema(parsed: Namespace) -> int:
    """Print one schema, or write it to a new file or over an earlier schema."""
    made = {"$schema": _DIALECT} | _SCHEMAS[parsed.what](chosen_pack(parsed))
    text = json.dumps(made, ensure_ascii=False, indent=1) + "\n"
    if parsed.output is None:
        sys.stdout.write(text)
        return 0
    if parsed.output.exists() and _DIALECT.encode() not in parsed.output.read_bytes()[:200]:
        raise ProblemFound(f"{parsed.output} exists and is no schema; take it away or name another file.")
    write_whole(parsed.output, [text])
    return 0


_SCHEMAS: Mapping[str, Callable[[Pack], dict[str, Any]]] = {
    "rig": lambda pack: rig_schema(pack.vocabulary),
    "rule": lambda pack: rule_schema(pack.vocabulary, pack.definitions),
    "limits": lambda pack: LimitsFile.model_json_schema(),
    "documents": lambda pack: DocumentsFile.model_json_schema(),
    "vocabulary": lambda pack: TypeAdapter(KindFile).json_schema(),
    "report": lambda pack: Report.model_json_schema(mode="serialization"),
    "figures": lambda pack: FiguresReport.model_json_schema(mode="serialization"),
    "procedure": lambda pack: procedure_schema(pack.vocabulary),
    "record": lambda pack: record_schema(procedures_of(pack)),
    "sheet": lambda pack: SheetOut.model_json_schema(mode="serialization"),
    "departures": lambda pack: DeparturesReport.model_json_schema(mode="serialization"),
    "due": lambda pack: DueReport.model_json_schema(mode="serialization"),
    "summary": lambda pack: OverviewReport.model_json_schema(mode="serialization"),
}
