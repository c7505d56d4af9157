"""pieces.csv: one row a mark and hand, full precision in mm and degrees; knows solved pieces."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from typing import Final

from mitertool.base.cells import as_cell
from mitertool.job import Solution, SolvedPiece

COLUMNS: Final[Mapping[str, str]] = {
    "mark": "The piece's name on drawing and sheet; the opposite hand has -OH behind it.",
    "hand": "As drawn, or opposite.",
    "quantity": "How many of this hand.",
    "section": "The section it is cut from.",
    "grade": "The material; empty where the job names none.",
    "long_point_mm": "The longest line of material along the bar.",
    "short_point_mm": "The shortest line of material along the bar.",
    "centerline_mm": "The length at the middle of the section's box.",
    "overall_mm": "The length from tip to tip.",
    "left_miter_deg": "The left cut, degrees from square; positive with the long point on the moving side.",
    "left_bevel_deg": "The left cut, degrees from upright; positive with the long point at the top.",
    "right_miter_deg": "The right cut's miter, likewise.",
    "right_bevel_deg": "The right cut's bevel, likewise.",
    "left_scale_deg": "What the protractor must read for the left cut, as first set; empty without a saw file.",
    "right_scale_deg": "What the protractor must read for the right cut, as first set; empty without a saw file.",
    "left_scale_side": "The side on which that reading stands: feed, discharge or square; empty without a saw file.",
    "right_scale_side": "The same for the right cut.",
    "left_roll_deg": "How far the bar is then rolled from how it is drawn, 0 for not at all; empty without a saw.",
    "right_roll_deg": "How far the bar is then rolled from how it is drawn, 0 for not at all; empty without a saw.",
    "mass_kg": "The mass of the steel of one piece as drawn, with the design wall of an American hollow section.",
    "nominal_mass_kg": "What one piece is bought and lifted as: by the printed mass of its section or nominal wall.",
    "left_further_deg": "The left end's further cuts, miter/bevel each, with ; between; empty where it has one cut.",
    "right_further_deg": "The right end's further cuts, likewise.",
}
"""The columns in their order, each with what it holds."""


def pieces_csv(solution: Solution) -> bytes:
    """The table as UTF-8 text with a heading row."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows(_row(piece) for piece in solution.pieces)
    return text.getvalue().encode()


def _row(solved: SolvedPiece) -> list[object]:
    piece, left, right = solved.piece, solved.ways_of("left")[0], solved.ways_of("right")[0]
    return [
        *(as_cell(solved.mark), solved.hand, solved.quantity),
        *(as_cell(piece.section.name), as_cell(solved.order.grade)),
        *(piece.long_point, piece.short_point, piece.centerline, piece.overall),
        *(piece.left.miter, piece.left.bevel, piece.right.miter, piece.right.bevel),
        *(way.reach.scale if way.reach else "" for way in (left, right)),
        *(way.reach.scale_side if way.reach else "" for way in (left, right)),
        *(way.roll if way.reach else "" for way in (left, right)),
        piece.mass,
        piece.nominal_mass,
        *("; ".join(f"{cut.miter}/{cut.bevel}" for cut in piece.cuts(end)[1:]) for end in ("left", "right")),
    ]
