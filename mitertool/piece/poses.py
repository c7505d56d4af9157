"""The four ways a piece may lie on a bar, what each does to its cuts and what it asks of the section."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.cut import Cut
from mitertool.cut.ends import Further
from mitertool.geometry import Point
from mitertool.sections import Section

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

ACROSS: Final = ("end-for-end", "rolled")
"""Poses in which the fixed side of the piece as drawn lies on the moving side."""


def end_in(pose: str, end: str) -> str:
    """Which end as it lies in a pose is that of the drawing, and which of the drawing is that as it lies."""
    return OTHER_END[end] if pose in TURNED else end


def one_after_other(first: str, then: str) -> str:
    """The pose that both motions come to, in either order."""
    turned, rolled = ((first in group) != (then in group) for group in (TURNED, ROLLED))
    return next(pose for pose in POSES if (pose in TURNED, pose in ROLLED) == (turned, rolled))


HALF_OVER: Final[Mapping[str, str]] = {pose: one_after_other(pose, "rolled") for pose in POSES}
"""Every pose half a turn over about the bar's own axis."""


def opposite_mark(mark: str) -> str:
    """The mark of the opposite hand, of a piece and of a frame."""
    return f"{mark}-OH"


EndCuts = tuple[Cut, tuple[Further, ...]]
"""The first cut of an end and the further ones."""


def allowed(pose: str, symmetry: frozenset[str]) -> bool:
    """Whether a section of this symmetry looks the same after the motion of `pose`."""
    return not _NEEDS[pose] or _NEEDS[pose] in symmetry


def posed(pose: str, left: EndCuts, right: EndCuts, section: Section) -> tuple[EndCuts, EndCuts]:
    """The cuts of the left and of the right end as they stand in `pose`."""
    if pose not in POSES:
        raise BadInput("pose", pose, among(POSES))
    ends = _lying(pose, left, section), _lying(pose, right, section)
    return ends[::-1] if pose in TURNED else ends


def _lying(pose: str, end: EndCuts, section: Section) -> EndCuts:
    first, further = end
    across, over = pose in ACROSS, pose in ROLLED

    def cut(one: Cut) -> Cut:
        return Cut(-one.miter if across else one.miter, -one.bevel if over else one.bevel)

    def place(y: float, z: float) -> Point:
        return (section.width - y if across else y, section.height - z if over else z)

    return cut(first), tuple(Further(cut(one.cut), place(*one.place(section, first))) for one in further)
