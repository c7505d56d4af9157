"""A neutral drawing, in mm and y up, and one writer a format; has never heard of metal.

The writers are the modules `pdf`, `dxf`, `svg` and `png`; each loads its library when it is first asked for.
"""

from mitertool.base.doors import door

TYPE_CHECKING = False
if TYPE_CHECKING:
    from mitertool.drawing import dxf, pdf, png, svg
    from mitertool.drawing.checks import Entity
    from mitertool.drawing.dimensions import AngleDimension, Dimension
    from mitertool.drawing.drawing import Drawing, TextBox
    from mitertool.drawing.entities import Arc, EllipseArc, Line, Polygon, Polyline, Primitive, Text
    from mitertool.drawing.layers import (
        CENTER,
        DIMENSION,
        FILL,
        FRAME,
        HIDDEN,
        MARKED,
        MOVED,
        OUTLINE,
        TEXT,
        THIN,
        WRONG,
        Layer,
    )
    from mitertool.drawing.lettering import fit, shorten, text_width, wrap, wrap_evenly
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
    "MARKED",
    "MOVED",
    "OUTLINE",
    "TEXT",
    "THIN",
    "WRONG",
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
    "Polyline",
    "Primitive",
    "Text",
    "TextBox",
    "dxf",
    "fit",
    "pdf",
    "png",
    "shorten",
    "svg",
    "text_width",
    "wrap",
    "wrap_evenly",
]

__getattr__ = door(
    __name__,
    {
        "checks": "Entity",
        "dimensions": "AngleDimension Dimension",
        "drawing": "Drawing TextBox",
        "entities": "Arc EllipseArc Line Polygon Polyline Primitive Text",
        "layers": "CENTER DIMENSION FILL FRAME HIDDEN MARKED MOVED OUTLINE TEXT THIN WRONG Layer",
        "lettering": "fit shorten text_width wrap wrap_evenly",
        "pages": "A4 LETTER Page",
        "vectors": "Point",
    },
    modules="dxf pdf png svg",
)
