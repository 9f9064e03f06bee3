"""What a detector shows of flammable gas in the air of the place, as a share of the lower explosive limit."""

from __future__ import annotations

from rigcheck.facts.figure import Figure, Way
from rigcheck.facts.topics.gas_data import lower_limit
from rigcheck.facts.topics.gathering import as_stated
from rigcheck.physics.intervals import Span

__all__ = ["FIGURES"]


def _by_content(gas: str) -> Way:
    lower = lower_limit(gas)

    def share(content: Span) -> Span | None:
        return None if lower is None else (content[0] / lower, content[1] / lower)

    return Way(
        f"share = c/L, L = lower explosive limit of {gas}",
        "definition",
        share,
        inputs={"content": f"{gas}_content"},
        asks=False,
    )


FIGURES: tuple[Figure, ...] = (
    Figure(
        "site",
        "flammable_share",
        (as_stated("explosive_share", asks=True), _by_content("acetylene"), _by_content("propane")),
        0.1,
        "a detector is calibrated with one gas and reads another by a factor",
    ),
)
"""The figures of this topic."""
