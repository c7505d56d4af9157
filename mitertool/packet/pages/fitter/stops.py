"""The stops of a jig as a table, two points a line, all from the first corner; knows words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs

from mitertool.base.tolerances import SAME_SETTING
from mitertool.drawing import text_width, wrap
from mitertool.frame import Assembly
from mitertool.frame.setting_out import SettingOut
from mitertool.frame.stops import StopLine, stop_lines
from mitertool.packet.pages.fitter.marked import member_says, side_says, told_above
from mitertool.packet.paper.layout import Block, TableColumn, kept_together, table
from mitertool.quantity import Units, show_angle, show_length
from mitertool.words import phrase

_LETTERS: Final = 3.0
_PIECE: Final = 53.0
_FREE: Final = 3.2
"""mm of capitals, for a piece at most, and beside the text in a cell."""


def stop_blocks(assembly: Assembly, out: SettingOut | None, units: Units, width: float) -> Iterator[Block]:
    """The table with what it means above it, leans up to 90 degrees, each to its side.

    Nothing for a frame that is not set out by corners, nor for one of level and upright members with
    nothing inside: its corners and widths are its stops.
    """
    shown = stop_rows(assembly, out, units)
    if not shown:
        return
    says = phrase("frame.stops.says")
    names = [phrase("frame.stops.piece"), phrase("frame.stops.side")]
    piece_wide, side_wide = (
        max(text_width(name, _LETTERS, True), *(text_width(row[i], _LETTERS) for row in shown)) + _FREE
        for i, name in enumerate(names)
    )
    piece_wide = min(piece_wide, _PIECE)
    each = (width - piece_wide - side_wide) / 5
    titles = [phrase(f"frame.stops.{one}") for one in ("right", "up", "to-right", "to-up", "angle")]
    columns = [
        TableColumn(names[0], piece_wide, height=_LETTERS),
        TableColumn(names[1], side_wide, height=_LETTERS),
        *(TableColumn(title, each, "right", bold=title != titles[-1], height=_LETTERS) for title in titles),
    ]
    heading, *rows = table(
        columns, [["\n".join(wrap(piece, piece_wide - 3, _LETTERS)), *more] for piece, *more in shown]
    )
    yield from kept_together([*told_above(says, width), heading, *rows[:2]])
    for (piece, *_), row in zip(shown[2:], rows[2:], strict=True):
        yield attrs.evolve(row, keep_with_next=bool(piece))


def stop_rows(assembly: Assembly, out: SettingOut | None, units: Units) -> list[list[str]]:
    """Piece, side, both points and the angle of every line; the piece at its first one only."""
    lines = stop_lines(assembly, out) if out else ()
    slants = any(abs(line.angle - 90 * round(line.angle / 90)) > SAME_SETTING for line in lines)
    if out is None or not (assembly.inside or slants):
        return []
    return [_row(assembly, out, line, units) for line in lines]


def _row(assembly: Assembly, out: SettingOut, line: StopLine, units: Units) -> list[str]:
    outer = line.side == "outer"
    side = (
        phrase(f"frame.stops.ring/{line.side}")
        if line.host < len(assembly.order)
        else side_says(assembly, line.host, "moving" if outer else "fixed")
    )
    points = (line.first.real, line.first.imag, line.second.real, line.second.imag)
    return [
        member_says(assembly, out, line.host) if outer else "",
        side,
        *(show_length(mm, units) for mm in points),
        _leans(line.angle),
    ]


def _leans(angle: float) -> str:
    """How steep a line rises, and to which side where it is neither level nor plumb."""
    shown = show_angle(min(angle, 180 - angle))
    if abs(angle - 90 * round(angle / 90)) <= SAME_SETTING:
        return shown
    return phrase("frame.stops.angle/right" if angle < 90 else "frame.stops.angle/left", angle=shown)
