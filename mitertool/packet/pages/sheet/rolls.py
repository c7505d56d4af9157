"""How a bar is rolled before a cut: a picture of the section as it then stands, and in words how often. Paper mm."""

from __future__ import annotations

from functools import lru_cache
from math import hypot
from typing import Final

from mitertool.drawing import Drawing, wrap
from mitertool.packet.floor.values import BarWork, CutRow, Turn
from mitertool.packet.pages.setting.vise_view import WEDGE, wedge
from mitertool.packet.pages.sheet.arrows import turn_arrow
from mitertool.packet.pages.sheet.sizes import NOTE
from mitertool.packet.paper.layout import LEAST, cell
from mitertool.packet.paper.views import end_view
from mitertool.sections import Section
from mitertool.words import phrase

_CLEAR: Final = 0.6
"""Between the section and the arrow around it."""

_SIZE, _WIDE, _PITCH, _BESIDE = 5.8, 15.0, 3.7, 1.2
"""Size of the picture in a row, width of its column, the pitch of its small lines, and what is free beside them."""


def rolled(row: CutRow, work: BarWork) -> Drawing:
    """The column of a roll, which ends at (0, 0): an arrow over where the bar is rolled, in words where by half a turn.

    That it is not rolled is said behind the first cut of a bar that is
    rolled for others.
    """
    if row.turn is None:
        told = row.numbers[0] > 1 and any(one.turn for one in work.rows)
        return Drawing([cell(phrase("sheet.no-turn"), (-_WIDE, -6.4), _WIDE - 1, NOTE)] if told else [])
    arrow = roll_picture(work.section, row.turn, _SIZE, row.several).moved(_SIZE / 2 - _WIDE, -4.9)
    if not row.turn.half:
        return arrow
    room = 6.6
    words = wrap(phrase("sheet.half-turn"), room, LEAST)
    texts = [cell(word, (-room - _BESIDE, -3.9 - _PITCH * i), room, NOTE) for i, word in enumerate(words)]
    return arrow + Drawing(texts)


def roll_picture(section: Section, turn: Turn, size: float, often: bool = False) -> Drawing:
    """About (0, 0), `size` wide and high: the bar as it then stands, and the arrow of the way it is rolled there.

    The wedge is where its top then is; rolled by half a turn `often`, it is now here and now there, and has none.
    """
    return _stands(section, turn.to, turn.forward, size, not (often and turn.half))


_PICTURES: Final = 128
"""Pictures of rolls that are kept: a job rolls bars of few sections, and most of them alike."""


@lru_cache(maxsize=_PICTURES)
def _stands(section: Section, to: float, forward: bool, size: float, top: bool) -> Drawing:
    room, half = size / 2 - _CLEAR, (section.width / 2, section.height / 2)
    k = min(room / hypot(*half), (room - WEDGE) / half[1])
    bar = end_view(section).moved(-half[0], -half[1]).scaled(k)
    bar += Drawing([wedge((0.0, half[1] * k))] if top else [])
    return turn_arrow(size, forward) + bar.turned(-to)
