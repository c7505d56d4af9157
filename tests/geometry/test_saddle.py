"""The edge of a round tube on another, from the circle of the run and from a triangle of 3, 4 and 5."""

from __future__ import annotations

import math

import pytest

from mitertool.geometry.saddle import Saddle


@pytest.mark.parametrize("angle", [90.0, 60.0, 135.0])
def test_down_to_the_run(angle: float) -> None:
    """A branch of 30 on a run of 50: at its side the run is 40 high, over its middle 50. A place that is d along the
    leaning branch and u across it lies d sin a + u cos a over the run's middle."""
    saddle, a = Saddle(30, 50, angle), math.radians(angle)
    for u, v, high in ((0, 30, 40), (0, -30, 40), (30, 0, 50), (-30, 0, 50), (18, 24, math.sqrt(50**2 - 24**2))):
        assert saddle.down(u, v) * math.sin(a) + u * math.cos(a) == pytest.approx(high)


def test_a_branch_that_passes_the_middle() -> None:
    """10 aside, the far side of 30 stands where the run is 30 high, the near side where it is sqrt(50^2 - 20^2)."""
    saddle = Saddle(30, 50, 90, 10)
    assert saddle.down(0, 30) == pytest.approx(30)
    assert saddle.down(0, -30) == pytest.approx(math.sqrt(2100))


def test_two_straight_cuts_square_on_a_run() -> None:
    """From the tip at the sides, 40 up, to 50 at 30 across: 10 in 30 either way. Where the skin is u across it is
    sqrt(900 - u^2) along the run, which is sqrt(1600 + u^2) high there: by so much the chord 40 + u/3 stands off."""
    saddle = Saddle(30, 50)
    assert saddle.slopes == (pytest.approx(-1 / 3), pytest.approx(1 / 3))
    assert saddle.seat == pytest.approx(40)
    most = max(40 + u / 3 - math.sqrt(1600 + u * u) for u in (i / 1000 for i in range(30001)))
    assert saddle.gap == pytest.approx(most, abs=1e-6)


def test_two_straight_cuts_on_a_leaning_branch() -> None:
    """At 60 degrees every height is over sin 60, and the lean adds cot 60 across."""
    saddle, a = Saddle(30, 50, 60), math.radians(60)
    ends = [(saddle.down(u, 0) - saddle.seat) / -abs(u) for u in (30, -30)]
    assert saddle.seat == pytest.approx(40 / math.sin(a))
    assert sorted(abs(s) for s in saddle.slopes) == pytest.approx(sorted(abs(e) for e in ends))
    assert saddle.gap == pytest.approx(Saddle(30, 50).gap / math.sin(a))
