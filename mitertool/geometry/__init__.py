"""Plane geometry of lines and arcs in (y, z): outlines and cutting planes; it knows nothing of steel."""

from mitertool.base.doors import door
from mitertool.geometry.ellipse import EllipseArc, FaceLine, image_of
from mitertool.geometry.outline import rounded
from mitertool.geometry.region import Loop, Region
from mitertool.geometry.segments import Arc, Line, Point, Segment

TYPE_CHECKING = False
if TYPE_CHECKING:
    from mitertool.geometry.dxf_lines import read_polygon
    from mitertool.geometry.dxf_outline import drawn_outline, read_outline, refuse_huge

__all__ = [
    "Arc",
    "EllipseArc",
    "FaceLine",
    "Line",
    "Loop",
    "Point",
    "Region",
    "Segment",
    "drawn_outline",
    "image_of",
    "read_outline",
    "read_polygon",
    "refuse_huge",
    "rounded",
]

__getattr__ = door(__name__, {"dxf_lines": "read_polygon", "dxf_outline": "drawn_outline read_outline refuse_huge"})
