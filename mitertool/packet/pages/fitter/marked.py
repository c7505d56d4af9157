"""Where bars land along the pieces of a frame, a row a side of a piece, all from its left end; knows words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

from mitertool.drawing import Drawing
from mitertool.frame import Assembly
from mitertool.frame.inside.landings import LandedBar, landings
from mitertool.frame.setting_out import SettingOut
from mitertool.packet.paper.layout import Block, TableColumn, cell, in_lines, table
from mitertool.quantity import Units, show_length
from mitertool.words import phrase

_LETTERS: Final = 3.0
_ON: Final = 46.0
"""mm for the piece and its side; the rest is for what lands on it."""

_ALONG: Final = 4
"""Bars in a row."""


def marked_blocks(assembly: Assembly, out: SettingOut | None, units: Units, width: float) -> Iterator[Block]:
    """The table, with what it means above it; nothing where no bar stands inside."""
    found = landings(assembly)
    if not found:
        return
    says = phrase("frame.marks.says")
    yield Block(5.0, Drawing([cell(says, (0.0, -3.6), width, 2.8)]), gap=0.5)
    rows = [row for _, some in groupby(found, _side) for row in _rows(assembly, out, list(some), units)]
    pair = (width - _ON) / _ALONG
    bar = TableColumn(phrase("frame.marks.bar"), pair * 0.55, height=_LETTERS)
    at = TableColumn(phrase("frame.marks.at"), pair * 0.45, "right", bold=True, height=_LETTERS)
    yield from table([TableColumn(phrase("frame.marks.on"), _ON, height=_LETTERS), *[bar, at] * _ALONG], rows)


def _side(one: LandedBar) -> tuple[int, str]:
    return one.host, one.side


def _rows(assembly: Assembly, out: SettingOut | None, some: Sequence[LandedBar], units: Units) -> Iterator[list[str]]:
    shown = [(one.what, show_length(one.near, units)) for one in some]
    for i in range(0, len(shown), _ALONG):
        here = [*shown[i : i + _ALONG], *[("", "")] * max(0, i + _ALONG - len(shown))]
        on = "" if i else in_lines(_on(assembly, out, some[0]), _ON - 2)
        yield [on, *(part for pair in here for part in pair)]


def _on(assembly: Assembly, out: SettingOut | None, one: LandedBar) -> str:
    """The piece and its side; of a member of the ring also at which corners it lies."""
    if one.host >= len(assembly.order):
        return phrase(f"frame.marks/{one.side}", mark=assembly.every[one.host])
    return member_says(assembly, out, one.host)


def member_says(assembly: Assembly, out: SettingOut | None, host: int) -> str:
    """A piece by its mark; a member of a ring also by the corners at which it lies."""
    mark, count = assembly.every[host], len(assembly.order)
    if host >= count or out is None or not out.closed:
        return mark
    at = {corner.joint: corner.number for corner in out.corners}
    return phrase("frame.marks/ring", mark=mark, first=at[(host - 1) % count], last=at[host])
