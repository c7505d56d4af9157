"""The four ways a piece may lie on a bar, what each does to its cuts and what it asks of the section."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.cut import Cut

_NEEDS: Final[Mapping[str, str]] = {
    "as-drawn": "",
    "end-for-end": "left-right",
    "rolled": "half-turn",
    "end-for-end-rolled": "top-bottom",
}

POSES: Final = tuple(_NEEDS)
"""As drawn; half turn about the vertical; half turn about the bar's axis; half turn about the cross axis."""

TURNED: Final = ("end-for-end", "end-for-end-rolled")
"""Poses in which the two ends change places."""

OTHER_END: Final[Mapping[str, str]] = {"left": "right", "right": "left"}

ROLLED: Final = ("rolled", "end-for-end-rolled")
"""Poses in which the top of the piece as drawn lies below."""


def allowed(pose: str, symmetry: frozenset[str]) -> bool:
    """Whether a section of this symmetry looks the same after the motion of `pose`."""
    return not _NEEDS[pose] or _NEEDS[pose] in symmetry


def posed(pose: str, left: Cut, right: Cut) -> tuple[Cut, Cut]:
    """The left and right cut as they stand in `pose`."""
    if pose == "as-drawn":
        return left, right
    if pose == "end-for-end":
        return Cut(-right.miter, right.bevel), Cut(-left.miter, left.bevel)
    if pose == "rolled":
        return left.reversed, right.reversed
    if pose == "end-for-end-rolled":
        return Cut(right.miter, -right.bevel), Cut(left.miter, -left.bevel)
    raise BadInput("pose", pose, f"allowed: {', '.join(POSES)}")
