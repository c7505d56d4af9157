"""Plane geometry of lines and arcs in (y, z): outlines, bands and cutting planes; it knows nothing of steel."""

from mitertool.geometry.bands import Band, bands, chord, extremes, spans_at
from mitertool.geometry.ellipse import EllipseArc, FaceLine, image_of
from mitertool.geometry.outline import rounded
from mitertool.geometry.region import Loop, Region
from mitertool.geometry.segments import Arc, Line, Point, Segment

__all__ = [
    "Arc",
    "Band",
    "EllipseArc",
    "FaceLine",
    "Line",
    "Loop",
    "Point",
    "Region",
    "Segment",
    "bands",
    "chord",
    "extremes",
    "image_of",
    "rounded",
    "spans_at",
]
