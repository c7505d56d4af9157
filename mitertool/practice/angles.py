"""Exercises of angles: what the scale reads for a corner, and on which side a piece is long; knows cases."""

from __future__ import annotations

from typing import Final

from mitertool.cut import Cut
from mitertool.piece import Piece
from mitertool.practice.case import Case, SwungCut, corrected, long_at, without_correction
from mitertool.practice.exercise import Exercise, RightAnswer
from mitertool.quantity.problem import Remark, angles, lengths, names, words
from mitertool.quantity.telling import Numbers
from mitertool.saw import Reach, Saw
from mitertool.saw.setting.reach import ENDS

_CORNERS: Final = (90.0, 60.0, 120.0, 135.0, 108.0, 75.0, 105.0, 150.0, 80.0, 110.0, 72.0, 140.0)
"""Included angles of corners, degrees: those of regular polygons and others."""

_LONG: Final = (300.0, 900.0)
"""mm of the pieces that are drawn."""


def reading(case: Case) -> Exercise | None:
    """What the scale must read for a corner of two equal bars."""
    corner, end = case.lot.one_of(_CORNERS), case.lot.one_of(ENDS)
    reach = case.saw.reach(case.section, Cut(90.0 - corner / 2), end)
    if not reach.ok or reach.side == "square":
        return None
    asks = angles(corner=corner) + names(section=case.section.name) + words(end=f"end.{end}")
    return Exercise(
        "read",
        reach,
        Remark("practice.read", asks),
        RightAnswer("angle", reach.scale, case.saw.scale.division / 2),
        Remark("practice.read.answer", _set(reach), "rolled" if reach.roll else ""),
        (*_found(corner, reach, case.saw), *corrected(case.saw, reach.swing)),
    )


def _set(reach: Reach) -> Numbers:
    return angles(reading=reach.scale) + words(side=f"practice.side/{reach.side}")


def _found(corner: float, reach: Reach, saw: Saw) -> tuple[Remark, ...]:
    """From the corner to the miter, to the way of the arm, to the scale without its correction."""
    scale, swing = saw.scale, abs(reach.swing)
    side = words(side=f"practice.side/{reach.side}")
    half = angles(corner=corner, half=corner / 2, miter=90.0 - corner / 2)
    plain = angles(square=scale.square, swing=swing, plain=without_correction(saw, reach.swing))
    grows = scale.positive == f"{reach.side}-side"
    case = "two-sided" if scale.two_sided else "more" if grows else "less"
    return (
        Remark("practice.read.corner", half),
        Remark("practice.read.arm", side, "rolled" if reach.roll else ""),
        Remark("practice.read.scale", plain + side, case),
    )


def long_side(case: Case) -> Exercise | None:
    """On which side the piece is long that a swung arm leaves, and by how much."""
    swung = case.swung()
    if swung is None:
        return None
    side, more = long_at(swung.cut), case.section.width * swung.slant
    left, right = (swung.cut if swung.end == end else Cut() for end in ENDS)
    end = words(end=f"end.{swung.end}")
    by = lengths(width=case.section.width, more=more) + words(long=f"side.{side}")
    return Exercise(
        "long",
        swung.reach,
        Remark("practice.long", swung.stands + end + names(section=case.section.name)),
        RightAnswer("word", side, words=("fixed", "moving")),
        Remark("practice.long.answer", by),
        (
            Remark("practice.long.arm", swung.stands + end + words(long=f"side.{side}"), _goes(swung, case)),
            Remark("practice.long.more", swung.stands + by),
        ),
        Piece(case.section, case.length(*_LONG), left, right),
    )


def _goes(swung: SwungCut, case: Case) -> str:
    """Whether the piece lies on the side of the blade to which its moving-jaw end went."""
    piece_side = "feed" if swung.end == case.saw.leads else "discharge"
    return "toward" if swung.reach.side == piece_side else "away"
