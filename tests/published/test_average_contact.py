"""The average width of cut: area of the cut over the travel of the blade through it.

Source: definition, common practice in sawing; no citable text (DEFINITION). Worked value: outside 100 mm, inside 80 mm,
cut square, pi/4 (100^2 - 80^2) / 100 = 28.274 mm (COMPUTED, three decimals).

Tolerance: half a unit of the last figure; where contact is averaged by adding lines evenly spaced, what the trapezoidal
rule may miss at the vertical tangents of a round, 1e-4 relative with 4000 lines.
"""

from __future__ import annotations

import math

import pytest

import mitertool as mt

TUBE = mt.round_tube(100, 10)


def test_area_over_height() -> None:
    face = mt.Cut().face(TUBE)
    assert face.area / face.height == pytest.approx(28.274, abs=5e-4)


@pytest.mark.parametrize(("miter", "stretch"), [(0, 1.0), (45, math.sqrt(2)), (60, 2.0)])
def test_contact_averaged_over_the_travel(miter: float, stretch: float) -> None:
    """A miter lengthens every line on the blade by 1/cos and leaves the travel as it is."""
    face = mt.Cut(miter).face(TUBE)
    lines = [face.contact((i + 0.5) / 40) for i in range(4000)]
    assert sum(lines) / len(lines) == pytest.approx(28.274334 * stretch, rel=1e-4)
    assert face.area / face.height == pytest.approx(28.274334 * stretch, rel=1e-8)


def test_a_bevel_lengthens_the_travel_and_leaves_the_average() -> None:
    face = mt.Cut(0, 45).face(TUBE)
    assert face.height == pytest.approx(100 * math.sqrt(2), rel=1e-12)
    assert face.area / face.height == pytest.approx(28.274334, rel=1e-8)
