"""pieces.csv: one row a mark and hand, full precision in mm and degrees; knows solved pieces."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from mitertool.base.cells import as_cell, table
from mitertool.job import Solution, SolvedPiece

COLUMNS: Final[Mapping[str, str]] = {
    "mark": "record.columns.mark",
    "hand": "record.columns.hand",
    "quantity": "record.columns.quantity",
    "section": "record.columns.section",
    "grade": "record.columns.grade",
    "long_point_mm": "record.columns.long_point_mm",
    "short_point_mm": "record.columns.short_point_mm",
    "centerline_mm": "record.columns.centerline_mm",
    "overall_mm": "record.columns.overall_mm",
    "left_miter_deg": "record.columns.left_miter_deg",
    "left_bevel_deg": "record.columns.left_bevel_deg",
    "right_miter_deg": "record.columns.right_miter_deg",
    "right_bevel_deg": "record.columns.right_bevel_deg",
    "left_scale_deg": "record.columns.left_scale_deg",
    "right_scale_deg": "record.columns.right_scale_deg",
    "left_scale_side": "record.columns.left_scale_side",
    "right_scale_side": "record.columns.right_scale_side",
    "left_roll_deg": "record.columns.left_roll_deg",
    "right_roll_deg": "record.columns.right_roll_deg",
    "mass_kg": "record.columns.mass_kg",
    "nominal_mass_kg": "record.columns.nominal_mass_kg",
    "left_further_deg": "record.columns.left_further_deg",
    "right_further_deg": "record.columns.right_further_deg",
}
"""The columns in their order, each with what it holds."""

OF_RECUTS: Final[Mapping[str, str]] = {"recut": "record.columns.recut", "recut_of": "record.columns.recut_of"}
"""Columns more where pieces that are cut already become others."""


def pieces_csv(solution: Solution) -> bytes:
    """The table as UTF-8 text with a heading row."""
    if not solution.again:
        return table([COLUMNS, *map(_row, solution.pieces)])
    recut = ([*_row(one.solved), one.called, as_cell(one.offer.mark)] for one in solution.again)
    return table([(*COLUMNS, *OF_RECUTS), *recut, *([*_row(one), "", ""] for one in solution.pieces)])


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
