"""The section as it stands after a roll, a wedge at its top as drawn, seen as it is seen in the vise. Paper mm."""

from __future__ import annotations

from math import hypot
from typing import Final

from mitertool.drawing import Drawing
from mitertool.packet.floor.values import Turn
from mitertool.packet.pages.setting.vise_view import WEDGE, wedge
from mitertool.packet.pages.sheet.arrows import turn_arrow
from mitertool.packet.paper.views import end_view
from mitertool.sections import Section

_CLEAR: Final = 0.6
"""Between the section and the arrow around it."""


def roll_picture(section: Section, turn: Turn, size: float) -> Drawing:
    """About (0, 0), `size` wide and high: the bar as it then stands, and the arrow of the way it is rolled there."""
    room, half = size / 2 - _CLEAR, (section.width / 2, section.height / 2)
    k = min(room / hypot(*half), (room - WEDGE) / half[1])
    bar = end_view(section).moved(-half[0], -half[1]).scaled(k) + Drawing([wedge((0.0, half[1] * k))])
    return turn_arrow(size, turn.forward) + bar.turned(-turn.to)
