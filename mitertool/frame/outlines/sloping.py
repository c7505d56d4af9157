"""A rectangle whose top slopes: both posts plumb, of two heights."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from mitertool.frame.outlines.outline import Drawn, Outline
from mitertool.quantity.keys import Key, Values, need
from mitertool.quantity.kinds import POSITIVE_LENGTH
from mitertool.sections import Section


def _drawn(said: Values, _: Sequence[Section]) -> Drawn:
    width, left, right = said["width"], said["height"], said["right_height"]
    return Drawn((complex(0, left), complex(width, right), complex(width, 0), 0j), (0, 1, 0, 1))


OUTLINE: Final = Outline(
    ("rails", "posts"),
    {
        "width": Key("frame.width", POSITIVE_LENGTH),
        "height": Key("frame.left-height", POSITIVE_LENGTH),
        "right_height": need("frame.right_height", POSITIVE_LENGTH),
    },
    _drawn,
    sized=True,
)
"""Rails and posts may have a section each."""
