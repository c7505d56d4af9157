"""Uprights of equal spacing between two posts, level or along a rake; knows pieces."""

from __future__ import annotations

from itertools import pairwise
from math import ceil, cos, radians, tan
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import CLOSES
from mitertool.cut import Cut
from mitertool.frame.assembly import Assembly, Closure, Member, Resolution, rounded
from mitertool.frame.closure import Move
from mitertool.frame.facts import fact
from mitertool.frame.sizes import refuse_no_size
from mitertool.piece import Piece
from mitertool.quantity.sentence import Sentence
from mitertool.sections import Section

_MOST: Final = 10000


def infill(
    section: Section,
    opening: float,
    height: float,
    clear_most: float,
    rake: float = 0.0,
    mark: str = "INFILL",
    resolution: Resolution | None = None,
) -> Assembly:
    """The fewest uprights that leave no clear gap over `clear_most` between two posts `opening` apart (mm, level).

    Uprights stand plumb between a lower and an upper rail `height` apart (mm, plumb), both rising at `rake` degrees;
    all gaps are equal. Raises `BadInput` where no upright is needed or none fits.
    """
    refuse_no_size(opening=opening, height=height, clear_most=clear_most)
    if not abs(rake) < 85:
        raise BadInput("rake", rake, "must be less than 85 degrees")
    width = section.width
    count = max(0, ceil((opening - clear_most - CLOSES) / (clear_most + width)))
    clear = (opening - count * width) / (count + 1)
    if not 1 <= count <= _MOST or clear < 0:
        says = "no upright is needed" if count < 1 else "the uprights do not fit"
        raise BadInput("opening", f"{opening:g} mm", f"{says}: the greatest clear gap is {clear_most:g} mm")
    piece = Piece(section, height, Cut(rake), Cut(0 - rake), at="fixed-bottom")
    return Assembly(
        mark,
        "infill",
        (Member(f"{mark}-1", count, piece),),
        (f"{mark}-1",) * count,
        _closure(piece, opening, count, clear, resolution or Resolution()),
        places=_places(piece, count, clear, rake),
        notes=_notes(width, clear, rake),
        facts=(
            fact("uprights", O=opening, G=clear_most, t=CLOSES, W=width),
            fact("clear-gap", O=opening, n=count, W=width),
        ),
    )


def _places(piece: Piece, count: int, clear: float, rake: float) -> tuple[Move, ...]:
    """Uprights stand on end, the width of each to the left of its place."""
    pitch = clear + piece.section.width
    rise = tan(radians(rake))
    return tuple(Move(1j, complex((i + 1) * pitch, (i + 1) * pitch * rise)) for i in range(count))


def _closure(piece: Piece, opening: float, count: int, clear: float, resolution: Resolution) -> Closure:
    """The gaps and widths must make up the opening; rounding opens gaps where places are laid out from one post."""
    pitch = clear + piece.section.width
    miss = abs(count * piece.section.width + (count + 1) * clear - opening)
    laid_out = [round(i * pitch / resolution.length) * resolution.length for i in range(count + 1)]
    opened = max(abs(b - a - pitch) for a, b in pairwise(laid_out))
    return Closure(miss, 0.0, max(opened, abs(rounded(piece, resolution).long_point - piece.long_point)))


def _notes(width: float, clear: float, rake: float) -> tuple[Sentence, ...]:
    pitch = clear + width
    level = Sentence("clear gap {}, from upright to upright {}, measured level from the first post", (clear, pitch))
    if not rake:
        return (level,)
    along, higher = pitch / cos(radians(rake)), abs(pitch * tan(radians(rake)))
    return (level, Sentence("along the rail {} from upright to upright, each {} higher", (along, higher)))
