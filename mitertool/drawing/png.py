"""A drawing as a PNG picture; the one module that knows matplotlib."""

from __future__ import annotations

import math
import warnings
from io import BytesIO
from typing import Any, Final

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.patches import PathPatch
from matplotlib.path import Path
from matplotlib.textpath import TextToPath
from matplotlib.transforms import Affine2D

from mitertool.base.errors import BadInput
from mitertool.base.faces import Typeface, runs
from mitertool.drawing.curves import Curve
from mitertool.drawing.drawing import Drawing
from mitertool.drawing.entities import Arc, EllipseArc, Line, Polygon, Polyline, Primitive, Text
from mitertool.drawing.vectors import direction
from mitertool.words import phrase

_MOST_PIXELS: Final = 20_000
"""A side of a picture; the drawing library stops soon above, and no viewer shows more."""

_PART: Final = 1e-3
"""Part of a pixel that rounding may add to a size, or that the library must not cut a whole pixel off for."""

_POINTS: Final = 72.0 / 25.4
"""Points, the library's unit of pen widths, in a mm."""


def write(drawing: Drawing, margin: float = 5.0, dpi: float = 150) -> bytes:
    """The drawing with `margin` mm around it, `dpi` pixels an inch; the same drawing gives the same bytes.

    Raises `BadInput` where a side would be longer than 20 000 pixels.
    """
    x0, y0, x1, y1 = drawing.bounds()
    across, up = (math.ceil((side + 2 * margin) / 25.4 * dpi - _PART) for side in (x1 - x0, y1 - y0))
    _refuse_large(max(across, up))
    figure = Figure(figsize=((across + _PART) / dpi, (up + _PART) / dpi), dpi=dpi, facecolor="white")
    place = Affine2D().translate(margin - x0, margin - y0).scale(dpi / 25.4)
    for part in drawing.primitives():
        figure.add_artist(_artist(part, place))
    buffer = BytesIO()
    canvas: Any = FigureCanvasAgg(figure)
    canvas.print_png(buffer, metadata={"Software": None})
    return buffer.getvalue()


def _refuse_large(pixels: int) -> None:
    if pixels > _MOST_PIXELS:
        raise BadInput(phrase("drawing.pixels"), pixels, phrase("limits.most", most=_MOST_PIXELS))


def _artist(part: Primitive, place: Any) -> Any:
    layer = part.layer
    if isinstance(part, Text):
        return PathPatch(_letters(part), transform=place, facecolor=str(layer.grey), linewidth=0)
    fill = getattr(part, "fill", None)
    return PathPatch(
        _path(part),
        transform=place,
        facecolor="none" if fill is None else str(fill),
        edgecolor=str(layer.grey) if layer.weight else "none",
        linewidth=layer.weight * _POINTS,
        linestyle=(0, tuple(length / layer.weight for length in layer.dashes)) if layer.dashes else "solid",
        capstyle="butt" if layer.dashes else "round",
        joinstyle="round",
    )


def _path(part: Line | Arc | EllipseArc | Polygon | Polyline) -> Any:
    match part:
        case Line(a, b):
            return Path([a, b])
        case Polygon(points):
            return Path([*points, points[0]], closed=True)
        case Polyline(points):
            return Path(points)
        case _:
            return _bends(part.curve)


def _bends(curve: Curve) -> Any:
    points = [curve.ends()[0], *(point for bezier in curve.beziers() for point in bezier)]
    return Path(points, [Path.MOVETO, *[Path.CURVE4] * (len(points) - 1)])


def _letters(text: Text) -> Any:
    """The outline of the letters in the faces that have them, in mm, brought to the text's width."""
    stretches, natural = [], 0.0
    for face, says in runs(text.says, text.bold):
        (vertices, codes), advance, em = _laid_out(says, face)
        high = text.height / (face.cap * em)
        stretches.append(Path(vertices, codes).transformed(Affine2D.from_values(high, 0, 0, high, natural, 0)))
        natural += high * advance
    wide = text.width / natural if natural else 1.0
    x, y = direction(text.turn)
    turn = Affine2D.from_values(wide * x, wide * y, -y, x, *text.origin)
    return Path.make_compound_path(*stretches).transformed(turn)


def _laid_out(says: str, face: Typeface) -> tuple[Any, float, float]:
    """The outline of a text in one face from the origin, its advance width, and the font size of both."""
    shaper = TextToPath()
    font = FontProperties(fname=str(face.file))
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", message="Glyph .* missing from font")
        # The library tells the width of the ink only: a letter set behind the text shows how far it advanced.
        with_letter, letter = (shaper.get_text_path(font, word)[0] for word in (says + "H", "H"))
        outline = shaper.get_text_path(font, says)
    return outline, max(x for x, _ in with_letter) - max(x for x, _ in letter), shaper.FONT_SCALE
