"""The stops of a jig as a table, two points a line, all from the first corner; knows words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mitertool.base.tolerances import SAME_SETTING
from mitertool.drawing import Drawing
from mitertool.frame import Assembly
from mitertool.frame.setting_out import SettingOut
from mitertool.frame.stops import StopLine, stop_lines
from mitertool.packet.pages.fitter.marked import member_says
from mitertool.packet.paper.layout import Block, TableColumn, cell, in_lines, kept_together, table
from mitertool.quantity import Units, show_angle, show_length
from mitertool.words import phrase

_LETTERS: Final = 3.0
_PIECE: Final = 50.0
_SIDE: Final = 22.0


def stop_blocks(assembly: Assembly, out: SettingOut | None, units: Units, width: float) -> Iterator[Block]:
    """The table with what it means above it; nothing for a frame that is not set out by corners.

    Nor for one of level and upright members with nothing inside: its corners and widths are its stops.
    """
    lines = stop_lines(assembly, out) if out else ()
    if out is None or not (
        assembly.inside or any(abs(line.angle - 90 * round(line.angle / 90)) > SAME_SETTING for line in lines)
    ):
        return
    says = phrase("frame.stops.says")
    each = (width - _PIECE - _SIDE) / 5
    titles = [phrase(f"frame.stops.{one}") for one in ("right", "up", "to-right", "to-up", "angle")]
    columns = [
        TableColumn(phrase("frame.stops.piece"), _PIECE, height=_LETTERS),
        TableColumn(phrase("frame.stops.side"), _SIDE, height=_LETTERS),
        *(TableColumn(title, each, "right", bold=title != titles[-1], height=_LETTERS) for title in titles),
    ]
    heading, *rows = table(columns, [_row(assembly, out, line, units) for line in lines])
    says_so = Block(5.0, Drawing([cell(says, (0.0, -3.6), width, 2.8)]), gap=0.5)
    yield from kept_together([says_so, heading, rows[0]])
    yield from rows[1:]


def _row(assembly: Assembly, out: SettingOut, line: StopLine, units: Units) -> list[str]:
    outer = line.side == "outer"
    where = "ring" if line.host < len(assembly.order) else "inside"
    points = (line.first.real, line.first.imag, line.second.real, line.second.imag)
    return [
        in_lines(member_says(assembly, out, line.host), _PIECE - 3) if outer else "",
        phrase(f"frame.stops.{where}/{line.side}"),
        *(show_length(mm, units) for mm in points),
        show_angle(line.angle),
    ]
