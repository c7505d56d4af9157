"""The pieces of a solved job as a table for a terminal; knows job and packet's words."""

from __future__ import annotations

from mitertool.cli.options import aligned
from mitertool.job import Solution, SolvedPiece
from mitertool.packet.words import every_reading, long_points
from mitertool.quantity import Units, show_length


def solved_lines(solution: Solution, unit: Units) -> list[str]:
    """The pieces of a solved job as a table."""
    head = ("mark", "pieces", "section", "long point", "short point", "left", "right", "long points")
    return aligned([head, *(_row(piece, unit) for piece in solution.pieces)])


def _row(solved: SolvedPiece, unit: Units) -> tuple[str, ...]:
    piece = solved.piece
    return (
        *(solved.mark, str(solved.quantity), piece.section.name),
        *(show_length(piece.long_point, unit), show_length(piece.short_point, unit)),
        *(" + ".join(every_reading(*cut) for cut in solved.cuts_of(end)) for end in ("left", "right")),
        long_points(piece),
    )
