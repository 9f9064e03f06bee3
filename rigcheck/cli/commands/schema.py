"""`rigcheck schema`: the JSON Schema of each kind of file, for editors and for readers of reports."""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Callable, Mapping
from typing import Any

from pydantic import TypeAdapter

from rigcheck.cli.endings import form_for
from rigcheck.cli.output import hand_over, keep_others
from rigcheck.cli.pack_option import chosen_pack
from rigcheck.procedure.procedure_schema import procedure_schema, record_schema
from rigcheck.report.json.departures_json import DeparturesReport
from rigcheck.report.json.due_json import DueReport
from rigcheck.report.json.figures_json import FiguresReport
from rigcheck.report.json.history_json import HistoryReport
from rigcheck.report.json.inspection_json import Report
from rigcheck.report.json.overview_json import OverviewReport
from rigcheck.report.json.sheet_json import SheetOut
from rigcheck.rig.evidence_schema import concessions_schema, look_schema, register_schema, settings_schema
from rigcheck.rig.rig_schema import rig_schema, site_schema
from rigcheck.rig.vocabulary_file import VocabularyFile
from rigcheck.rules.file_models import DocumentsFile, LimitsFile
from rigcheck.rules.overlay import overlay_words
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of
from rigcheck.rules.rule_schema import rule_schema

__all__ = ["run"]

_DIALECT = "https://json-schema.org/draft/2020-12/schema"
_HEAD = f'{{\n "$schema": "{_DIALECT}"'


def run(parsed: Namespace) -> int:
    """Print one schema, or write it to a new file or over an earlier schema."""
    pack = chosen_pack(parsed)
    made = {"$schema": _DIALECT} | _SCHEMAS[parsed.what](pack)
    if pack.laid:
        made["$comment"] = " ".join(overlay_words(pack.laid))  # JSON Schema core 8.3: for whoever reads it
    text = json.dumps(made, ensure_ascii=False, indent=1) + "\n"
    form_for(parsed.output, None, ("json",))
    keep_others(parsed.output, [], (_HEAD,), own="schema")
    hand_over(parsed.output, lambda: [text])
    return 0


_SCHEMAS: Mapping[str, Callable[[Pack], dict[str, Any]]] = {
    "rig": lambda pack: rig_schema(pack.vocabulary),
    "site": lambda pack: site_schema(pack.vocabulary),
    "register": lambda pack: register_schema(pack.vocabulary),
    "look": lambda pack: look_schema(pack.vocabulary),
    "concessions": lambda pack: concessions_schema(pack.vocabulary),
    "settings": lambda pack: settings_schema(pack.vocabulary),
    "rule": lambda pack: rule_schema(pack.vocabulary, pack.definitions),
    "limits": lambda pack: LimitsFile.model_json_schema(),
    "documents": lambda pack: DocumentsFile.model_json_schema(),
    "vocabulary": lambda pack: TypeAdapter(VocabularyFile).json_schema(),
    "report": lambda pack: Report.model_json_schema(mode="serialization"),
    "figures": lambda pack: FiguresReport.model_json_schema(mode="serialization"),
    "procedure": lambda pack: procedure_schema(pack.vocabulary),
    "record": lambda pack: record_schema(procedures_of(pack)),
    "sheet": lambda pack: SheetOut.model_json_schema(mode="serialization"),
    "departures": lambda pack: DeparturesReport.model_json_schema(mode="serialization"),
    "history": lambda pack: HistoryReport.model_json_schema(mode="serialization"),
    "due": lambda pack: DueReport.model_json_schema(mode="serialization"),
    "summary": lambda pack: OverviewReport.model_json_schema(mode="serialization"),
}
