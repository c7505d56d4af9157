"""What of an outline is seen from one side, on outlines small enough to see it by eye; (a, u), the eye above."""

from __future__ import annotations

import math

import pytest

from mitertool.geometry import Arc, Line, Region, rounded
from mitertool.geometry.sight import edges, rim, roundings


def sharp(*corners: tuple[float, float]) -> Region:
    return Region((rounded([(*corner, 0.0) for corner in corners]),))


BLOCK = sharp((0, 0), (40, 0), (40, 10), (0, 10))
TROUGH = sharp((0, 0), (40, 0), (40, 20), (35, 20), (35, 5), (5, 5), (5, 20), (0, 20))
"""Open toward the eye."""

ANVIL = sharp((10, 0), (30, 0), (30, 10), (40, 10), (40, 20), (0, 20), (0, 10), (10, 10))
"""Its foot is narrower than its head and lies behind it."""

HALF = math.sqrt(0.5)

ROUND = Region(((Arc((10, 10), 10, -math.pi / 2, 2 * math.pi),),))
PIPE = Region((*ROUND.loops, (Arc((10, 10), 8, 0.0, -2 * math.pi),)))


def lines(region: Region) -> tuple[set[float], set[float]]:
    """Where edges are seen, and where they are only hidden."""
    found = [(round(first[0], 9), seen) for first, _, seen in edges(region)]
    solid = {a for a, seen in found if seen}
    return solid, {a for a, _ in found} - solid


@pytest.mark.parametrize(
    ("region", "seen", "hidden"),
    [
        (BLOCK, {0, 40}, set()),
        (TROUGH, {0, 5, 35, 40}, set()),
        (TROUGH.turned(math.pi).to_corner(), {0, 40}, {5, 35}),
        (ANVIL, {0, 40}, {10, 30}),
        (ROUND, {0, 20}, set()),
        (PIPE, {0, 20}, {2, 18}),
        # Corners (7.07, 0), (35.36, 28.28), (28.28, 35.36) and (0, 7.07): the first lies below the bar.
        (BLOCK.turned(math.pi / 4).to_corner(), {0, 40 * HALF, 50 * HALF}, {10 * HALF}),
    ],
    ids=["block", "trough", "trough upside down", "anvil", "round", "pipe", "block on edge"],
)
def test_edges(region: Region, seen: set[float], hidden: set[float]) -> None:
    solid, dashed = lines(region)
    assert (solid, dashed) == ({round(a, 9) for a in seen}, {round(a, 9) for a in hidden})


def lengths(region: Region) -> tuple[float, float]:
    """How much of the outline is seen, and how much hidden, mm."""
    seen = sum(segment.length for segment, is_seen in rim(region) if is_seen)
    return seen, sum(segment.length for segment, is_seen in rim(region) if not is_seen)


@pytest.mark.parametrize(
    ("region", "seen", "hidden"),
    [
        (BLOCK, 40 + 2 * 10, 40),
        (TROUGH, 30 + 2 * 5 + 2 * 20 + 2 * 15, 40),
        (ANVIL, 40 + 2 * 10, 20 + 2 * 10 + 2 * 10),
        (ROUND, 10 * math.pi, 10 * math.pi),
        (PIPE, 10 * math.pi, 10 * math.pi + 16 * math.pi),
    ],
    ids=["block", "trough", "anvil", "round", "pipe"],
)
def test_the_rim_of_an_end_turned_away(region: Region, seen: float, hidden: float) -> None:
    assert lengths(region) == pytest.approx((seen, hidden), abs=1e-9)


def test_a_wall_half_behind_another_is_split() -> None:
    # A roof from 0 to 20 over a step from 0 to 40: the step's top is seen from 20 on.
    step = sharp((0, 0), (40, 0), (40, 10), (5, 10), (5, 20), (20, 20), (20, 25), (0, 25))
    top = [(part, seen) for part, seen in rim(step) if isinstance(part, Line) and part.start[1] == part.end[1] == 10]
    spans = {seen: sorted((part.start[0], part.end[0])) for part, seen in top}
    assert spans == {True: [20, 40], False: [5, 20]}


def test_a_rounding_between_two_seen_faces_is_told_and_one_that_turns_away_is_not() -> None:
    # A valley with walls that lean out, rounded at its two lower corners; the outer corners turn away.
    valley = Region(
        (
            rounded(
                [(0, 0, 2), (60, 0, 2), (60, 30, 0), (55, 30, 0), (45, 5, 4), (15, 5, 4), (5, 30, 0), (0, 30, 0)],
            ),
        )
    )
    found = sorted(a for a, _ in roundings(valley))
    assert len(found) == 2
    assert found[0] + found[1] == pytest.approx(60, abs=1e-9)
    assert 15 - 4 < found[0] < 15 + 4
