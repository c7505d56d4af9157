"""Four sides with a level top and bottom of two widths."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from mitertool.frame.outlines.outline import Drawn, Outline
from mitertool.quantity.keys import Key, Values, need
from mitertool.quantity.kinds import LENGTH, POSITIVE_LENGTH
from mitertool.sections import Section


def _drawn(said: Values, _: Sequence[Section]) -> Drawn:
    bottom, top, height = said["bottom"], said["top"], said["height"]
    start = said.get("stands_in", (bottom - top) / 2)
    return Drawn((complex(start, height), complex(start + top, height), complex(bottom, 0), 0j), (0, 1, 0, 1))


OUTLINE: Final = Outline(
    ("rails", "sides"),
    {
        "bottom": need("frame.trapezoid-bottom", POSITIVE_LENGTH),
        "top": need("frame.trapezoid-top", POSITIVE_LENGTH),
        "height": need("frame.trapezoid-height", POSITIVE_LENGTH),
        "stands_in": Key("frame.stands_in", LENGTH),
    },
    _drawn,
)
"""Rails and sides may have a section each."""
