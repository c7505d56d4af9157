"""A rectangular frame with mitered corners from outside, inside or centerline sizes; knows corners and pieces."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import isfinite
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.cut import Cut
from mitertool.frame.assembly import Assembly, Resolution, assemble
from mitertool.frame.corners import Corner, corner
from mitertool.piece import Piece
from mitertool.sections import Section

_TAKES: Final[Mapping[str, float]] = {"outside": 0.0, "centerline": 0.5, "inside": 1.0}
"""Share of each neighbour's width that lies beyond the measured size."""

MEASURED: Final = tuple(_TAKES)


def rectangle(
    section: Section | Sequence[Section],
    width: float,
    height: float,
    measured: str,
    root_gap: float = 0.0,
    mark: str = "FRAME",
    resolution: Resolution | None = None,
) -> Assembly:
    """A mitered rectangle of `width` by `height` (mm), `measured` "outside", "inside" or "centerline".

    `section` is one section as it lies, or one for each side in walking order (width, height, width, height), or
    one for the width sides and one for the height sides. Raises `BadInput` for sizes that leave no piece.
    """
    sides = _sides(section)
    if measured not in _TAKES:
        raise BadInput("measured", measured, f"allowed: {', '.join(_TAKES)}")
    _refuse(width=width, height=height)
    if not (isfinite(root_gap) and root_gap >= 0):
        raise BadInput("root_gap", root_gap, "must be 0 mm or more")
    joints = [corner(sides[i].width, sides[(i + 1) % 4].width, 90.0) for i in range(4)]
    share = _TAKES[measured]
    sizes = (width, height, width, height)
    outer = [sizes[i] + share * (sides[i - 1].width + sides[(i + 1) % 4].width) for i in range(4)]
    pieces = [_piece(sides[i], outer[i], joints[i - 1], joints[i], root_gap) for i in range(4)]
    return assemble(mark, "rectangle", pieces, root_gap, resolution or Resolution())


def _piece(section: Section, outer: float, before: Corner, after: Corner, root_gap: float) -> Piece:
    """A side between two corners; it is the second member of the one before it and the first of the one after."""
    length = outer - before.set_back(before.miter_b, root_gap) - after.set_back(after.miter_a, root_gap)
    if length <= 0:
        raise BadInput("root_gap", f"{root_gap:g} mm", f"larger than the {outer:g} mm side it is taken from")
    return Piece(section, length, Cut(before.miter_b), Cut(after.miter_a), at="moving-bottom")


def _sides(section: Section | Sequence[Section]) -> list[Section]:
    given = [section] if isinstance(section, Section) else list(section)
    if len(given) not in (1, 2, 4):
        raise BadInput("section", f"{len(given)} sections", "a rectangle takes 1, 2 (width, height) or 4")
    return given * (4 // len(given))


def _refuse(**sizes: float) -> None:
    for name, size in sizes.items():
        if not (isfinite(size) and size > 0):
            raise BadInput(name, size, "must be more than 0 mm")
