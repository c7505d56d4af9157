"""Lines to write down the first piece of every mark, with what it may be out and which want checking; knows layout."""

from __future__ import annotations

from mitertool.job import Solution, SolvedPiece
from mitertool.job.fit_up import PieceFit
from mitertool.packet.layout import Block, Column, in_lines, table
from mitertool.quantity import Units, show_angle, show_length
from mitertool.saw.fit_up import Share


def record_blocks(solution: Solution, width: float) -> list[Block]:
    """A table with a row a mark, room in every cell to write what was measured."""
    columns = [
        Column("First piece", 30, bold=True),
        Column("long point", 30),
        Column("short point", 23),
        Column("left end", 27),
        Column("right end", 27),
        Column("upright", 17),
        Column("width", 17),
        Column("by", width - 171),
    ]
    units = solution.job.head.units
    return table(columns, [_row(piece, solution.fit.pieces.get(piece.mark), units) for piece in solution.pieces])


def _row(solved: SolvedPiece, fit: PieceFit | None, units: Units) -> list[str]:
    """What the drawing says above a free line; CHECK where readings alone use up half of a tolerance."""
    piece = solved.piece
    allowed = fit.length.allowed if fit else None
    out = "" if allowed is None else f" ±{show_length(allowed, units)}"
    angle = "" if fit is None else _out(fit.angles)
    check = "CHECK" if fit and fit.wants_checking else " "
    return [
        f"{in_lines(solved.mark, 28, bold=True)}\n{check}",
        f"{show_length(piece.long_point, units)}{out}\n ",
        f"{show_length(piece.short_point, units)}\n ",
        f"{show_angle(piece.left.miter)}{angle}",
        f"{show_angle(piece.right.miter)}{angle}",
        "square" if not (piece.left.bevel or piece.right.bevel) else "bevel",
        show_length(piece.section.width, units),
        "",
    ]


def _out(shares: tuple[Share, ...]) -> str:
    """What each of the angles may be out, the least where they differ; a corner's is shared by its two ends."""
    least = min((s.allowed / (2 if s.what.startswith("corner") else 1) for s in shares if s.allowed), default=None)
    return "" if least is None else f" ±{show_angle(least)}"
