"""Two braces that cross inside a rectangle: the second in two pieces on the first, or both whole and lapped."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from mitertool.frame.inside import Diagonal, Fill
from mitertool.frame.inside.cells import Cell
from mitertool.frame.inside.diagonals import CROSSINGS
from mitertool.frame.outlines.outline import Drawn, Outline, by_role
from mitertool.quantity.keys import Key, Values, need
from mitertool.quantity.kinds import POSITIVE_LENGTH, choice
from mitertool.sections import Section


def _drawn(said: Values, sections: Sequence[Section]) -> Drawn:
    wide, high = said["inside_width"], said["inside_height"]
    first, second = by_role(sections, 2)
    crossing = said.get("crossing", CROSSINGS[0])
    opening = Cell((0j, complex(wide, 0), complex(wide, high), complex(0, high)), (-2, -3, -4, -5))
    fills = (Fill(Diagonal(first, "right")), Fill(Diagonal(second, "left", crossing=crossing)))
    return Drawn(opening=opening, fills=fills)


OUTLINE: Final = Outline(
    ("first", "second"),
    {
        "inside_width": need("frame.inside_width", POSITIVE_LENGTH),
        "inside_height": need("frame.inside_height", POSITIVE_LENGTH),
        "crossing": Key("frame.crossing", choice(CROSSINGS)),
    },
    _drawn,
    ring=False,
)
"""Both braces may have a section each."""
