"""Two stiles with rungs of one pitch between them."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import CLOSES
from mitertool.frame.closure import Move
from mitertool.frame.inside import Fill, Spaced
from mitertool.frame.inside.cells import NOBODY, Cell
from mitertool.frame.outlines.outline import Drawn, Outline, by_role
from mitertool.piece import Piece
from mitertool.quantity.keys import Key, Values, exact, need
from mitertool.quantity.kinds import POSITIVE_LENGTH
from mitertool.quantity.problem import Remark, counts, lengths
from mitertool.sections import Section


def _drawn(said: Values, sections: Sequence[Section]) -> Drawn:
    """Stiles are plumb, their outside the moving side: the left one runs up, the right one down.

    What they stand on, and what covers them, are plates of one thickness where they have any.
    """
    width, height, pitch, cap = said["width"], said["height"], said["pitch"], said.get("cap", 0.0)
    stile, rung = by_role(sections, 2)
    inner = width - 2 * stile.width
    if inner <= CLOSES:
        raise BadInput("width", exact(width), exact(2 * stile.width, "refuse.ladder"))
    first = said.get("first", pitch)
    count = floor((height - cap - first - rung.width / 2 + CLOSES) / pitch) + 1
    if count < 1 or first < cap + rung.width / 2 or pitch < rung.width:
        raise BadInput("pitch", exact(pitch), exact(height, "refuse.rungs"))
    places = tuple(first + i * pitch for i in range(count))
    post = Piece(stile, height - 2 * cap)
    foot, top = complex(stile.width, cap), complex(width - stile.width, height - cap)
    corners = (foot, complex(top.real, foot.imag), top, complex(foot.real, top.imag))
    told = counts(count=count) + lengths(pitch=pitch, first=first, last=height - places[-1])
    return Drawn(
        bars=((post, Move(1j, foot)), (post, Move(-1j, top))),
        opening=Cell(corners, (NOBODY, 1, NOBODY, 0)),
        fills=(Fill(Spaced("rails", rung, at=places, origin=0.0)),),
        notes=(Remark("note.rungs", told),),
    )


OUTLINE: Final = Outline(
    ("stiles", "rungs"),
    {
        "width": need("frame.ladder-width", POSITIVE_LENGTH),
        "height": need("frame.ladder-height", POSITIVE_LENGTH),
        "pitch": need("frame.pitch", POSITIVE_LENGTH),
        "first": Key("frame.first", POSITIVE_LENGTH),
        "cap": Key("frame.ladder-cap", POSITIVE_LENGTH),
    },
    _drawn,
    ring=False,
)
"""Stiles and rungs may have a section each."""
