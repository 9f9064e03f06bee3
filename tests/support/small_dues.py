"""A due date of an invented hose, for reports."""

from __future__ import annotations

from datetime import date

from rigcheck.rules.documents import Source
from rigcheck.tasks.due_dates import Due
from rigcheck.text.place import Place


def due(first: str, thing: str = "oxygen hose", **more: object) -> Due:
    """Return what falls due on a day (YYYY-MM-DD); `more` sets other fields."""
    day = date.fromisoformat(first).toordinal()
    plain = Due(
        first=day,
        last=day,
        rig="Yard set",
        thing=thing,
        kind="hose",
        fact="made",
        stated="2024-03",
        limit="5 year",
        limit_name="hose life",
        local_code="general",
        judged_under="uk",
        because="",
        sources=(Source("Yard rule s.1", "An invented rule", "from memory"),),
        rule="hoses/young",
        signal="caution",
        claim="The hose is young.",
        put_right="Change the hose.",
        place=Place("yard.yaml", 12, 5),
        rule_place=Place("rules/young.yaml", 1, 1),
        interval=1826,
    )
    return plain._replace(**more)
