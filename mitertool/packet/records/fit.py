"""The record of how many pieces a bar gives."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mitertool.packet.records import fields as told
from mitertool.packet.records.bars import PIECE_OF_BAR

if TYPE_CHECKING:
    from mitertool.nest import FullBar

FIT: Final[told.Record[FullBar]] = told.record_of(
    pieces_a_bar=told.whole("record.fit.pieces_a_bar", lambda f: f.count),
    tip_to_tip=told.whole("record.fit.tip_to_tip"),
    bar_mm=told.figure("record.fit.bar_mm", lambda f: f.length),
    used_mm=told.figure("record.fit.used_mm"),
    left_over_mm=told.figure("record.fit.left_over_mm", lambda f: f.left_over[0]),
    left_over_longest_mm=told.figure("record.fit.left_over_longest_mm", lambda f: f.left_over[1]),
    pieces=told.records(PIECE_OF_BAR, "record.fit.pieces", "record.fit.pieces.2"),
)

of_fit = FIT.of
