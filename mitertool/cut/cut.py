"""The cut: a plane through the bar and the face that it makes; knows sections through its face only."""

from __future__ import annotations

import attrs

from mitertool.cut.face import Face
from mitertool.cut.plane import CutPlane
from mitertool.sections import Section


@attrs.frozen
class Cut(CutPlane):
    """A cut by miter and bevel, degrees from a square cut.

    At a right end the plane is x = s + p*y + q*z, at a left end x = -p*y - q*z: at either end a positive
    miter puts the long point on the moving side, a positive bevel puts it at the top. Raises `BadInput` for
    angles at or past 90.

    >>> mt.Cut.from_slopes(p=1, q=0)
    Cut(miter=45.0, bevel=0.0)
    >>> round(mt.Cut(60).kerf_along(1.3), 9)
    2.6
    """

    def face(self, section: Section) -> Face:
        """The true shape of `section` in the plane of the cut."""
        return Face(section, self)
