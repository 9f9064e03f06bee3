"""The tool room's welding set, stated in full and with nothing found against it, with a few things said otherwise."""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from functools import cache
from typing import Any

import yaml

from support.in_full import sites_in_full

__all__ = ["text_of", "tool_room_but"]

_LINES = {"fuel": 0, "oxygen": 1}


def text_of(rig: Mapping[str, Any]) -> str:
    """Return a rig as the text of its file."""
    return yaml.safe_dump(dict(rig), sort_keys=False, allow_unicode=True)


def tool_room_but(stated: Mapping[str, Any], *, fuel: str = "") -> dict[str, Any]:
    """Return the set with what is stated at `fuel hose`, `oxygen arrester 2`, `site`, `rig` or `person`.

    `none` as a whole takes a part out, denies another thing; `left out` takes what was written of it away.
    """
    rig = deepcopy(_tool_room())
    if fuel:
        rig["lines"][0]["gas"] = rig["lines"][0]["parts"][0]["cylinder"]["gas"] = fuel
    for where, said in stated.items():
        _state(rig, where, said)
    for line in rig["lines"]:
        line["parts"] = [part for part in line["parts"] if "taken out" not in part.values()]
    return rig


@cache
def _tool_room() -> dict[str, Any]:
    text = (sites_in_full() / "tool-room-welding.yaml").read_text(encoding="utf-8")
    return dict(yaml.load(text, yaml.BaseLoader))


def _number(parts: list[dict[str, Any]], kind: str, nth: str = "1") -> int:
    return [place for place, part in enumerate(parts) if kind in part][int(nth) - 1]


def _state(rig: dict[str, Any], where: str, said: Any) -> None:
    """Write what is said at `fuel hose`, `fuel arrester 2`, `oxygen joint after hose`, `fuel line` or `site`."""
    first, _, rest = where.partition(" ")
    if first not in _LINES:
        _state_of_the_rig(rig, where, said)
        return
    line = rig["lines"][_LINES[first]]
    kind, *more = rest.split()
    if kind == "line":
        line |= said
        for fact in [key for key, one in said.items() if not one]:
            del line[fact]
    elif kind == "every_joint":
        line[kind] |= said
    elif kind == "joint":
        place = _number(line["parts"], *more[1:]) + 1
        if place < len(line["parts"]) and "joint" in line["parts"][place]:
            line["parts"][place]["joint"] |= said
        else:
            line["parts"].insert(place, {"joint": said})
    elif kind == "pigtail":
        line["parts"].insert(1, {"pigtail": said})
    else:
        part = line["parts"][_number(line["parts"], kind, *more)]
        part[kind] = "taken out" if said == "none" else {key: one for key, one in (part[kind] | said).items() if one}


def _state_of_the_rig(rig: dict[str, Any], where: str, said: Any) -> None:
    if where == "rig":
        rig |= said
    elif where == "person":
        rig["people"][0] |= said
    elif where == "nozzle":
        rig["torch"]["nozzle"] |= said
    elif where.startswith("control_valve"):
        rig["torch"]["control_valve"][int(where.split()[1]) - 1] |= said
    elif said == "left out":
        rig.pop(where, None)
    elif said == "none":
        rig[where] = said
    else:
        rig[where] = {key: one for key, one in (rig.get(where, {}) | said).items() if one}
