"""What quadrature, turns and changes of sign promise, on functions whose answers are closed forms: the worst of them.

Worst for a turn is one that lies beside an end like a root, or that is flat like a fourth power; for quadrature a pole
or a root half an interval beyond its end, where a blade's walls may end.
"""

from __future__ import annotations

from math import cos, log, pi, sqrt

import pytest

from mitertool.cut.blade.numeric import Function, crossings, crowded_to_ends, integral, least_near

TURNS: list[tuple[Function, float, float, float]] = [
    (lambda x: (x - 0.3) ** 2 - 7.0, 0.0, 1.0, -7.0),
    (lambda x: (x - 0.71) ** 4 + 2.0, -1.0, 1.0, 2.0),
    (lambda x: 5.0 * cos(x), 2.0, 5.0, -5.0),
    (lambda x: -sqrt(max(0.0, x)) + x, 0.0, 1.0, -0.25),
    (lambda x: -sqrt(max(0.0, x)) + 20 * x, 0.0, 1.0, -1 / 80),
    (lambda x: -sqrt(max(0.0, 1 - x * x)) - 0.6 * x, -1.0, 1.0, -sqrt(1.36)),
    (lambda x: abs(x - 0.4) - 3.0, 0.0, 1.0, -3.0),
]
"""Function, ends, and its least value. A disc and a slope together turn where the slope of the disc is the other."""


@pytest.mark.parametrize(("function", "low", "high", "least"), TURNS)
def test_a_least_value(function: Function, low: float, high: float, least: float) -> None:
    """To the square of a 4e-9th of the interval where it turns smoothly; at a corner to that 4e-9th itself."""
    at = crowded_to_ends(low, high)
    found, place = least_near(function, at, list(map(function, at)))
    assert function(place) == found
    corner = 4e-9 * (high - low) if least == -3.0 else 0.0
    assert found == pytest.approx(least, rel=1e-14, abs=max(corner, 1e-15))


def test_a_turn_is_found_in_few_steps() -> None:
    """Golden sections alone would ask 40 times."""
    asked: list[float] = []

    def disc(x: float) -> float:
        asked.append(x)
        return -sqrt(max(0.0, 1 - x * x)) - 0.6 * x

    at = crowded_to_ends(-1.0, 1.0)
    values = list(map(disc, at))
    asked.clear()
    least_near(disc, at, values)
    assert 3 < len(asked) < 30


@pytest.mark.parametrize(
    ("function", "exact"),
    [
        (lambda x: 1 / (2 - x), log(3)),
        (lambda x: sqrt(2 - x), 2 / 3 * (3 * sqrt(3) - 1)),
        (lambda x: 1 / (1 + x * x / 2.25), 1.5 * 2 * 0.5880026035475675),
    ],
)
def test_an_integral(function: Function, exact: float) -> None:
    """To 1e-12 of the largest value times the interval; the last is 2 a atan(1 / a), a = 1.5, COMPUTED atan."""
    most = max(function(-1.0), function(0.0), function(1.0))
    assert abs(integral(function, -1.0, 1.0) - exact) <= 1e-12 * most * 2


def test_changes_of_sign() -> None:
    """A cosine over three turns, to 1e-9 of a step."""
    at = crowded_to_ends(0.0, 6 * pi)
    found = crossings(cos, at, list(map(cos, at)))
    assert found == pytest.approx([pi * (n + 0.5) for n in range(6)], abs=1e-9 * 6 * pi)
