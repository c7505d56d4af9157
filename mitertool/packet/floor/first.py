"""What comes off with a row, and what the first piece of a mark is measured to; knows solutions and values."""

from __future__ import annotations

import attrs

from mitertool.base.tolerances import SAME_SETTING
from mitertool.job import Solution, SolvedPiece
from mitertool.packet.floor.exact import exact_angles
from mitertool.packet.floor.values import CutRow, Ends, ToMeasure
from mitertool.quantity.compare import same_length


def with_first(row: CutRow, solution: Solution, met: set[str]) -> CutRow:
    """The row with all that comes off, and blanks for the first piece where its mark is met first in the job.

    `met` are the marks met before; that of the row is put there once a piece of it is finished.
    """
    angles = [angle for _, angle in exact_angles(solution)]
    row = attrs.evolve(row, exact=any(abs(angle - row.reading.square) <= SAME_SETTING for angle in angles))
    if not row.mark:
        return row
    solved = next(solved for solved in solution.pieces if solved.mark == row.mark)
    long = solved.piece.long_point if solution.job.saw is None and not row.recut else 0.0
    row = attrs.evolve(row, each=solved.order.a_cut, beside=solved.comes_with, long=long)
    if row.mark in met or row.recut:
        return row
    met.add(row.mark)
    return attrs.evolve(
        row,
        first=to_measure(solved, _allowed(row.mark, solution)),
        said=solution.job.of_piece(solved.order),
        places=solved.places,
        worked=solved.worked,
    )


def _allowed(mark: str, solution: Solution) -> float | None:
    """What the length of a piece may be out, mm; what a frame may be once it is welded says nothing of its pieces."""
    fit, tolerance = solution.fit.pieces.get(mark), solution.fit.tolerance
    return None if fit is None or tolerance is None or tolerance.of_frames else fit.length.allowed


def to_measure(solved: SolvedPiece, allowed: float | None) -> ToMeasure:
    """The first piece of a mark, to be measured."""
    piece = solved.piece
    alike = not piece.further and same_length(piece.long_point, piece.short_point)
    square = not any(cut.miter or cut.bevel for cut in (piece.left, piece.right))
    ends: Ends = "" if not alike else "square" if square else "parallel"
    turned = SAME_SETTING < abs(piece.turn) < 180 - SAME_SETTING and not same_length(piece.overall, piece.long_point)
    overall = piece.overall if turned else None
    return ToMeasure(solved.mark, piece.long_point, piece.short_point, allowed, ends, overall)
