"""The section as it lies and both end faces in true shape, for the sketch of a mark; knows views. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mitertool.cut import Cut
from mitertool.cut.plane import CutPlane
from mitertool.drawing import Dimension, Drawing, Point, Text, text_width
from mitertool.geometry import Region
from mitertool.packet.pages.sketch.two_views import CAPTION, LETTERS, center_lines
from mitertool.packet.paper.views import end_view, face_view
from mitertool.piece import Piece
from mitertool.quantity import Units, show_length
from mitertool.sections import Section
from mitertool.words import phrase

_CLEAR: Final = 9.0
_BETWEEN: Final = 12.0
_PITCH: Final = 6.0
_ABOVE: Final = 2.0


def faces(piece: Piece, k: float, units: Units, outside_up: bool = False) -> Drawing:
    """Left face, section, right face side by side, hanging from (0, 0); each face as one who looks at it sees it.

    `outside_up` is whether the top of the section is the outside of a hopper, which is then written over it.
    """
    fixed_left, fixed_right = phrase("sketch.fixed-left"), phrase("sketch.fixed-right")
    parts = [
        *_end_faces(piece, "left", fixed_right, k, units),
        (
            _section(piece.section, k, units, outside_up),
            (phrase("sketch.as-it-lies"), phrase("sketch.from-right", jaw=fixed_left)),
        ),
        *_end_faces(piece, "right", fixed_left, k, units),
    ]
    boxes = [drawing.bounds() for drawing, _ in parts]
    tall = max(y1 - y0 for _, y0, _, y1 in boxes)
    row, x = Drawing(), 0.0
    for (drawing, words), (x0, y0, x1, _) in zip(parts, boxes, strict=True):
        named = drawing.moved(-x0, -y0) + _names(words)
        row += named.moved(x, -tall)
        x += max(x1 - x0, *(text_width(word, CAPTION) for word in words)) + _BETWEEN
    return row


def _names(words: tuple[str, ...]) -> Drawing:
    return Drawing(Text((0, -_PITCH * (i + 1)), line, CAPTION) for i, line in enumerate(words))


def _end_faces(piece: Piece, end: str, seen: str, k: float, units: Units) -> Iterator[tuple[Drawing, tuple[str, str]]]:
    """The face of each cut of an end, seen toward it, with its names."""
    facets = piece.end_roof(end).facets
    for number, (cut, facet) in enumerate(zip(piece.cuts(end), facets, strict=True), 1):
        code = "sketch.end-face" if len(facets) == 1 else "sketch.cut-face"
        name = phrase(code, end=phrase(f"end.{end}"), cut=number)
        region = None if len(facets) == 1 else facet.region
        face = _left_face if end == "left" else true_face
        yield face(cut, piece.section, region, k, units), (name, seen)


def _left_face(cut: Cut, section: Section, region: Region | None, k: float, units: Units) -> Drawing:
    """Seen from the left end, the bar turned end for end: its section mirrored, its miter the other way."""
    mirrored = region and region.mirrored().moved(section.width, 0.0)
    return true_face(Cut(-cut.miter, cut.bevel), section.lay(turned=True), mirrored, k, units)


def true_face(cut: CutPlane, section: Section, region: Region | None, k: float, units: Units) -> Drawing:
    """The face of a cut, or of a region of it, with its width and height, the corner of its box at (0, 0)."""
    drawing = face_view(cut, section, region).scaled(1 / k)
    x0, y0, x1, y1 = drawing.bounds()
    dimensions = _extent((x1 - x0, y1 - y0), (phrase("sketch.face-width"), phrase("sketch.face-height")), k, units)
    drawing = drawing.moved(-x0, -y0) + dimensions
    return drawing if cut.miter or cut.bevel or region else drawing + center_lines(section, k)


def _section(section: Section, k: float, units: Units, outside_up: bool) -> Drawing:
    size = (section.width / k, section.height / k)
    drawing = end_view(section).scaled(1 / k) + _extent(
        size, (phrase("dimension.width"), phrase("dimension.height")), k, units
    )
    if outside_up:
        drawing += Drawing([Text((0, size[1] + _ABOVE), phrase("sketch.outside-up"), LETTERS, bold=True)])
    return drawing + center_lines(section, k)


def _extent(size: Point, words: tuple[str, str], k: float, units: Units) -> Drawing:
    """The level and the upright dimension of a shape of this size, its corner at (0, 0)."""
    x, y = size
    level, upright = (f"{word} {show_length(length * k, units)}" for word, length in zip(words, size, strict=True))
    return Drawing(
        [
            Dimension((0, 0), (x, 0), -_CLEAR, level, LETTERS, along=0.0),
            Dimension((0, 0), (0, y), _CLEAR, upright, LETTERS, along=90.0),
        ]
    )
