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
from mitertool.quantity.problem import Remark, lengths
from mitertool.sections import Section
from mitertool.words import phrase

_MOST: Final = 10000

STEEPEST: Final = 85
"""degrees. The rails of an infill rise less than this."""


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
    if not abs(rake) < STEEPEST:
        raise BadInput("rake", rake, phrase("refuse.steep", below=STEEPEST))
    width = section.width
    count = max(0, ceil((opening - clear_most - CLOSES) / (clear_most + width)))
    clear = (opening - count * width) / (count + 1)
    if not 1 <= count <= _MOST or clear < 0:
        gap = Remark("refuse.uprights", lengths(gap=clear_most), "none" if count < 1 else "many")
        raise BadInput("opening", Remark("found.length", lengths(length=opening)), gap)
    piece = Piece(section, height, Cut(rake), Cut(0 - rake), at="fixed-bottom")
    return Assembly(
        mark,
        "infill",
        (Member(f"{mark}-1", count, piece),),
        (f"{mark}-1",) * count,
        _closure(piece, opening, count, clear, rake, resolution or Resolution()),
        places=_places(piece, count, clear, rake),
        running=_running(width, count, clear, rake),
        notes=_notes(width, count, clear, rake),
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


def _running(width: float, count: int, clear: float, rake: float) -> tuple[float, ...]:
    """From the first post to the near side of every upright, along the rail, mm."""
    return tuple((clear + i * (clear + width)) / cos(radians(rake)) for i in range(count))


def _closure(piece: Piece, opening: float, count: int, clear: float, rake: float, resolution: Resolution) -> Closure:
    """The gaps and widths must make up the opening; each running measure is rounded by itself, which opens gaps."""
    width = piece.section.width
    miss = abs(count * width + (count + 1) * clear - opening)
    read = [round(at / resolution.length) * resolution.length for at in _running(width, count, clear, rake)]
    sides = [-width, *(at * cos(radians(rake)) for at in read), opening]
    opened = max(abs(b - a - width - clear) for a, b in pairwise(sides))
    return Closure(miss, 0.0, max(opened, abs(rounded(piece, resolution).long_point - piece.long_point)))


def _notes(width: float, count: int, clear: float, rake: float) -> tuple[Remark, ...]:
    """The clear gap, and running measures from one end: steps of one spacing would add up what each is rounded by."""
    places = lengths(places=_running(width, count, clear, rake))
    return (
        Remark("note.clear-gap", lengths(gap=clear)),
        Remark("note.mark-out", places, "raked" if rake else "level"),
    )
