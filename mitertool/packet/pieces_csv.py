"""pieces.csv: one row a mark and hand, full precision in mm and degrees; knows solved pieces."""

from __future__ import annotations

import csv
import io
from typing import Final

from mitertool.job import Solution, SolvedPiece

COLUMNS: Final = (
    *("mark", "hand", "quantity", "section", "grade"),
    *("long_point_mm", "short_point_mm", "centerline_mm", "overall_mm"),
    *("left_miter_deg", "left_bevel_deg", "right_miter_deg", "right_bevel_deg"),
    *("left_scale_deg", "right_scale_deg", "left_roll_deg", "right_roll_deg", "mass_kg"),
)
"""Scale and roll are empty where the job names no saw file; miters are degrees from a square cut."""


def pieces_csv(solution: Solution) -> bytes:
    """The table as UTF-8 text with a heading row."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows(_row(piece) for piece in solution.pieces)
    return text.getvalue().encode()


def _row(solved: SolvedPiece) -> list[object]:
    piece, left, right = solved.piece, solved.left, solved.right
    return [
        *(solved.mark, solved.hand, solved.quantity, piece.section.name, solved.order.grade),
        *(piece.long_point, piece.short_point, piece.centerline, piece.overall),
        *(piece.left.miter, piece.left.bevel, piece.right.miter, piece.right.bevel),
        *(left.scale if left else "", right.scale if right else ""),
        *(left.roll if left else "", right.roll if right else "", piece.mass),
    ]
