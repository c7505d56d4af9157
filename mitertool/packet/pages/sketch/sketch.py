"""The DXF sketch of a mark: views at 1:1 with true dimensions, both faces, a title; and all marks in one drawing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import sqrt
from typing import Final

from mitertool.base.totals import summed
from mitertool.drawing import Drawing, Point
from mitertool.job import SolvedPiece
from mitertool.job.orders import Head
from mitertool.packet.pages.sketch.ends import turned_ends
from mitertool.packet.pages.sketch.faces import faces
from mitertool.packet.pages.sketch.title import WIDTH, title
from mitertool.packet.pages.sketch.two_views import views

_STEPS: Final = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0)
_SCALES: Final = tuple(step * ten for ten in (0.1, 1.0, 10.0, 100.0) for step in _STEPS)
_LENGTH: Final = 300.0
_HEIGHT: Final = 50.0
"""Paper mm that the longest view and a section may take: the whole then prints on A3 at full size, on A4 with
lettering one size smaller."""

_GAP: Final = 12.0
_APART: Final = 40.0
"""Paper mm between the parts of a sketch, and between two sketches."""

_WIDE: Final = 1.3
"""How much wider the rows of all sketches are than a square of as much room: some of a row stays empty."""

Box = tuple[float, float, float, float]


def lettering_scale(solved: SolvedPiece) -> float:
    """How much larger than on paper the lettering stands in the model, so that a whole sketch prints readable."""
    section = solved.piece.section
    need = max(solved.piece.overall / _LENGTH, section.width / _HEIGHT, section.height / _HEIGHT)
    return next((scale for scale in _SCALES if scale >= need), _SCALES[-1])


def mark_sketch(solved: SolvedPiece, head: Head, made_from: str = "") -> Drawing:
    """All views of a mark with dimensions and a title, its upper left corner at (0, 0); mm of steel."""
    return paper_sketch(solved, head, made_from).scaled(lettering_scale(solved))


def paper_sketch(solved: SolvedPiece, head: Head, made_from: str = "") -> Drawing:
    """The sketch in mm of paper: top view, front view below it, then the faces, the title at the lower right.

    Ends that are turned against each other are seen from the left end beside the title.
    """
    piece, k = solved.piece, lettering_scale(solved)
    top, front = views(piece, k, head.units, solved.places)
    ends = turned_ends(piece, k)
    parts = [top, front, faces(piece, k, head.units, solved.order.shows == "top"), title(solved, head, made_from)]
    boxes = [part.bounds() for part in parts]
    beside = _wide(ends) + _GAP if ends.entities else 0.0
    left = min(boxes[0][0], boxes[1][0])
    right = max(boxes[0][2] - left, boxes[1][2] - left, boxes[2][2], beside + WIDTH)
    whole, y = Drawing(), 0.0
    for part, x, (_, low, _, high) in zip(parts, (-left, -left, 0.0, right - WIDTH), boxes, strict=True):
        whole += part.moved(x, y - high)
        y -= high - low + _GAP
    return whole + _hung(ends, y + _GAP + _tall(boxes[-1])) if ends.entities else whole


def in_rows(boxes: Sequence[Box], scales: Sequence[float]) -> Iterator[Point]:
    """By how much each sketch is moved in the drawing of all, in their order, row by row; mm of steel.

    Given are their boxes, left, low, right, high, and lettering scales.
    """
    pairs = zip(boxes, scales, strict=True)
    rooms = [(x1 - x0 + _APART * k, y1 - y0 + _APART * k) for (x0, y0, x1, y1), k in pairs]
    across = max((_WIDE * sqrt(summed(wide * high for wide, high in rooms)), *(wide for wide, _ in rooms)))
    x = y = deep = 0.0
    for (wide, high), (left, _, _, top) in zip(rooms, boxes, strict=True):
        if x + wide > across:
            x, y, deep = 0.0, y - deep, 0.0
        yield x - left, y - top
        x, deep = x + wide, max(deep, high)


def _wide(drawing: Drawing) -> float:
    x0, _, x1, _ = drawing.bounds()
    return x1 - x0


def _tall(box: tuple[float, float, float, float]) -> float:
    return box[3] - box[1]


def _hung(drawing: Drawing, y: float) -> Drawing:
    """The drawing with the upper left corner of its box at (0, y)."""
    x0, _, _, y1 = drawing.bounds()
    return drawing.moved(-x0, y - y1)
