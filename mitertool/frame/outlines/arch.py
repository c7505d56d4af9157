"""A frame with a segmental arch of chords on top: the whole of it, or the half that a leaf of two has."""

from __future__ import annotations

from cmath import exp
from collections.abc import Sequence
from math import asin, cos, pi
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import CLOSES
from mitertool.frame.outlines.outline import Drawn, Outline
from mitertool.quantity.keys import Key, Values, exact, need
from mitertool.quantity.kinds import FLAG, POSITIVE_LENGTH, count
from mitertool.quantity.problem import Remark, lengths
from mitertool.sections import Section

_MOST_CHORDS: Final = 180


def _drawn(said: Values, _: Sequence[Section]) -> Drawn:
    """The corners of the chords lie on the arch, at equal angles about its middle."""
    width, rise, half, chords = said["width"], said["rise"], said.get("half", False), said["chords"]
    reach, height = (width if half else width / 2), said["height"]
    if rise > min(reach, height) + CLOSES:
        raise BadInput("rise", exact(rise), exact(min(reach, height), "refuse.rise"))
    radius = (reach**2 + rise**2) / (2 * rise)
    middle = complex(reach, height - radius)
    turn = asin(min(1.0, reach / radius)) * (1 if half else 2)
    first = pi / 2 + asin(min(1.0, reach / radius))
    top = [middle + radius * exp(1j * (first - turn * i / chords)) for i in range(chords + 1)]
    below = [complex(width, 0)] * (abs(top[-1].imag) > CLOSES) + [0j] * (abs(top[0].imag) > CLOSES)
    off = radius * (1 - cos(turn / chords / 2))
    note = Remark("note.chords", lengths(radius=radius, off=off, chord=abs(top[1] - top[0])))
    roles = (*[1] * chords, *[0] * (len(below) + 1))
    return Drawn((*top, *below), roles, bends=tuple(range(chords - 1)), notes=(note,))


OUTLINE: Final = Outline(
    ("frame", "chords"),
    {
        "width": Key("frame.arch-width", POSITIVE_LENGTH),
        "height": Key("frame.arch-height", POSITIVE_LENGTH),
        "rise": need("frame.arch-rise", POSITIVE_LENGTH),
        "chords": need("frame.chords", count(2, _MOST_CHORDS)),
        "half": Key("frame.half", FLAG),
    },
    _drawn,
    sized=True,
)
"""The frame below and the chords may have a section each."""
