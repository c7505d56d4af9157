"""Parting a bar with one cut: what is kept, what the kerf takes, what drops; knows piece."""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.cut import Cut
from mitertool.piece.piece import Piece
from mitertool.sections import Section
from mitertool.words import phrase

_SHARE_OF_KEPT: Final[Mapping[str, float]] = {"keep": 1.0, "drop": 0.0, "shared": 0.5}


@attrs.frozen
class Split:
    """A bar parted by a cut. `kerf` is the slice turned to chips, None where the kerf is 0."""

    kept: Piece
    kerf: Piece | None
    drop: Piece


def split(section: Section, length: float, cut: Cut, position: float, kerf: float, side: str = "drop") -> Split:
    """Part a square-ended bar of `length` (mm) whose left part is kept.

    The cut is laid out at `position` (mm from the left end, on the centerline); the `kerf` (mm, square to the
    blade) falls on the kept piece ("keep"), on the drop ("drop") or half on each ("shared"). Kept, kerf and
    drop make up the bar. Raises `BadInput` where the cut or its kerf runs out over an end of the bar.

    >>> parted = mt.split(mt.flat(80, 12), 3000, mt.Cut(), position=1000, kerf=2)
    >>> parted.kept.long_point, parted.drop.long_point
    (1000.0, 1998.0)
    """
    if side not in _SHARE_OF_KEPT:
        raise BadInput("side", side, among(_SHARE_OF_KEPT))
    if not (isfinite(kerf) and kerf >= 0):
        raise BadInput("kerf", kerf, phrase("refuse.kerf"))
    along = cut.kerf_along(kerf)
    begin = position - along * _SHARE_OF_KEPT[side]
    rest = length - begin - along
    reach = cut.reversed
    try:
        kept = Piece(section, begin, Cut(), cut, at="centerline")
        slice_ = Piece(section, along, reach, cut, at="centerline") if kerf else None
        drop = Piece(section, rest, reach, Cut(), at="centerline")
    except BadInput as error:
        raise BadInput("position", f"{position:g} mm", phrase("refuse.runs-out", length=length)) from error
    return Split(kept, slice_, drop)
