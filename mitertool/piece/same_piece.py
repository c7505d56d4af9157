"""Whether two pieces are one, however each is drawn: rolled about the axis, turned end for end; knows sections.

Both are looked at about the centroid of their section, which goes with every roll. An end is the planes that bound it:
how far each stands out there over the end itself, and its slope, which is a vector that is rolled with the section.
"""

from __future__ import annotations

from cmath import phase, rect
from collections.abc import Iterator
from math import degrees, radians

import attrs

from mitertool.base.tolerances import COINCIDENT, SAME_SLOPE
from mitertool.piece.piece import Piece
from mitertool.quantity.compare import same_length
from mitertool.sections import Section

_QUARTERS = (0.0, 90.0, 180.0, 270.0)

_Plane = tuple[complex, float]
"""Slope across and up, and how far it stands out over its end at the centroid, mm."""


def same_piece(one: Piece, other: Piece) -> bool:
    """Whether the one can be laid so that it is the other; both are of one catalogue section."""
    mine, theirs = _Solid.of(one), _Solid.of(other)
    if not same_length(mine.length, theirs.length):
        return False
    return any(mine.rolled(roll).is_same(theirs) for mine in (mine, mine.end_for_end) for roll in mine.rolls(theirs))


@attrs.frozen
class _Solid:
    """A section as it lies, the length at its centroid, mm, and the planes of both ends."""

    section: Section
    length: float
    left: tuple[_Plane, ...]
    right: tuple[_Plane, ...]

    @classmethod
    def of(cls, piece: Piece) -> _Solid:
        """A piece as it is drawn."""
        at = piece.section.centroid
        ends = []
        for end in ("left", "right"):
            roof = piece.end_roof(end)
            ends.append(tuple((complex(one.p, one.q), one.at(*at) - roof.at(*at)) for one in roof.slants))
        return cls(piece.section, piece.length_at(*at), ends[0], ends[1])

    @property
    def end_for_end(self) -> _Solid:
        """Turned half about the vertical: left and right of the section change places, and so do the ends."""
        left, right = (tuple((-slope.conjugate(), out) for slope, out in end) for end in (self.right, self.left))
        return _Solid(self.section.lay(0, turned=True), self.length, left, right)

    def rolled(self, roll: float) -> _Solid:
        """Rolled counter-clockwise by degrees."""
        by = rect(1.0, radians(roll))
        left, right = (tuple((slope * by, out) for slope, out in end) for end in (self.left, self.right))
        return _Solid(self.section.lay(roll), self.length, left, right)

    def rolls(self, other: _Solid) -> Iterator[float]:
        """The rolls that may bring it to the other: by quarters, by how their sections lie, by how their ends slope."""
        yield from _QUARTERS
        yield (other.section.rotation - self.section.rotation) % 360
        slopes = [max((slope for slope, _ in end), key=abs) for end in (self.left, self.right)]
        for mine in slopes:
            for theirs in (slope for end in (other.left, other.right) for slope, _ in end):
                if min(abs(mine), abs(theirs)) > SAME_SLOPE:
                    yield degrees(phase(theirs / mine)) % 360

    def is_same(self, other: _Solid) -> bool:
        """Whether both lie in one place."""
        ends = ((self.left, other.left), (self.right, other.right))
        return all(_same_end(*pair) for pair in ends) and self.section.looks_like(other.section)


def _same_end(one: tuple[_Plane, ...], other: tuple[_Plane, ...]) -> bool:
    pairs = ((one, other), (other, one))
    return all(any(_same_plane(a, b) for b in some) for every, some in pairs for a in every)


def _same_plane(one: _Plane, other: _Plane) -> bool:
    return abs(one[0] - other[0]) <= SAME_SLOPE and abs(one[1] - other[1]) <= COINCIDENT
