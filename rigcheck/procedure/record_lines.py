"""A record that is written while a procedure is done: a line for each step, added to those that stand there.

No line is ever changed, but for the one that says that it stopped: it is taken out when somebody goes on.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from rigcheck.procedure.expansion import Instance
from rigcheck.text.scalar_text import scalar_text

__all__ = ["begun_record", "gone_on", "stopped_at", "with_step"]

_STEPS = "\nsteps:\n"
_STOPPED = re.compile(r"^stopped:.*\n", re.MULTILINE)


def begun_record(procedure: str, rig: str, day: str, by: str) -> str:
    """Return a record of which no step was done yet; `rig`: the path of the rig's file, seen from the record."""
    head = "# Written while it was done, a step at a time. Nothing here says that the rig may be used.\n"
    return f"{head}record: {procedure}\nrig: {scalar_text(rig)}\ndone: {day}\nby: {scalar_text(by)}{_STEPS}"


def with_step(text: str, instance: Instance, at: str, values: Mapping[str, str]) -> str:
    """Return a record with one step more. Raises ValueError where it is not laid out as `begun_record` lays it."""
    _split(text)
    told = {"thing": instance.called} if instance.thing is not None else {}
    told |= {"at": at, **values}
    ended = text if text.endswith("\n") else f"{text}\n"
    body = ", ".join(f"{key}: {scalar_text(value)}" for key, value in told.items())
    return f"{ended}  - {instance.step.name}: {{{body}}}\n"


def stopped_at(text: str, at: str) -> str:
    """Return a record that says when it was stopped. Raises ValueError as `with_step` does."""
    head, steps = _split(gone_on(text))
    return f"{head}\nstopped: {scalar_text(at)}{_STEPS}{steps}"


def gone_on(text: str) -> str:
    """Return a record that was stopped as one that is being made again."""
    head, between, steps = text.partition(_STEPS)
    return _STOPPED.sub("", f"{head}\n").removesuffix("\n") + between + steps


def _split(text: str) -> tuple[str, str]:
    head, between, steps = text.partition(_STEPS)
    if not between:
        raise ValueError("the record is not laid out as one that is being made")
    return head, steps
