"""The picture by which a value shows itself in a notebook, as SVG; lengths are in mm. Knows sheet, sketch and views."""

from __future__ import annotations

from functools import singledispatch
from typing import Final

from mitertool.cut import Face
from mitertool.drawing import Drawing, Text
from mitertool.drawing.svg import write
from mitertool.frame import Assembly
from mitertool.nest import Plan
from mitertool.packet.pages.fitter.picture import frame_drawing
from mitertool.packet.pages.section_sheet import drawing_scale, section_drawing
from mitertool.packet.pages.sheet.bar_strip import strip_block
from mitertool.packet.pages.sketch.faces import true_face
from mitertool.packet.pages.sketch.two_views import views
from mitertool.packet.words import section_words
from mitertool.piece import Piece
from mitertool.sections import Section
from mitertool.words import phrase

_WIDE: Final = 180.0
_HIGH: Final = 50.0
"""Paper mm that the longest side of a piece or a bar, and the height of a section in a view may take."""

_FACE: Final = 90.0
"""Paper mm of the larger side of a face."""

_APART: Final = 8.0
_TITLE: Final = 3.5


def svg(value: object) -> str:
    """The picture of a section, face, piece, frame or plan as one SVG element, lengths in mm.

    Raises `TypeError` for a value that has none.

    >>> mt.svg(mt.flat(80, 12)).startswith("<svg")
    True
    """
    return write(picture(value)).decode()


@singledispatch
def picture(value: object) -> Drawing:
    """The drawing of a value, paper mm. Raises `TypeError` for one that has none."""
    raise TypeError(f"a {type(value).__name__} has no picture")


@picture.register
def _(value: Section) -> Drawing:
    return section_drawing(value, "mm").scaled(1 / drawing_scale(value))


@picture.register
def _(value: Face) -> Drawing:
    k = max(value.width, value.height) / _FACE
    return true_face(value.cut, value.section, None, k, "mm")


@picture.register
def _(value: Piece) -> Drawing:
    section = value.section
    k = max(value.overall / _WIDE, section.width / _HIGH, section.height / _HIGH)
    above, front = views(value, k, "mm")
    return above + front.moved(0.0, above.bounds()[1] - front.bounds()[3] - _APART)


@picture.register
def _(value: Assembly) -> Drawing:
    return frame_drawing(value, "mm")


@picture.register
def _(value: Plan) -> Drawing:
    """The bars one below the other, as they run from the right."""
    longest = max((bar.stock_length for bar in value.bars), default=0.0)
    whole, low = Drawing(), 0.0
    for number, bar in enumerate(value.bars, 1):
        title = phrase("sheet.picture-of-bar", number=number, count=bar.count, section=section_words(bar.section))
        block = strip_block(bar, None, _WIDE, longest)
        whole += Drawing([Text((0.0, low - _TITLE), title, _TITLE)]) + block.drawing.moved(0.0, low - 1.5 * _TITLE)
        low -= block.height + 1.5 * _TITLE + _APART / 2
    return whole
