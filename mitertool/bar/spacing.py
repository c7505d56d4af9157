"""How far apart two cuts on one bar must stand, and what the ends of a bar take; lengths are on the centerline, mm."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from typing import Any, Final

import attrs

from mitertool.bar.cut import BarCut
from mitertool.bar.piece import BarPiece
from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.base.tolerances import SAME_SLOPE
from mitertool.sections import Section
from mitertool.words import phrase


def _from_zero(_: object, attribute: attrs.Attribute[Any], value: float) -> None:
    if not (isfinite(value) and value >= 0):
        raise BadInput(attribute.name, value, phrase("refuse.of-0-or-more", name=attribute.name))


CLEAR: Final = "clear of the piece"
OVER: Final = "where the piece was"
SECOND_KERF: Final = (CLEAR, OVER)
"""Where the kerf of a next piece's own first cut may lie: beside the tip of the piece cut off before it, or over it."""


@attrs.frozen
class Allowance:
    """What the saw takes besides the pieces, mm: kerf square to the blade, trim, grip, least wedge.

    `leads` is the end of a piece, "left" or "right", that meets the blade first. With `second_kerf` "clear of the
    piece" two cuts that are not parallel have two whole kerfs between the pieces; with "where the piece was" the second
    kerf runs through the place of the tip that was cut off before, partly beside the bar. Raises `BadInput` for less
    than 0, for another answer, and for a least wedge where the second kerf leaves none.
    """

    kerf: float = attrs.field(validator=_from_zero)
    trim: float = attrs.field(default=0.0, validator=_from_zero)
    grip: float = attrs.field(default=0.0, validator=_from_zero)
    wedge_least: float = attrs.field(default=0.0, validator=_from_zero)
    leads: str = "left"
    second_kerf: str = CLEAR

    def __attrs_post_init__(self) -> None:
        if self.second_kerf not in SECOND_KERF:
            raise BadInput("second_kerf", self.second_kerf, among(SECOND_KERF))
        if self.wedge_least and self.second_kerf == OVER:
            raise BadInput("second_kerf", OVER, phrase("refuse.no-wedge", clear=CLEAR))


def gap(a: BarCut, b: BarCut, section: Section, allowance: Allowance) -> float:
    """Distance between a trailing cut `a` and the next leading cut `b`: one kerf, or two and a wedge between them.

    Where the second kerf may lie over the tip that is gone, the wedge and the first kerf are all that is between them.
    """
    first = a.kerf_along(allowance.kerf)
    if a.parallel(b):
        return first
    second = b.kerf_along(allowance.kerf) if allowance.second_kerf == CLEAR else 0.0
    return first + second + a.wedge(b, section) + allowance.wedge_least


def gaps(a: BarCut, others: Sequence[BarCut], section: Section, allowance: Allowance) -> tuple[float, ...]:
    """The same distance from one trailing cut to each of many leading ones, in one go."""
    first, both = a.kerf_along(allowance.kerf), allowance.second_kerf == CLEAR
    p, q, width, height, least = a.p, a.q, section.width, section.height, allowance.wedge_least
    seconds = (b.kerf_along(allowance.kerf) if both else 0.0 for b in others)
    return tuple(
        first + second + (abs(p - b.p) * width + abs(q - b.q) * height) / 2 + least
        if abs(p - b.p) > SAME_SLOPE or abs(q - b.q) > SAME_SLOPE
        else first
        for b, second in zip(others, seconds, strict=True)
    )


def before(cut: BarCut, section: Section, allowance: Allowance) -> float:
    """Where the first cut of a bar may stand, from the raw end."""
    return allowance.trim + cut.half_reach(section)


def behind(cut: BarCut, section: Section, kerf: float) -> float:
    """What a last cut takes behind its place before the grip."""
    return cut.half_reach(section) + cut.kerf_along(kerf)


def half_kerf(cut: BarCut, section: Section, kerf: float) -> float:
    """The share of a kerf that a piece takes of any bar at the least.

    The two ends of a bar take that much only where it is as wide and as high as the kerf, so no more is counted.
    """
    return cut.kerf_along(min(kerf, section.width, section.height)) / 2


def blank_length(piece: BarPiece, kerf: float) -> float:
    """Length of a blank with the leading cut at both ends, from which the trailing cut is made later.

    The scrap of that recut ends in nothing at one side; its kerf lies outside the piece.
    """
    if piece.parallel:
        return piece.centerline
    return piece.centerline + piece.trail.kerf_along(kerf) + piece.lead.wedge(piece.trail, piece.section)
