"""How a bar that is cut and laid in its cell misses what it should meet; knows pieces' plans."""

from __future__ import annotations

from mitertool.frame.assembly import plan_end
from mitertool.frame.closure import Move
from mitertool.frame.inside.cells import Cell
from mitertool.piece import Piece


def misfit(
    piece: Piece, place: Move, cell: Cell, gap: float = 0.0, square: tuple[bool, bool] = (False, False)
) -> tuple[float, float]:
    """How far the corners of both ends stand off the edges of the cell, beyond `gap`, and how far they run past, mm.

    Of an end that is `square` the corner that is nearest should be there, of any other all of them.
    """
    opens = bites = 0.0
    for end, is_square in zip(("left", "right"), square, strict=True):
        off = [_off(cell, place(corner)) - gap for corner in plan_end(piece, end)]
        opens, bites = max(opens, min(off) if is_square else max(off)), max(bites, -min(off))
    return opens, bites


def _off(cell: Cell, point: complex) -> float:
    """How far inside the nearest edge a point lies, mm; less than 0 outside the cell."""
    return min(((point - edge.start) * edge.way.conjugate()).imag for edge in cell.edges)
