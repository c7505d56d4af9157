"""How a bar that is cut and laid in its cell misses what it should meet; knows pieces' plans."""

from __future__ import annotations

from mitertool.frame.assembly import plan_end
from mitertool.frame.closure import Move
from mitertool.frame.inside.cells import Cell
from mitertool.piece import Piece


def misfit(piece: Piece, place: Move, cell: Cell, gap: float = 0.0) -> tuple[float, float]:
    """How far the corners of both ends stand off the edges of the cell, beyond `gap`, and how far they run past, mm."""
    opens = bites = 0.0
    for end in ("left", "right"):
        for corner in plan_end(piece, end):
            off = _off(cell, place(corner)) - gap
            opens, bites = max(opens, off), max(bites, -off)
    return opens, bites


def _off(cell: Cell, point: complex) -> float:
    """How far inside the nearest edge a point lies, mm; less than 0 outside the cell."""
    return min(((point - edge.start) * edge.way.conjugate()).imag for edge in cell.edges)
