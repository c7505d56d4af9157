"""The section as it lies and both end faces in true shape, for the sketch of a mark; knows views. Paper mm."""

from __future__ import annotations

from typing import Final

from mitertool.cut import Cut
from mitertool.drawing import Dimension, Drawing, Text
from mitertool.packet.sketch_views import CAPTION, LETTERS, center_lines
from mitertool.packet.views import end_view, face_view
from mitertool.piece import Piece
from mitertool.quantity import Units, show_length
from mitertool.sections import Section

_CLEAR: Final = 9.0
_BETWEEN: Final = 12.0
_PITCH: Final = 6.0


def faces(piece: Piece, k: float, units: Units) -> Drawing:
    """Left face, section, right face side by side, hanging from (0, 0); each face as one who looks at it sees it."""
    fixed_left, fixed_right = "fixed jaw on the left", "fixed jaw on the right"
    parts = (
        (_left_face(piece, k, units), ("left end face, true shape", fixed_right)),
        (_section(piece.section, k, units), ("section as it lies,", f"from the right, {fixed_left}")),
        (_face(piece.right, piece.section, k, units), ("right end face, true shape", fixed_left)),
    )
    tall = max(drawing.bounds()[3] - drawing.bounds()[1] for drawing, _ in parts)
    row, x = Drawing(), 0.0
    for drawing, words in parts:
        x0, y0, x1, _ = (drawing := _named(drawing, words)).bounds()
        row += drawing.moved(x - x0, -tall - 2 * _PITCH - y0)
        x += x1 - x0 + _BETWEEN
    return row


def _named(drawing: Drawing, words: tuple[str, str]) -> Drawing:
    x, low, _, _ = drawing.bounds()
    return drawing + Drawing(Text((x, low - _PITCH * (i + 1)), line, CAPTION) for i, line in enumerate(words))


def _left_face(piece: Piece, k: float, units: Units) -> Drawing:
    """Seen from the left end, the bar turned end for end: its section mirrored, its miter the other way."""
    return _face(Cut(-piece.left.miter, piece.left.bevel), piece.section.lay(turned=True), k, units)


def _face(cut: Cut, section: Section, k: float, units: Units) -> Drawing:
    drawing = face_view(cut, section).scaled(1 / k)
    x, y, _, _ = drawing.bounds()
    sized = _sized(drawing.moved(-x, -y), ("face width", "face height"), k, units)
    return sized if cut.miter or cut.bevel else sized + center_lines(section, k)


def _section(section: Section, k: float, units: Units) -> Drawing:
    return _sized(end_view(section).scaled(1 / k), ("width", "height"), k, units) + center_lines(section, k)


def _sized(drawing: Drawing, words: tuple[str, str], k: float, units: Units) -> Drawing:
    """The shape, its corner at (0, 0), with its extent level and upright."""
    _, _, x, y = drawing.bounds()
    level, upright = (f"{word} {show_length(size * k, units)}" for word, size in zip(words, (x, y), strict=True))
    return drawing + Drawing(
        [
            Dimension((0, 0), (x, 0), -_CLEAR, level, LETTERS, along=0.0),
            Dimension((0, 0), (0, y), _CLEAR, upright, LETTERS, along=90.0),
        ]
    )
