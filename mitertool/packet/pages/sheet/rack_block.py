"""Which bar is which left-over of the rack, where it lies and where it is measured from; knows layout and words."""

from __future__ import annotations

from mitertool.cut import Cut
from mitertool.job import Solution
from mitertool.packet.paper.layout import Block, TableColumn, in_lines, kept_together, table, titled
from mitertool.quantity import Units, show_angle, show_length
from mitertool.rack.values import BookedBar, RackBar
from mitertool.words import phrase


def rack_blocks(solution: Solution, width: float) -> list[Block]:
    """A row for each bar that is a left-over; nothing where none is."""
    lying = {bar.number: bar for bar in (solution.job.rack.bars if solution.job.rack else ())}
    rows = [_row(bar, lying[bar.takes], solution.job.head.units, _free(width)) for bar in solution.on_rack if bar.takes]
    if not rows:
        return []
    return kept_together([titled(phrase("rack.told.title"), width), *table(_columns(width), rows)])


def _free(width: float) -> float:
    """What the other columns leave for heat and for place."""
    return (width - 134) / 2


def _columns(width: float) -> list[TableColumn]:
    return [
        TableColumn(phrase("rack.told.bar"), 14, "right", bold=True, height=3.5),
        TableColumn(phrase("rack.told.left-over"), 22, "right", bold=True, height=3.5),
        TableColumn(phrase("rack.told.length"), 24, "right", height=3.5),
        TableColumn(phrase("rack.told.ends"), 34),
        TableColumn(phrase("rack.told.measure"), 40),
        TableColumn(phrase("rack.told.heat"), _free(width)),
        TableColumn(phrase("rack.told.place"), _free(width)),
    ]


def _row(booked: BookedBar, bar: RackBar, units: Units, free: float) -> list[str]:
    slanted = bar.left.miter or bar.left.bevel
    return [
        booked.called,
        str(bar.number),
        show_length(bar.length, units),
        f"{_end(bar.left)}, {_end(bar.right)}",
        in_lines(phrase("rack.told.short" if slanted else "rack.told.end"), 37),
        in_lines(bar.heat, free - 3),
        in_lines(bar.place, free - 3),
    ]


def _end(cut: Cut) -> str:
    return show_angle(abs(cut.miter)) + (f"/{show_angle(abs(cut.bevel))}" if cut.bevel else "")
