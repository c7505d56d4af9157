"""Plane geometry of lines and arcs in (y, z): outlines and cutting planes; it knows nothing of steel."""

from mitertool.geometry.ellipse import EllipseArc, FaceLine, image_of
from mitertool.geometry.outline import rounded
from mitertool.geometry.region import Loop, Region
from mitertool.geometry.segments import Arc, Line, Point, Segment

__all__ = [
    "Arc",
    "EllipseArc",
    "FaceLine",
    "Line",
    "Loop",
    "Point",
    "Region",
    "Segment",
    "image_of",
    "rounded",
]
