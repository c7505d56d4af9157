"""The last page: what is left over and where it goes, counts, totals, who cut and who checked; knows floor's values."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from mitertool.drawing import THIN, Drawing, Line, Text, wrap
from mitertool.packet.floor.values import FloorSheet, ToCount, Totals
from mitertool.packet.pages import said
from mitertool.packet.paper.layout import Block, TableColumn, cell, in_lines, kept_together, table, titled
from mitertool.quantity import Units, show_mass
from mitertool.words import counted, phrase

_ROW: Final = 3.5
_NOTE: Final = 2.8
"""mm of capitals, 14 and 11 pt."""

_LINE: Final = 5.0
"""mm from one line of the totals to the next."""

_HEAT: Final = 20.0
"""mm: room for a heat."""

_ABREAST: Final = 2
"""Marks in a row of the counts."""

_SIGNED: Final = 11.0
"""mm: room to write a name by hand."""


def last_blocks(floor: FloorSheet, width: float) -> Iterator[Block]:
    """Everything that is written down when the job is cut; knows no order of pages."""
    units = floor.head.units
    if floor.left_overs:
        rests = table(_rest_columns(width), list(_rests(floor, units, width)))
        yield from kept_together([titled(phrase("last.left-over"), width), *rests])
    counts = table(_count_columns(width), list(_counts(floor.counts, width)))
    yield from kept_together([titled(phrase("last.count"), width), *counts, *_kept(floor, width)])
    yield from kept_together([*_totals(floor.totals, units, width), _signed(width)])


def _rest_columns(width: float) -> list[TableColumn]:
    return [
        TableColumn(phrase("last.bar"), 15, "right", bold=True, height=_ROW),
        TableColumn(phrase("last.pieces"), 13, "right", height=_ROW),
        TableColumn(phrase("last.section"), 54, height=_ROW),
        TableColumn(phrase("last.length"), 26, "right", bold=True, height=_ROW),
        TableColumn(phrase("last.end"), 36.5, height=_NOTE),
        TableColumn(phrase("last.heat"), _HEAT, height=_ROW),
        TableColumn(phrase("last.place"), width - 144.5 - _HEAT, height=_ROW),
    ]


def _rests(floor: FloorSheet, units: Units, width: float) -> Iterator[list[str]]:
    """A row for what is left of each bar, batch or recut, with the heats that are known and where it goes."""
    for rest in floor.left_overs:
        length, end = said.left_over(rest, units, "last.end")
        yield [
            rest.bar,
            str(rest.count),
            in_lines(said.material(rest.section.name, rest.grade), 51),
            length,
            "\n".join(wrap(end, 33.5, _NOTE)),
            in_lines(" / ".join(rest.heats), _HEAT - 3),
            in_lines(said.goes_to(rest), width - 144.5 - _HEAT - 3),
        ]


def _count_columns(width: float) -> list[TableColumn]:
    """Mark, how many, and room for good ones and scrap, so many abreast."""
    each = width / _ABREAST
    return [
        TableColumn(phrase("last.mark"), each - 58, bold=True, height=_ROW),
        TableColumn(phrase("last.to-cut"), 14, "right", height=_ROW),
        TableColumn(phrase("last.good"), 22, height=_ROW),
        TableColumn(phrase("last.scrap"), 22, height=_ROW),
    ] * _ABREAST


def _kept(floor: FloorSheet, width: float) -> Iterator[Block]:
    """The pieces that are cut already and stay, of which none is cut here."""
    if floor.kept:
        told = ", ".join(phrase("floor.each", count=count, mark=mark) for mark, count in floor.kept)
        lines = list(wrap(phrase("last.kept", pieces=told), width, _ROW))
        drawn = [cell(line, (0, -5 - _LINE * i), width, _ROW) for i, line in enumerate(lines)]
        yield Block(7.0 + _LINE * (len(lines) - 1), Drawing(drawn), gap=2.0)


def _counts(cut: Sequence[ToCount], width: float) -> Iterator[list[str]]:
    """The marks that are cut, down the first column, then down the next."""
    deep = -(-len(cut) // _ABREAST)
    for i in range(deep):
        row = [cut[at] for at in range(i, len(cut), deep)]
        told = [(in_lines(_called(one), width / _ABREAST - 61, bold=True), str(one.count), _FREE, _FREE) for one in row]
        yield [part for one in (*told, *[("", "", "", "")] * (_ABREAST - len(row))) for part in one]


def _called(one: ToCount) -> str:
    return phrase("last.again", number=one.again, mark=one.mark) if one.again else one.mark


_FREE: Final = "_" * 7
"""Where a count is written."""


def _totals(totals: Totals, units: Units, width: float) -> Iterator[Block]:
    """What the job comes to, in the order in which people ask."""
    told = [
        counted("last.total.pieces", totals.pieces),
        *([counted("last.total.recut", totals.recut)] if totals.recut else []),
        *([counted("last.total.kept", totals.kept)] if totals.kept else []),
        phrase("last.total.mass", mass=show_mass(totals.mass, units)),
        *([counted("last.total.bars", totals.bars), counted("last.total.cuts", totals.cuts)] if totals.bars else []),
        *([counted("last.total.further", totals.further)] if totals.further else []),
        *(counted(f"last.total.{name}", count) for name, count in _set_ups(totals) if count),
        *(phrase(f"last.total.{name}", minutes=f"{minutes:.0f}") for name, minutes in _minutes(totals)),
    ]
    lines = list(wrap(", ".join(told), width, _ROW))
    drawn = [cell(line, (0, -5 - _LINE * i), width, _ROW) for i, line in enumerate(lines)]
    yield Block(7.0 + _LINE * (len(lines) - 1), Drawing(drawn), gap=2.0)


def _set_ups(totals: Totals) -> tuple[tuple[str, int], ...]:
    return ("swings", totals.swings), ("tilts", totals.tilts), ("rolls", totals.rolls)


def _minutes(totals: Totals) -> Iterator[tuple[str, float]]:
    """Minutes by the shop's own rates, where it gives them; none is invented."""
    if totals.cutting is not None:
        yield "cutting", totals.cutting
    if totals.setting_up is not None:
        yield "setting-up", totals.setting_up


def _signed(width: float) -> Block:
    """Lines for whoever cut and whoever checked, each with the day."""
    parts: list[Text | Line] = []
    for row, who in enumerate(("cut-by", "checked-by")):
        y = -_SIGNED * (row + 0.6)
        for share, end, says in ((0.0, 0.62, phrase(f"last.{who}")), (0.66, 1.0, phrase("last.date"))):
            x0, x1 = width * share, width * end
            text = cell(says, (x0, y), 30, _ROW)
            parts += [text, Line((x0 + text.width + 2, y - 0.8), (x1, y - 0.8), THIN)]
    return Block(_SIGNED * 2, Drawing(parts))
