"""How many pieces of one kind a bar gives on a saw; knows solved pieces and nest."""

from __future__ import annotations

from mitertool import nest
from mitertool.bar import Allowance
from mitertool.base.errors import CannotMake
from mitertool.job.orders import PieceOrder
from mitertool.job.solved import SolvedPiece, poses_that_work, reaches
from mitertool.nest import FullBar
from mitertool.piece import Piece
from mitertool.quantity import Units
from mitertool.quantity.problem_words import problem_says
from mitertool.saw import Saw
from mitertool.saw.setting.asked import Asked


def how_many(piece: Piece, length: float, allowance: Allowance, saw: Saw | None, units: Units = "mm") -> FullBar:
    """The most pieces of a bar (mm), in poses in which the saw makes them.

    Raises `CannotMake` where it makes them in none, its reasons in `units`, or where the bar is too short for one.
    """
    poses = tuple(poses_that_work(piece, Asked(saw), ())) if saw else ()
    if saw and not poses:
        both = reaches(piece, Asked(saw))
        problems = SolvedPiece(PieceOrder("piece", piece), "piece", "as drawn", piece, 1, *both, both).problems
        raise CannotMake([problem_says(problem, units) for problem in problems])
    return nest.how_many(piece.blank, length, allowance, turn=poses)
