"""Where bars land along the pieces of a frame, a row a side, all from its lower or left end; knows words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

from mitertool.drawing import Drawing, Text, text_width, wrap
from mitertool.frame import Assembly
from mitertool.frame.inside.landings import LandedBar, landings, runs_back
from mitertool.frame.setting_out import SettingOut
from mitertool.packet.paper.layout import Block, TableColumn, table
from mitertool.quantity import Units, show_length
from mitertool.words import phrase

_LETTERS: Final = 3.0
_ON: Final = 53.0
"""mm at most for the piece and its side; the rest is for what lands on it."""

_SAYS: Final = 2.8
_SAYS_PITCH: Final = 4.2
"""mm of capitals and from line to line of what stands above a table."""

_PLUMB: Final = 1e-6
"""How far an upright bar leans at most, mm in a mm."""

_ALONG: Final = 4
_FREE: Final = 3.2
"""Bars in a row at most, and mm of a cell beside its text."""


def marked_blocks(assembly: Assembly, out: SettingOut | None, units: Units, width: float) -> Iterator[Block]:
    """The table, with what it means above it; nothing where no bar stands inside."""
    sides = landed_rows(assembly, out, units)
    if not sides:
        return
    yield from told_above(phrase("frame.marks.says"), width)
    pairs = [pair for _, shown in sides for pair in shown]
    wide = max(_cell(phrase("frame.marks.bar"), bold=True), *(_cell(what, bold=False) for what, _ in pairs))
    figures = max(_cell(at, bold=True) for _, at in pairs)
    told = min(_ON, max(_cell(on, bold=False) for on, _ in sides))
    along = max(1, min(_ALONG, int((width - told) / (wide + figures))))
    rows = [row for on, shown in sides for row in _rows(on, shown, along, told)]
    each = (width - told) / along
    bar = TableColumn(phrase("frame.marks.bar"), each * wide / (wide + figures), height=_LETTERS)
    at = TableColumn(phrase("frame.marks.at"), each * figures / (wide + figures), "right", bold=True, height=_LETTERS)
    yield from table([TableColumn(phrase("frame.marks.on"), told, height=_LETTERS), *[bar, at] * along], rows)


def landed_rows(assembly: Assembly, out: SettingOut | None, units: Units) -> list[tuple[str, list[tuple[str, str]]]]:
    """Each side of a piece on which bars land, with their marks and how far along it."""
    return [_landed(assembly, out, list(some), units) for _, some in groupby(landings(assembly), _side)]


def told_above(says: str, width: float) -> Iterator[Block]:
    """What a table means, in as many lines as it takes, kept with the table."""
    lines = wrap(says, width, _SAYS)
    texts = [Text((0.0, -_SAYS_PITCH * (i + 1) + 0.6), line, _SAYS) for i, line in enumerate(lines)]
    yield Block(_SAYS_PITCH * len(lines) + 0.8, Drawing(texts), keep_with_next=True, gap=0.5)


def _side(one: LandedBar) -> tuple[int, str]:
    return one.host, one.side


def _landed(
    assembly: Assembly, out: SettingOut | None, some: Sequence[LandedBar], units: Units
) -> tuple[str, list[tuple[str, str]]]:
    braces = {bar.mark for bar in assembly.inside if bar.called == "brace"}
    marks = sorted((*_span(assembly, one), one.what) for one in some)
    return _on(assembly, out, some[0]), [
        (what or phrase("frame.marks.hole"), _shown(near, far if what in braces else near, units))
        for near, far, what in marks
    ]


def _shown(near: float, far: float, units: Units) -> str:
    """Where something lands; of a slanted foot, which covers more than its bar is wide, where it ends as well."""
    first, last = show_length(near, units), show_length(far, units)
    return first if first == last else phrase("frame.marks/covers", near=first, far=last)


def _cell(says: str, bold: bool) -> float:
    """The width of a column that holds a text in full, mm."""
    return text_width(says, _LETTERS, bold) + _FREE


def _rows(on: str, shown: Sequence[tuple[str, str]], along: int, told: float) -> Iterator[list[str]]:
    for i in range(0, len(shown), along):
        here = [*shown[i : i + along], *[("", "")] * max(0, i + along - len(shown))]
        yield ["" if i else "\n".join(wrap(on, told - 3, _LETTERS)), *(part for pair in here for part in pair)]


def _on(assembly: Assembly, out: SettingOut | None, one: LandedBar) -> str:
    """The piece and its side, of a member of the ring where that is not the inner one, and at which corners it lies."""
    if one.host >= len(assembly.order) or out is None or not out.closed:
        return phrase("frame.marks/inside", mark=assembly.every[one.host], side=side_says(assembly, one.host, one.side))
    member = member_says(assembly, out, one.host)
    if one.side == "fixed":
        return member
    return phrase("frame.marks/side", member=member, side=phrase(f"frame.hole/{one.side}"))


def _span(assembly: Assembly, one: LandedBar) -> tuple[float, float]:
    """From where to where a bar lands, as its member is told: from its other end where it runs back."""
    if not _runs_back(assembly, one.host):
        return one.near, one.far
    whole = assembly.side_length(one.host, one.side)
    return whole - one.far, whole - one.near


def side_says(assembly: Assembly, host: int, side: str) -> str:
    """Which side of a bar inside its "fixed" or "moving" one is, as the frame lies: a bar has it at its left."""
    _, outer_start, outer_end, _ = assembly.edges[host]
    way = (outer_end - outer_start) / abs(outer_end - outer_start)
    left = side == "moving"
    if abs(way.real) < _PLUMB:
        return phrase("frame.side/left" if left == (way.imag > 0) else "frame.side/right")
    return phrase("frame.side/upper" if left == (way.real > 0) else "frame.side/lower")


def _runs_back(assembly: Assembly, host: int) -> bool:
    _, outer_start, outer_end, _ = assembly.edges[host]
    return runs_back((outer_end - outer_start) / abs(outer_end - outer_start))


def member_says(assembly: Assembly, out: SettingOut | None, host: int) -> str:
    """A piece by its mark; a member of a ring also by the corners at which it lies, the lower or left one first."""
    mark, count = assembly.every[host], len(assembly.order)
    if host >= count or out is None or not out.closed:
        return mark
    at = {corner.joint: corner.number for corner in out.corners}
    ends = at[(host - 1) % count], at[host]
    first, last = ends[::-1] if _runs_back(assembly, host) else ends
    return phrase("frame.marks/ring", mark=mark, first=first, last=last)
