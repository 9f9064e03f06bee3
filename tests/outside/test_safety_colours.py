"""The colours of the signal words are those that are published for labels and placards, on any screen.

49 CFR part 172, appendix A, table 1 (CIE data for source C): the central colour of red as published; those of
orange, yellow and blue from memory. A general colour library turns them into sRGB; what a screen cannot show is
moved to its edge, so the difference (CIEDE2000) may reach 5. Contrast: WCAG 2.2, 1.4.3, at least 4.5.
"""

from __future__ import annotations

from typing import get_args

import pytest
from coloraide import Color, cat

from rigcheck.report.html.page import style_of
from rigcheck.report.safety_colours import SIGNAL_COLOURS
from rigcheck.report.text.style import STYLES
from rigcheck.rules.rule import Signal

_WHITES = cat.WHITES["2deg"]
_PUBLISHED: dict[Signal, tuple[float, float, float]] = {  # luminance in per cent, x, y
    "danger": (12.00, 0.5959, 0.3269),
    "warning": (30.05, 0.5510, 0.4214),  # from memory
    "caution": (59.10, 0.4562, 0.4788),  # from memory
    "notice": (9.00, 0.1691, 0.1744),  # from memory
}
_FAR = 5.0


def _as_published(luminance: float, x: float, y: float) -> Color:
    under_c = [luminance / 100 * part / y for part in (x, y, 1 - x - y)]
    return Color("xyz-d65", Color.chromatic_adaptation(_WHITES["C"], _WHITES["D65"], under_c))


@pytest.mark.parametrize("signal", get_args(Signal))
def test_the_ground_of_a_signal_word_is_its_published_safety_colour(signal: Signal) -> None:
    ground = Color(SIGNAL_COLOURS[signal][0])
    assert ground.delta_e(_as_published(*_PUBLISHED[signal]), method="2000") < _FAR


def test_another_red_would_be_noticed() -> None:
    assert Color("#ff4500").delta_e(_as_published(*_PUBLISHED["danger"]), method="2000") > _FAR


@pytest.mark.parametrize("signal", get_args(Signal))
def test_a_signal_word_is_read_on_its_ground(signal: Signal) -> None:
    ground, letters = SIGNAL_COLOURS[signal]
    assert Color(ground).contrast(letters, method="wcag21") >= 4.5


@pytest.mark.parametrize("signal", get_args(Signal))
def test_screen_and_page_have_the_same_colours(signal: Signal) -> None:
    ground, letters = SIGNAL_COLOURS[signal]
    page = style_of("base")
    assert ground in STYLES[signal]
    assert letters in STYLES[signal]
    assert f"--{signal}: {ground}; --on-{signal}: {letters};" in page
    assert f"\n.{signal} {{ background: var(--{signal}); color: var(--on-{signal}); }}\n" in page
