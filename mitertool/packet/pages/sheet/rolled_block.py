"""How a bar stands in the vise for cuts that it is rolled for, as the operator then sees it. Paper mm."""

from __future__ import annotations

from typing import Final

from mitertool.bar import short_way
from mitertool.base.tolerances import SAME_SETTING
from mitertool.drawing import Drawing, wrap
from mitertool.packet.floor.values import BarSetting, BarWork
from mitertool.packet.pages.setting.vise_view import top_of, vise_view
from mitertool.packet.pages.sheet import figures
from mitertool.packet.pages.sheet.sizes import NOTE
from mitertool.packet.paper.layout import Block, cell
from mitertool.packet.words import turn_words
from mitertool.quantity import Units, show_length
from mitertool.sections import Section
from mitertool.words import phrase

_VISE: Final = 46.0
_TALL: Final = 19.0
_PITCH: Final = 4.1
_ACROSS: Final = 2
"""Pictures beside each other."""


def rolled_blocks(work: BarWork, units: Units, width: float) -> list[Block]:
    """A picture of each roll that shows, by no half turn and of no round bar; several stand two beside each other."""
    found = _rolled(work)
    rows = [found[i : i + _ACROSS] for i in range(0, len(found), _ACROSS)]
    return [_row(row, work.section, units, width / min(len(found), _ACROSS)) for row in rows]


def _rolled(work: BarWork) -> list[BarSetting]:
    """The first setting of each roll in the order of work."""
    if work.section.shape.round:
        return []
    found: dict[int, BarSetting] = {}
    for one in work.settings:
        roll = short_way(one.reach.roll)
        if one.reach.ok and SAME_SETTING < abs(roll) < 180 - SAME_SETTING:
            found.setdefault(round(roll / SAME_SETTING), one)
    return list(found.values())


def _row(row: list[BarSetting], section: Section, units: Units, room: float) -> Block:
    told = [_told(one, units, room) for one in row]
    tall = max(_TALL, *(_PITCH * len(lines) + 1 for lines in told))
    drawing = Drawing([])
    for i, (one, lines) in enumerate(zip(row, told, strict=True)):
        drawing += _standing(one, section).moved(room * i, -tall)
        left = room * i + _VISE + 2
        drawing += Drawing(
            cell(line, (left, -_PITCH * (j + 1)), room - _VISE - 4, NOTE) for j, line in enumerate(lines)
        )
    return Block(tall, drawing, keep_with_next=True, gap=1.0)


def _standing(one: BarSetting, section: Section) -> Drawing:
    """The bar in the vise with a wedge where the top is that is chalked."""
    reach, top = one.reach, top_of(section, one.reach.roll)
    return vise_view(reach.section, _VISE, _TALL - 2, reach.pack, top)


def _told(one: BarSetting, units: Units, room: float) -> list[str]:
    """What stands beside the section with what is packed under it: the reading, the roll and its size then."""
    reach = one.reach
    at = phrase("sheet.stands", reading=figures.line_figure(one.reading), turn=turn_words(short_way(reach.roll)))
    wide, high = (show_length(mm, units) for mm in (reach.section.width, reach.section.height))
    says = (at, phrase("sheet.stands-so", wide=wide, high=high))
    return [line for word in says for line in wrap(word, room - _VISE - 4, NOTE)]
