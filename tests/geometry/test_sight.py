"""What of an outline is seen from above, where a person can say it: a tube, a round, a plate with a step, a toe."""

from __future__ import annotations

import math

import pytest

import mitertool as mt
from mitertool.geometry import Arc, Line, Region
from mitertool.geometry.sight import edges, rim, roundings

R2 = math.sqrt(2)


def loop(*points: tuple[float, float]) -> tuple[Line, ...]:
    return tuple(Line(a, b) for a, b in zip(points, (*points[1:], points[0]), strict=True))


STEP = Region((loop((0, 0), (40, 0), (40, 20), (25, 20), (25, 10), (0, 10)),))
"""40 wide and 10 thick, from 25 on 20 thick."""

OVERHANG = Region((loop((0, 0), (40, 0), (40, 30), (10, 30), (10, 20), (30, 20), (30, 10), (0, 10)),))
"""A C that opens to the left: its roof of 10 reaches out over the floor from 40 back to 10."""


def test_every_edge_of_a_step_is_seen() -> None:
    """The ends and the step are walls seen as one line, and every corner of them has its own edge at the same place."""
    found = {(first[0], seen) for first, _, seen in edges(STEP)}
    assert found == {(0, True), (40, True), (25, True)}
    walls = {(first, last) for first, last, _ in edges(STEP) if first != last}
    assert walls == {((40, 0), (40, 20)), ((25, 20), (25, 10)), ((0, 10), (0, 0))}


def test_a_point_on_a_straight_side_is_no_edge() -> None:
    """A plate whose outline begins in the middle of its top."""
    plate = Region((loop((20, 10), (0, 10), (0, 0), (40, 0), (40, 10)),))
    assert {first[0] for first, _, _ in edges(plate)} == {0, 40}


def test_what_lies_under_a_roof_is_hidden() -> None:
    """The wall at 30 lies under the roof from 10 to 40; the floor's left end and the roof's are free."""
    seen = {first[0]: seen for first, last, seen in edges(OVERHANG) if first != last}
    assert seen == {0: True, 10: True, 30: False, 40: True}


def test_a_round_turns_away_at_both_sides() -> None:
    assert {(round(a, 9), seen) for (a, _), _, seen in edges(mt.round_bar(50).region)} == {(0, True), (50, True)}


def test_the_rim_of_a_round_is_seen_above_and_hidden_below() -> None:
    (one, first), (other, second) = rim(mt.round_bar(50).region)
    assert isinstance(one, Arc)
    assert isinstance(other, Arc)
    assert (first, second) == (True, False)
    assert (one.begin % (2 * math.pi), one.sweep) == (pytest.approx(0.0), pytest.approx(math.pi))
    assert (other.begin % (2 * math.pi), other.sweep) == (pytest.approx(math.pi), pytest.approx(math.pi))


def test_a_rim_is_parted_where_another_part_covers_it() -> None:
    """The floor from 0 to 30 is seen as far as 10, where the roof begins; the roof is seen, its under side not."""
    found = [(part.start, part.end, seen) for part, seen in rim(OVERHANG)]
    assert ((10, 10), (0, 10), True) in found
    assert ((30, 10), (10, 10), False) in found
    assert ((40, 30), (10, 30), True) in found
    assert ((10, 20), (30, 20), False) in found
    assert ((0, 0), (40, 0), False) in found or ((0, 0), (10, 0), False) in found


def test_part_of_a_rim_alone() -> None:
    top = Line((40, 30), (10, 30))
    assert rim(OVERHANG, (top,)) == ((top, True),)


def rounded_corner(turn: float, radius: float = 10.0) -> Region:
    """A plate 60 wide whose top falls away to the right by `turn` degrees, rounded about (30, 20)."""
    a = math.radians(turn)
    begin, end = (30.0, 20 + radius), (30 + radius * math.sin(a), 20 + radius * math.cos(a))
    far = (60.0, end[1] - (60 - end[0]) * math.tan(a))
    return Region(
        (
            (
                *(Line((0, 0), (60, 0)), Line((60, 0), far), Line(far, end)),
                Arc((30, 20), radius, math.pi / 2 - a, a),
                *(Line(begin, (0, 30)), Line((0, 30), (0, 0))),
            ),
        )
    )


def test_a_rounding_between_two_seen_faces_is_told_along_its_middle() -> None:
    """40 degrees about (30, 20), from the top to the right: the middle of it lies 20 degrees over."""
    middle = (30 + 10 * math.sin(math.radians(20)), 20 + 10 * math.cos(math.radians(20)))
    assert roundings(rounded_corner(40)) == (pytest.approx(middle),)
    assert roundings(rounded_corner(25)) == ()
    assert roundings(STEP) == ()
    assert roundings(mt.round_bar(50).region) == ()


def test_a_rounding_that_faces_down_is_not_seen() -> None:
    """The same plate upside down, and the inner corners of a tube, whose roof lies over the lower ones."""
    down = Region(
        tuple(
            tuple(
                Line((60 - s.start[0], 40 - s.start[1]), (60 - s.end[0], 40 - s.end[1]))
                if isinstance(s, Line)
                else Arc((60 - s.center[0], 40 - s.center[1]), s.radius, s.begin + math.pi, s.sweep)
                for s in one
            )
            for one in rounded_corner(40).loops
        )
    )
    assert roundings(down) == ()


def test_a_quarter_round_that_ends_upright_is_an_edge_and_no_rounding() -> None:
    """A tube's corner turns away from the eye at its side, where it has an edge."""
    tube = mt.rect_tube(60, 40, 3, 6, 3).region
    assert roundings(tube) == ()
    assert {round(a, 9) for (a, _), _, seen in edges(tube) if seen} == {0, 60}
