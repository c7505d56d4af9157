"""A cut as it lies on a bar: slopes, kerf, neighbours, ways to set it; imports piece and left of it."""

from mitertool.bar.cut import SQUARE, BarCut
from mitertool.bar.lay import roll_to
from mitertool.bar.piece import BarPiece, Kerf, kerfs_of, middle_as_rolled
from mitertool.bar.spacing import Allowance
from mitertool.bar.ways import Angles, Changes, short_way, ways

__all__ = [
    "SQUARE",
    "Allowance",
    "Angles",
    "BarCut",
    "BarPiece",
    "Changes",
    "Kerf",
    "kerfs_of",
    "middle_as_rolled",
    "roll_to",
    "short_way",
    "ways",
]
