"""A tilted blade in a bar, seen along the blade; knows reach and drawing. Paper mm."""

from __future__ import annotations

from math import radians, tan
from typing import Final

from mitertool.drawing import CENTER, OUTLINE, THIN, Drawing, Line, Polygon, Text
from mitertool.packet.pages.setting.letters import LETTER, TILT, angle, with_letters
from mitertool.packet.paper.stand import feed_way
from mitertool.saw import Reach
from mitertool.words import phrase

_BELOW: Final = 5.0
_PAST: Final = 7.0
_BESIDE: Final = 4.0
_NAME: Final = 2.8


def tilt_view(reach: Reach, width: float, height: float) -> Drawing:
    """In a box that stands on (0, 0), from the fixed jaw's side; empty where the blade stands upright."""
    if not reach.tilt:
        return Drawing(())
    tall, middle = height - _BELOW - _PAST - LETTER, width / 2
    way = feed_way(reach.setting.saw)
    lean = way * tan(radians(reach.tilt))
    tall = min(tall, (width - 2 * _BESIDE) / abs(lean) - _PAST)
    x0 = middle - lean * (tall + _PAST) / 2
    top = _BELOW + tall
    bar = Polygon([(2, _BELOW), (width - 2, _BELOW), (width - 2, top), (2, top)], THIN)
    blade = Line((x0, _BELOW), (x0 + lean * (tall + _PAST), top + _PAST), OUTLINE)
    upright = Line((x0, _BELOW), (x0, top + _PAST), CENTER)
    arc = angle(TILT, (x0, _BELOW), 90.0, -way * reach.tilt, tall + 3.0)
    left, right = (phrase("setting.discharge"), phrase("setting.feed"))[:: int(way)]
    names = [Text((1, 2), left, _NAME, "left", "middle"), Text((width - 1, 2), right, _NAME, "right", "middle")]
    return with_letters(Drawing([bar, blade, upright]), [arc], names)
