"""Lines to write down the first piece of every mark, with what it may be out and which want checking; knows layout."""

from __future__ import annotations

from typing import Final

from mitertool.drawing import Drawing
from mitertool.job import Solution, SolvedPiece
from mitertool.job.fit_up import PieceFit
from mitertool.packet.paper.layout import Block, TableColumn, cell, in_lines, table
from mitertool.piece import Piece
from mitertool.piece.poses import OTHER_END
from mitertool.quantity import Units, show_angle, show_angle_limit, show_length, show_limit


def record_blocks(solution: Solution, width: float) -> list[Block]:
    """A table with a row a mark, room in every cell to write what was measured."""
    columns = [
        TableColumn("First piece", 28, bold=True),
        TableColumn("long point", 28),
        TableColumn("short point", 25),
        TableColumn("left end,\nfrom square", 24),
        TableColumn("right end,\nfrom square", 24),
        TableColumn("upright", 24),
        TableColumn("width", 18),
        TableColumn("by", width - 171),
    ]
    units = solution.job.head.units
    rows = [_row(piece, solution.fit.pieces.get(piece.mark), units) for piece in solution.pieces]
    checked = any(fit.wants_checking for fit in solution.fit.pieces.values())
    return [*([_why(width)] if checked else []), *table(columns, rows)]


def _why(width: float) -> Block:
    says = "CHECK: the readings of tape and scale alone use up half or more of what the piece may be out."
    return Block(6.0, Drawing([cell(says, (0, -4.5), width, 3.0)]), keep_with_next=True, gap=0.0)


def _row(solved: SolvedPiece, fit: PieceFit | None, units: Units) -> list[str]:
    """What the drawing says above a free line; CHECK where readings alone use up half of a tolerance."""
    piece = solved.piece
    allowed = fit.length.allowed if fit else None
    out = "" if allowed is None else f"±{show_limit(allowed, units, 'down')} "
    angle = "" if fit is None or fit.angle_out is None else f"±{show_angle_limit(fit.angle_out, 'down')} "
    check = "CHECK" if fit and fit.wants_checking else " "
    return [
        f"{in_lines(solved.mark, 25, bold=True)}\n{check}",
        f"{show_length(piece.long_point, units)}\n{out}{_FREE}",
        f"{show_length(piece.short_point, units)}\n{_FREE}",
        *("\n".join(f"{show_angle(abs(cut.miter))}\n{angle}{_FREE}" for cut in piece.cuts(end)) for end in OTHER_END),
        f"{_upright(piece)}\n{_FREE}",
        f"{show_length(piece.section.width, units)}\n{_FREE}",
        "",
    ]


_FREE: Final = "___"
"""Where what was measured is written."""


def _upright(piece: Piece) -> str:
    """The bevels of both ends, or that they stand square."""
    if not piece.beveled:
        return "square"
    return "\n".join(f"{show_angle(abs(cut.bevel))} {end}" for end in OTHER_END for cut in piece.cuts(end))
