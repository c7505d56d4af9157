"""A rectangular frame from outside, inside or centerline sizes; knows polygons and rings."""

from __future__ import annotations

from collections.abc import Sequence

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.frame.assembly import Assembly, Resolution
from mitertool.frame.corner_work import CornerWork
from mitertool.frame.in_plane import planar
from mitertool.frame.joints import FIRST_THROUGH, MITER, SECOND_THROUGH
from mitertool.frame.sizes import refuse_no_size
from mitertool.sections import Section
from mitertool.words import phrase

CORNERS = ("miter", "butt")
THROUGH = ("width", "height")


def rectangle(
    section: Section | Sequence[Section],
    width: float,
    height: float,
    measured: str,
    root_gap: float = 0.0,
    mark: str = "FRAME",
    resolution: Resolution | None = None,
    corners: str = "miter",
    through: str = "width",
    worked: CornerWork | None = None,
) -> Assembly:
    """A rectangle of `width` by `height` (mm), measured on a line that `planar` knows.

    `section` is one section as it lies, or one for each side in walking order (width, height, width, height), or
    one for the width sides and one for the height sides. Corners are mitered, or butted with the `through` sides,
    "width" or "height", running through, and `worked` after the saw. Raises `BadInput` for sizes that leave no piece.

    >>> mt.frame.rectangle(mt.flat(80, 12), 2000, 1000, "outside")
    <Assembly FRAME, rectangle: FRAME-1, FRAME-2, FRAME-1, FRAME-2; gap 0.000 mm>
    """
    refuse_no_size(width=width, height=height)
    points = (complex(0, height), complex(width, height), complex(width, 0), 0j)
    sides, how = _sides(section), worked or CornerWork()
    kinds = _kinds(corners, through)
    through_width = sides[0 if through == "width" else 1].width
    joints = [how.joint(kind, root_gap, through_width) for kind in kinds]
    return planar("rectangle", points, sides, measured, joints, True, mark, resolution)


def _kinds(corners: str, through: str) -> tuple[str, ...]:
    """The kind of each corner in walking order; the first side is a width side."""
    if corners not in CORNERS:
        raise BadInput("corners", corners, among(CORNERS))
    if through not in THROUGH:
        raise BadInput("through", through, among(THROUGH))
    if corners == "miter":
        return (MITER,) * 4
    return (FIRST_THROUGH, SECOND_THROUGH) * 2 if through == "width" else (SECOND_THROUGH, FIRST_THROUGH) * 2


def _sides(section: Section | Sequence[Section]) -> list[Section]:
    given = [section] if isinstance(section, Section) else list(section)
    if len(given) not in (1, 2, 4):
        raise BadInput("section", phrase("found.sections", count=len(given)), phrase("refuse.rectangle-sections"))
    return given * (4 // len(given))
