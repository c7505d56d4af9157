"""The record of how many pieces a bar gives."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mitertool.packet.records import fields as told
from mitertool.packet.records.bars import PIECE_OF_BAR

if TYPE_CHECKING:
    from mitertool.nest import FullBar

FIT: Final[told.Record[FullBar]] = told.record_of(
    pieces_a_bar=told.whole("How many pieces the bar gives.", lambda f: f.count),
    tip_to_tip=told.whole("How many it would be with each counted from tip to tip and its kerf."),
    bar_mm=told.figure("The length of the bar.", lambda f: f.length),
    used_mm=told.figure("From the bar's leading end to where the last kerf ends, at its furthest."),
    left_over_mm=told.figure("What is left behind the last kerf at its shortest line.", lambda f: f.left_over[0]),
    left_over_longest_mm=told.figure("The same at its longest line.", lambda f: f.left_over[1]),
    pieces=told.records(PIECE_OF_BAR, "A piece on the bar.", "The pieces in the order in which they are cut."),
)

of_fit = FIT.of
