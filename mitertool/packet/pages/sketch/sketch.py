"""The DXF sketch of a mark: views at 1:1 with true dimensions, both faces, a title; and all marks in one drawing."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, sqrt
from typing import Final

from mitertool.drawing import Drawing
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


def lettering_scale(solved: SolvedPiece) -> float:
    """How much larger than on paper the lettering stands in the model, so that a whole sketch prints readable."""
    section = solved.piece.section
    need = max(solved.piece.overall / _LENGTH, section.width / _HEIGHT, section.height / _HEIGHT)
    return next((scale for scale in _SCALES if scale >= need), _SCALES[-1])


def mark_sketch(solved: SolvedPiece, head: Head, made_from: str = "") -> Drawing:
    """All views of a mark with dimensions and a title, its upper left corner at (0, 0); mm of steel."""
    k = lettering_scale(solved)
    return _on_paper(solved, head, made_from, k).scaled(k)


def common_scale(pieces: Sequence[SolvedPiece]) -> float:
    """The lettering scale of the drawing that holds all `pieces`: that of the largest."""
    return max(map(lettering_scale, pieces), default=1.0)


def all_sketches(pieces: Sequence[SolvedPiece], head: Head, made_from: str = "") -> Drawing:
    """The sketches of all `pieces` in rows, in their order, with lettering of one size; mm of steel."""
    k = common_scale(pieces)
    found = [_on_paper(piece, head, made_from, k) for piece in pieces]
    sizes = [(width, -low) for _, low, width, _ in (drawing.bounds() for drawing in found)]
    columns = max(1, ceil(sqrt(len(found))))
    across = _starts([max(width for width, _ in sizes[i::columns]) for i in range(min(columns, len(found)))])
    down = _starts([max(height for _, height in sizes[i : i + columns]) for i in range(0, len(found), columns)])
    placed = (
        drawing.moved(across[i % columns], -down[i // columns]).scaled(k).entities for i, drawing in enumerate(found)
    )
    return Drawing(entity for entities in placed for entity in entities)


def _starts(sizes: Sequence[float]) -> list[float]:
    starts = [0.0]
    for size in sizes:
        starts.append(starts[-1] + size + _APART)
    return starts


def _wide(drawing: Drawing) -> float:
    x0, _, x1, _ = drawing.bounds()
    return x1 - x0


def _tall(box: tuple[float, float, float, float]) -> float:
    return box[3] - box[1]


def _hung(drawing: Drawing, y: float) -> Drawing:
    """The drawing with the upper left corner of its box at (0, y)."""
    x0, _, _, y1 = drawing.bounds()
    return drawing.moved(-x0, y - y1)


def _on_paper(solved: SolvedPiece, head: Head, made_from: str, k: float) -> Drawing:
    """The sketch in paper mm: top view, front view below it, then the faces, the title at the lower right.

    Ends that are turned against each other are seen from the left end beside the title.
    """
    piece = solved.piece
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
