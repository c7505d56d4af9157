"""A neutral drawing, in mm and y up, and one writer a format; has never heard of metal.

The writers are the modules `pdf`, `dxf`, `svg` and `png`; importing this package loads none
of their libraries.
"""

from mitertool.drawing.checks import Entity
from mitertool.drawing.dimensions import AngleDimension, Dimension
from mitertool.drawing.drawing import Drawing, TextBox
from mitertool.drawing.entities import Arc, EllipseArc, Line, Polygon, Primitive, Text
from mitertool.drawing.explode import explode
from mitertool.drawing.layers import CENTER, DIMENSION, FILL, FRAME, HIDDEN, OUTLINE, TEXT, THIN, Layer
from mitertool.drawing.lettering import fit, shorten, text_width, wrap
from mitertool.drawing.pages import A4, LETTER, Page
from mitertool.drawing.vectors import Point

__all__ = [
    "A4",
    "CENTER",
    "DIMENSION",
    "FILL",
    "FRAME",
    "HIDDEN",
    "LETTER",
    "OUTLINE",
    "TEXT",
    "THIN",
    "AngleDimension",
    "Arc",
    "Dimension",
    "Drawing",
    "EllipseArc",
    "Entity",
    "Layer",
    "Line",
    "Page",
    "Point",
    "Polygon",
    "Primitive",
    "Text",
    "TextBox",
    "explode",
    "fit",
    "shorten",
    "text_width",
    "wrap",
]
