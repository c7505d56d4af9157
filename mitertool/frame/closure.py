"""Putting pieces back together by rigid moves in the plane, and measuring what does not fit; knows joints' names only.

A piece is its plan: points are complex, x along the bar, y from the inside (0) to the outside (its width).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import Final

import attrs

from mitertool.base.tolerances import CLOSED
from mitertool.frame.joints import FIRST_THROUGH, MITER, SECOND_THROUGH, Joint

OPEN: Final = "open"
INNER_STEP: Final = "inner-step"
END_STEP: Final = "end-step"
LEFT_AS: Final = (OPEN, INNER_STEP, END_STEP)
"""What is left where pieces do not fit: faces that stand open; inner edges that are out of line, though the outer ones
meet, where mitered faces are not as long; an end that runs through and is not flush."""


@attrs.frozen
class InPlan:
    """A piece in plan: its width, the length of its inner edge, and the slopes of its two cuts."""

    width: float
    inner: float
    p_left: float
    p_right: float

    @property
    def left(self) -> tuple[complex, complex]:
        """The left face from the outside to the inside."""
        return complex(-self.p_left * self.width, self.width), 0j

    @property
    def right(self) -> tuple[complex, complex]:
        """The right face from the outside to the inside."""
        return complex(self.inner + self.p_right * self.width, self.width), complex(self.inner, 0)

    @property
    def outline(self) -> tuple[complex, ...]:
        """Its four corners."""
        return (*self.left[::-1], *self.right)


@attrs.frozen
class Move:
    """A rigid move: a turn (a complex number of length 1), then a shift."""

    turn: complex = 1 + 0j
    shift: complex = 0j

    def __call__(self, point: complex) -> complex:
        """Where the move takes a point."""
        return self.turn * point + self.shift

    def then_inner(self, inner: Move) -> Move:
        """The move of something that `inner` places within what this one places."""
        return Move(self.turn * inner.turn, self(inner.shift))


def placed(pieces: Sequence[InPlan], joints: Sequence[Joint], first: Move) -> tuple[Move, ...]:
    """Where every piece stands when the first one is moved by `first` and each next one is joined to it."""
    moves = [first]
    for a, b, joint in zip(pieces, pieces[1:], joints, strict=False):
        moves.append(moves[-1].then_inner(_next(a, b, joint)))
    return tuple(moves)


def misfit(pieces: Sequence[InPlan], joints: Sequence[Joint], closed: bool) -> tuple[float, float]:
    """Largest gap and overlap, mm, of pieces joined in their order; `joints[i]` follows piece i.

    Each piece is placed against the one before it; a face that then stands off its neighbour's (square to it) is gap
    or overlap, a step along a joint or an edge that is not flush counts as gap. A closed ring must come back to where
    it began.
    """
    gap, overlap = largest_step(pieces, joints)[0], 0.0
    here = Move()
    for i, joint in enumerate(joints):
        here = here.then_inner(_next(pieces[i], pieces[(i + 1) % len(pieces)], joint))
    if closed:
        opens, bites = _returned(here, pieces[0], joints[-1])
        gap, overlap = max(gap, opens), max(overlap, bites)
    return gap, overlap


def largest_step(pieces: Sequence[InPlan], joints: Sequence[Joint]) -> tuple[float, str]:
    """The largest step that a joint shows by itself, mm, and which of `LEFT_AS` it is."""
    around = zip(pieces, [*pieces[1:], *pieces[:1]], joints, strict=False)
    steps = [(_unfair(a, b, joint), joint.kind) for a, b, joint in around]
    step, kind = max(steps, default=(0.0, MITER))
    return step, INNER_STEP if kind == MITER else END_STEP


def apart(last: InPlan, first: InPlan, joint: Joint, of_last: Move, of_first: Move) -> float:
    """How far the outer corner of the first piece's left end stands from where its joint to the last one wants it."""
    corner = first.left[0]
    return abs(of_last.then_inner(_next(last, first, joint))(corner) - of_first(corner))


def overlap(one: Sequence[complex], other: Sequence[complex]) -> float:
    """How deep two convex outlines run into each other: the shortest way that would part them, mm; 0 where none."""
    if min(_shared(one, other, way) for way in (1 + 0j, 1j)) <= 0:
        return 0.0
    sides = [b - a for shape in (one, other) for a, b in zip(shape, [*shape[1:], shape[0]], strict=True)]
    return max(0.0, min(_shared(one, other, 1j * _unit(side)) for side in sides if abs(side) > CLOSED))


def _shared(one: Sequence[complex], other: Sequence[complex], way: complex) -> float:
    """What the shadows of two outlines on a line have in common, mm; less than 0 where they stand apart."""
    a, b = ([(point * way.conjugate()).real for point in shape] for shape in (one, other))
    return min(max(a) - min(b), max(b) - min(a))


def _next(a: InPlan, b: InPlan, joint: Joint) -> Move:
    """Where piece b stands as seen from piece a; mitered outer edges cross half a gap beyond each face."""
    if joint.kind == MITER:
        turn = _unit(a.right[1] - a.right[0]) / _unit(b.left[1] - b.left[0])
        half = joint.gap / 2
        return _meeting(turn, b.left[0] - half * hypot(1, b.p_left), a.right[0] + half * hypot(1, a.p_right))
    if joint.kind == FIRST_THROUGH:
        turn = -1 / _unit(b.left[1] - b.left[0])
        plate = joint.cap * hypot(1, a.p_right)
        return _meeting(turn, b.left[0], complex(a.inner + plate - a.p_right * joint.off, -joint.off))
    turn = _unit(a.right[1] - a.right[0])
    plate = joint.cap * hypot(1, b.p_left)
    return _meeting(turn, complex(b.p_left * joint.off - plate, -joint.off), a.right[0])


def _meeting(turn: complex, point: complex, target: complex) -> Move:
    return Move(turn, target - turn * point)


def _unfair(a: InPlan, b: InPlan, joint: Joint) -> float:
    """What a joint shows by itself: mitered faces of unequal length, or a through end that is not flush, mm."""
    if joint.kind == MITER:
        return abs(abs(a.right[0] - a.right[1]) - abs(b.left[0] - b.left[1]))
    move = _next(a, b, joint)
    if joint.kind == FIRST_THROUGH:
        return max(abs(((point - move.shift) / move.turn).imag - b.width + joint.cap) for point in a.right)
    return max(abs(move(point).imag - a.width + joint.cap) for point in b.left)


def _returned(here: Move, first: InPlan, last: Joint) -> tuple[float, float]:
    """Gap and overlap at the joint that closes the ring: where the first piece should stand against where it does."""
    way = 1j if last.kind == SECOND_THROUGH else 1j * _unit(first.left[1] - first.left[0])
    apart = [(point - here(point)) / (here.turn * way) for point in first.left]
    return max(max(a.real, abs(a.imag)) for a in apart), max(-a.real for a in apart)


def _unit(vector: complex) -> complex:
    return vector / abs(vector)
