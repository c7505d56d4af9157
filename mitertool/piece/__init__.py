"""The piece: a length of bar between two cuts, the ways it may lie, and its parting; imports cut and left of it."""

from mitertool.piece.parting import Split, split
from mitertool.piece.piece import AT, Edges, Piece
from mitertool.piece.poses import POSES

__all__ = ["AT", "POSES", "Edges", "Piece", "Split", "split"]
