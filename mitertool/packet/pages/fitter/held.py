"""How members of a frame in space are marked out, held and cut, as tables for paper and page; knows words.

Of a hopper each mark has its pattern, and its cut in every way in which it may be held; of a rail each member has its
swings and the roll between them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import attrs

from mitertool.base.totals import summed
from mitertool.cut import Cut
from mitertool.frame import Assembly, SpaceAssembly
from mitertool.frame.leaning import Leaning
from mitertool.frame.rolls import FLUSH, RollBetween
from mitertool.packet.pages.fitter.marked import told_above
from mitertool.packet.pages.fitter.rail_views import node_rows, node_titles
from mitertool.packet.paper.layout import Anchor, Block, TableColumn, in_lines, kept_together, table
from mitertool.packet.words import long_side
from mitertool.quantity import Units, show_angle, show_length
from mitertool.words import phrase

_LETTERS: Final = 3.0
_MARK: Final = 26.0


@attrs.frozen
class FrameTable:
    """A table with what it means, its titles, its rows, and which of its columns have words, so that they are wide."""

    says: str
    titles: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    wordy: tuple[int, ...] = ()

    @property
    def lines(self) -> tuple[tuple[str, ...], ...]:
        """The titles and the rows."""
        return self.titles, *self.rows


def held_tables(assembly: Assembly, units: Units) -> tuple[FrameTable, ...]:
    """Those of a hopper or of a rail; none of any other frame."""
    if not isinstance(assembly, SpaceAssembly):
        return ()
    if assembly.leaning:
        return _pattern(assembly.leaning, units), _ways(assembly.leaning)
    return (_nodes(assembly, units), _rolls(assembly.turns, units)) if assembly.shape == "rail" else ()


def _nodes(rail: SpaceAssembly, units: Units) -> FrameTable:
    return FrameTable(phrase("frame.rail.says"), node_titles(), node_rows(rail, units))


def held_blocks(assembly: Assembly, units: Units, width: float) -> Iterator[Block]:
    """The tables on paper, each with its first rows."""
    for one in held_tables(assembly, units):
        heading, *rows = table(*_laid_out(one, width))
        yield from kept_together([*told_above(one.says, width), heading, *rows[:2]])
        yield from rows[2:]


def _laid_out(one: FrameTable, width: float) -> tuple[list[TableColumn], list[list[str]]]:
    """Its columns: the mark, figures at the right, and words that have more room."""
    shares = [2.5 if i in one.wordy else 1 for i in range(1, len(one.titles))]
    widths = [_MARK, *((width - _MARK) * share / summed(shares) for share in shares)]
    columns = [
        TableColumn(in_lines(title, wide - 3, bold=True), wide, *_set(i, one), height=_LETTERS)
        for i, (title, wide) in enumerate(zip(one.titles, widths, strict=True))
    ]
    return columns, [[in_lines(says, wide - 3) for says, wide in zip(row, widths, strict=True)] for row in one.rows]


def _set(i: int, one: FrameTable) -> tuple[Anchor, bool]:
    """On which side the cells of a column are set, and whether they are bold."""
    return ("left", i == 0) if i == 0 or i in one.wordy else ("right", True)


def _titles(*columns: str) -> tuple[str, ...]:
    return tuple(phrase(f"frame.held.{one}") for one in ("piece", *columns))


def _pattern(leaning: Sequence[Leaning], units: Units) -> FrameTable:
    """How each mark stands, and of a plate both its faces."""
    rows = []
    for one in leaning:
        lengths = (show_length(mm, units) for mm in (one.slant, *(one.outside or ()), *(one.inside or ())))
        rows.append((one.mark, show_angle(one.slope), show_angle(one.dihedral), *lengths))
    plates = leaning[0].outside is not None
    faces = ("outside-bottom", "outside-top", "inside-bottom", "inside-top") if plates else ()
    says = phrase("frame.held.stands/plates" if plates else "frame.held.stands/bars")
    return FrameTable(says, _titles("slope", "meets", "slant", *faces), tuple(rows))


def _ways(leaning: Sequence[Leaning]) -> FrameTable:
    rows = tuple(row for one in leaning for row in _held(one))
    says = phrase("frame.held.ways/plates" if leaning[0].face_up else "frame.held.ways/bars")
    return FrameTable(says, _titles("held", "miter", "bevel", "long"), rows, wordy=(1, 4))


def _held(one: Leaning) -> Iterator[tuple[str, ...]]:
    """The cut of the right end as the bar lies, on its edge, and rolled in a fixture."""
    roll, swing = one.fixture
    case = "plate" if one.face_up else "moving" if roll > 0 else "fixed"
    kind = "plate" if one.face_up else "bar"
    ways = (
        (phrase(f"frame.held.lying/{kind}"), one.piece.right),
        (phrase(f"frame.held.on-edge/{kind}"), one.on_edge),
        (phrase(f"frame.held.fixture/{case}", roll=show_angle(abs(roll))), Cut(swing)),
    )
    for number, (says, cut) in enumerate(ways):
        angles = (show_angle(abs(angle)) for angle in (cut.miter, cut.bevel))
        yield ("" if number else one.mark, says, *angles, long_side(cut))


def _rolls(turns: Sequence[RollBetween], units: Units) -> FrameTable:
    skin = turns[0].arc is not None
    titles = ("both", "both-skin", "one", "one-skin") if skin else ("both", "one")
    rows = tuple(
        (
            one.mark,
            show_length(one.piece.overall, units),
            *(show_angle(swing) for swing in one.swings),
            *_rolled(one, one.both_ways, one.both_ways_arc, units),
            *_rolled(one, one.one_way, one.one_way_arc, units),
        )
        for one in turns
    )
    wordy = (4, 6) if skin else (4, 5)
    return FrameTable(phrase("frame.held.rolls"), _titles("overall", "left-swing", "right-swing", *titles), rows, wordy)


def _rolled(one: RollBetween, angle: float, arc: float | None, units: Units) -> tuple[str, ...]:
    """A roll in words, of a round bar with its arc; nothing where an end is square."""
    on_skin = () if arc is None else (show_length(abs(arc), units) if one.compound else "",)
    if not one.compound:
        return "", *on_skin
    if abs(angle) <= FLUSH:
        return phrase("frame.held.not-rolled"), *on_skin
    if abs(abs(angle) - 180) <= FLUSH:
        return phrase("frame.held.turned-over"), *on_skin
    way = "clockwise" if angle > 0 else "counter"
    return phrase(f"frame.held.rolled/{way}", angle=show_angle(abs(angle))), *on_skin
