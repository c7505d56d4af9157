"""Pieces put together around a frame, and the proof that they close; knows piece.

The frame is walked clockwise seen from above with its outside on the left, the moving side of every piece; the
left end of each piece meets the right end of the one before it.
"""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from mitertool.base.tolerances import CROSSING
from mitertool.cut import Cut
from mitertool.frame.closure import Face, misfit
from mitertool.piece import Piece


@attrs.frozen
class Resolution:
    """What the floor can read: the tape's length (mm) and the protractor's angle (degrees)."""

    length: float = 0.5
    angle: float = 0.25


@attrs.frozen
class Closure:
    """Largest gap and overlap when the pieces are put back together, and what rounding alone leaves, mm."""

    gap: float
    overlap: float
    rounded_gap: float


@attrs.frozen
class Member:
    """A mark with the number of its pieces in one frame."""

    mark: str
    quantity: int
    piece: Piece


@attrs.frozen
class Assembly:
    """A solved frame: its marked pieces, the marks around it in walking order, and how well it closes."""

    mark: str
    shape: str
    pieces: tuple[Member, ...]
    order: tuple[str, ...]
    closure: Closure


def assemble(mark: str, shape: str, sides: Sequence[Piece], root_gap: float, resolution: Resolution) -> Assembly:
    """The closed frame of `sides` in walking order; equal sides share a mark."""
    kinds: list[Piece] = []
    which = []
    for side in sides:
        match = next((i for i, kind in enumerate(kinds) if _alike(kind, side)), len(kinds))
        if match == len(kinds):
            kinds.append(side)
        which.append(match)
    marks = [f"{mark}-{i + 1}" for i in range(len(kinds))]
    members = tuple(Member(marks[i], which.count(i), kind) for i, kind in enumerate(kinds))
    return Assembly(mark, shape, members, tuple(marks[i] for i in which), _closure(sides, root_gap, resolution))


def _closure(sides: Sequence[Piece], root_gap: float, resolution: Resolution) -> Closure:
    gap, overlap = misfit([_faces(side) for side in sides], root_gap)
    rounded = [_faces(_rounded(side, resolution)) for side in sides]
    return Closure(gap, overlap, max(misfit(rounded, root_gap)))


def _rounded(piece: Piece, resolution: Resolution) -> Piece:
    def to_scale(cut: Cut) -> Cut:
        return Cut(round(cut.miter / resolution.angle) * resolution.angle, cut.bevel)

    length = round(piece.long_point / resolution.length) * resolution.length
    return Piece(piece.section, length, to_scale(piece.left), to_scale(piece.right), at="long-point")


def _faces(piece: Piece) -> tuple[Face, Face]:
    """The left and the right face in plan, each from the outside to the inside of the frame."""
    width = piece.section.width
    left = ((-piece.left.p * width, width), (0.0, 0.0))
    right = ((piece.s + piece.right.p * width, width), (piece.s, 0.0))
    return left, right


def _alike(one: Piece, other: Piece) -> bool:
    cuts = ((one.left, other.left), (one.right, other.right))
    return (
        one.section == other.section
        and abs(one.s - other.s) < CROSSING
        and all(abs(a.p - b.p) + abs(a.q - b.q) < CROSSING for a, b in cuts)
    )
