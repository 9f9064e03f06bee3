"""What the help of each command ends with: examples, and what its exit codes mean."""

from __future__ import annotations

from collections.abc import Mapping

__all__ = ["EXAMPLES"]

EXAMPLES: Mapping[str, str] = {
    "inspect": """\
examples:
  rigcheck inspect my-rig.yaml
  rigcheck inspect rigs/ --local-code uk --hold-at caution
  rigcheck inspect my-rig.yaml --rules company-rules --format json --output report.json
  rigcheck inspect rigs/ --format text --format sarif --output rigs.sarif
  rigcheck inspect my-rig.yaml start-up-of-today.yaml     a rig, and a record of work with it
  cat my-rig.yaml | rigcheck inspect -

exit code: 0 nothing at or above the hold level, 1 on hold, 2 something could not be read or judged
(the other files still are), 3 both, and standard error says how many of each.
""",
    "ask": """\
examples:
  rigcheck ask my-rig.yaml                          the whole walk, station by station
  rigcheck ask my-rig.yaml --by fitter --only danger       only what could kill
  rigcheck ask my-rig.yaml --paper --output walk.html      the same on paper, to be printed on A4
  rigcheck ask my-rig.yaml --for use                the daily look at a rig on record
  rigcheck ask my-rig.yaml start-up                 a procedure by the hand, recorded step by step

Answers go into a look beside the rig, each at once; the same command goes on where it ended.

exit code: 0 stopped, or nothing at or above the hold level; 1 on hold; 2 something could
not be read.
""",
    "answer": """\
examples:
  rigcheck ask my-rig.yaml --paper --output sheet.yaml     the sheet to type into, beside the one of paper
  rigcheck answer my-rig.yaml sheet.yaml                   what was written there goes into a look beside the rig

All of a sheet is taken in, or nothing where a row cannot be read. An empty row says nothing.

exit code: 0 taken in, and nothing at or above the hold level; 1 taken in, on hold; 2 not taken in.
""",
    "figures": """\
examples:
  rigcheck figures my-rig.yaml             the twenty that decide it
  rigcheck figures my-rig.yaml --all       every one, thing by thing
  rigcheck figures my-rig.yaml --format json --output figures.json
  rigcheck figures my-rig.yaml --output figures.svg     plots of contents and pressures
  cat my-rig.yaml | rigcheck figures -

exit code: 0 the sheet was made, 2 the rig could not be read.
""",
    "draw": """\
examples:
  rigcheck draw my-rig.yaml --output my-rig.svg
  rigcheck draw my-rig.yaml --local-code uk > my-rig.svg

exit code: 0 the drawing was made, whatever was found; 2 the rig could not be read.
""",
    "file": """\
examples:
  rigcheck file my-rig.yaml --output my-rig.html        to be read, printed on A4 and signed
  rigcheck file my-rig.yaml --local-code uk --hold-at caution --output my-rig.html

exit code: 0 the file was made, whatever was found; 2 the rig could not be read.
""",
    "sheet": """\
examples:
  rigcheck sheet my-rig.yaml                           the procedures that there are
  rigcheck sheet my-rig.yaml start-up
  rigcheck sheet my-rig.yaml leak-test --output leak-test.html      to be printed on A4

exit code: 0 the sheet was made, 2 the rig could not be read.
""",
    "compare": """\
examples:
  rigcheck compare configs/templates/oxy-propane-cutting.yaml my-rig.yaml
  rigcheck compare my-rig.yaml                          with the standard rig that it names
  rigcheck compare rig-2025.yaml rig-2026.yaml --format json --output departures.json

A fact that the first leaves open for the site (on_site) and the second states is no departure,
and what a standard rig lets differ (may_differ) is marked and does not count.
exit code: 0 the same, 1 they differ, 2 one of them could not be read.
""",
    "history": """\
examples:
  rigcheck history my-rig.yaml
  rigcheck history my-rig.yaml --day 2026-06-30 --format json --output until-june.json

Only what stands in files counts: looks, records of work, and days at which the description says 'seen:'.
exit code: 0, or 2 where something could not be read.
""",
    "due": """\
examples:
  rigcheck due rigs/ --within 90d
  rigcheck due my-rig.yaml --within "3 month" --output due.ics    for a calendar
  rigcheck due rigs/ --daily --within 1d                          with the tests of every day
  rigcheck due rigs/ --output due.csv                             for a spreadsheet

exit code: 0 nothing is overdue, 1 something is, 2 something could not be read (the others still are), 3 both.
""",
    "register": """\
examples:
  rigcheck register read parts.csv register/parts.yaml
  rigcheck register read new-hoses.csv register/new-hoses.yaml --register register/
  rigcheck register write register/ parts.csv

The first row of a table names its columns: tag, kind (or 'as', a kind of the register), and facts, as made,
bore, withdrawn; values bear their units. A file that is there already is never written over.
exit code: 0, or 2 where a row was refused or nothing could be read.
""",
    "rows": """\
for example:
  rigcheck rows rigs/ --output tables
  rigcheck rows /shared/rigs --output tables --fleet tcp://10.0.0.5:8786

exit code: 0 no rig is on hold, 1 one is, 2 something could not be read (the others still are), 3 both.
""",
    "summary": """\
examples:
  rigcheck summary rigs/
  rigcheck summary rigs/ --against last-month.json --output summary.md
  rigcheck inspect rigs/ --format json --output this-month.json     the report for next time

exit code: 0 no rig is on hold, 1 one is, 2 something could not be read (the others still are), 3 both.
""",
    "words": """\
examples:
  rigcheck words                        the kinds of things
  rigcheck words hose                   what can be written of a hose
  rigcheck words hose cover             its words, what they mean, which rules read it

exit code: 0, or 2 where there is no such kind or fact.
""",
    "rules": """\
examples:
  rigcheck rules list hoses
  rigcheck rules list --about hose --fact bore --code us --signal danger --signal warning
  rigcheck rules list --sources
  rigcheck rules show hoses/twin_hoses_part_freely
  rigcheck rules prove --rules company-rules
""",
    "new": """\
examples:
  rigcheck new                          the templates that there are
  rigcheck new oxy-propane-cutting my-rig.yaml
  rigcheck new record my-rig.yaml start-up today.yaml     a record to fill in
""",
    "schema": """\
example, for completion and hover text in an editor with a YAML language server:
  rigcheck schema rig --output rig.schema.json
and as the first line of my-rig.yaml:
  # yaml-language-server: $schema=rig.schema.json
""",
    "completion": """\
example:
  eval "$(rigcheck completion bash)"
""",
}
"""By the name of the command."""
