"""Pages as PDF, in mm and the core fonts; the one module that knows reportlab."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from io import BytesIO
from typing import Any, Final

from reportlab import rl_config
from reportlab.pdfbase.pdfmetrics import getRegisteredFontNames, registerFont, stringWidth
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from mitertool.base.faces import Typeface, runs
from mitertool.base.totals import summed
from mitertool.drawing.curves import Curve
from mitertool.drawing.entities import Arc, EllipseArc, Line, Polygon, Polyline, Primitive, Text
from mitertool.drawing.helvetica import REGULAR
from mitertool.drawing.layers import Layer
from mitertool.drawing.lettering import font_size, in_helvetica
from mitertool.drawing.pages import Page
from mitertool.drawing.vectors import Point, direction

_POINTS: Final = 72.0 / 25.4
"""PDF points in a mm."""

_ESCAPES: Final = {
    **{ord(sign): f"\\{sign.encode('cp1252')[0]:03o}" for sign in REGULAR if not " " <= sign <= "~"},
    **{ord(sign): f"\\{sign}" for sign in "()\\"},
}
"""A character as it stands in a PDF string in WinAnsi encoding, where it is not itself."""


def write(pages: Iterable[Page], title: str, subject: str = "") -> bytes:
    """The pages as one PDF file; the same pages give the same bytes (no dates, no random names).

    Text is set in Helvetica; one with characters outside WinAnsi in the faces that have them, embedded in part.
    """
    buffer = BytesIO()
    with _binary_streams():
        canvas = Canvas(buffer, invariant=1, pageCompression=1)
        canvas.setTitle(title)
        canvas.setSubject(subject)
        for page in pages:
            canvas.setPageSize((page.width * _POINTS, page.height * _POINTS))
            canvas.scale(_POINTS, _POINTS)
            _paint(canvas, page.drawing.primitives())
            canvas.showPage()
        canvas.save()
    return buffer.getvalue()


@contextmanager
def _binary_streams() -> Iterator[None]:
    # reportlab's text form of a stream takes longer than all the rest of a page and makes the file larger.
    before = rl_config.useA85
    rl_config.useA85 = 0
    try:
        yield
    finally:
        rl_config.useA85 = before


def _paint(canvas: Any, primitives: Iterable[Primitive]) -> None:
    fonts = _core_fonts(canvas)
    pen = None
    for part in primitives:
        if not isinstance(part, Text):
            if part.layer != pen:
                pen = part.layer
                canvas.addLiteral(_pen(pen))
            canvas.addLiteral(_shape(part))
        elif in_helvetica(part.says):
            canvas.addLiteral(_core_text(part, fonts[part.bold]))
        else:
            _embedded_text(canvas, part)


def _core_fonts(canvas: Any) -> tuple[str, str]:
    # The names that the file gives its fonts: the library's own way to set a text takes four times as long.
    regular, bold = map(canvas._doc.getInternalFontName, ("Helvetica", "Helvetica-Bold"))
    return regular, bold


def _pen(layer: Layer) -> str:
    cap = 0 if layer.dashes else 1
    dashes = " ".join(f"{length:.3f}" for length in layer.dashes)
    return f"{layer.weight:.3f} w {cap} J 1 j [{dashes}] 0 d {layer.grey:.3f} G"


def _shape(part: Line | Arc | EllipseArc | Polygon | Polyline) -> str:
    match part:
        case Line(a, b):
            return f"{_at(a)} m {_at(b)} l {_stroke(part.layer)}"
        case Polygon():
            return _polygon(part)
        case Polyline():
            return f"{_path(part.points)} {_stroke(part.layer)}"
        case _:
            return f"{_curve(part.curve)} {_stroke(part.layer)}"


def _stroke(layer: Layer) -> str:
    return "S" if layer.weight else "n"


def _curve(curve: Curve) -> str:
    bends = (f"{_at(first)} {_at(second)} {_at(end)} c" for first, second, end in curve.beziers())
    return " ".join((_at(curve.ends()[0]), "m", *bends, *("h" for _ in range(curve.closed))))


def _polygon(polygon: Polygon) -> str:
    path = f"{_path(polygon.points)} h"
    if polygon.fill is None:
        return f"{path} {_stroke(polygon.layer)}"
    return f"{polygon.fill:.3f} g {path} {'B' if polygon.layer.weight else 'f'}"


def _path(points: Sequence[Point]) -> str:
    outline = " l ".join(map(_at, points[1:]))
    return f"{_at(points[0])} m {outline} l"


def _at(p: Point) -> str:
    return f"{p[0]:.4f} {p[1]:.4f}"


def _core_text(text: Text, font: str) -> str:
    x, y = direction(text.turn)
    place = f"{x:.6f} {y:.6f} {-y:.6f} {x:.6f} {_at(text.origin)} Tm"
    look = f"{text.layer.grey:.3f} g {font} {font_size(text.height):.4f} Tf"
    return f"BT {look} {place} ({text.says.translate(_ESCAPES)}) Tj ET"


def _embedded_text(canvas: Any, text: Text) -> None:
    """Set a text in the faces that have its letters, widened or narrowed to the length of the text."""
    stretches = [(_registered(face), text.height / face.cap, says) for face, says in runs(text.says, text.bold)]
    natural = summed(stringWidth(says, name, size) for name, size, says in stretches)
    x, y = direction(text.turn)
    wide = text.width / natural if natural else 1.0
    line = canvas.beginText()
    line.setFillGray(text.layer.grey)
    line.setTextTransform(wide * x, wide * y, -y, x, *text.origin)
    for name, size, says in stretches:
        line.setFont(name, size)
        line.textOut(says)
    canvas.drawText(line)


def _registered(face: Typeface) -> str:
    if face.name not in getRegisteredFontNames():
        registerFont(TTFont(face.name, str(face.file), subfontIndex=0))
    return face.name
