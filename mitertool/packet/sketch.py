"""The DXF sketch of a mark: plan, side and end view at 1:1 with true dimensions; knows views and drawing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mitertool.cut import Cut
from mitertool.drawing import Dimension, Drawing, Text
from mitertool.job import SolvedPiece
from mitertool.job.model import Head
from mitertool.packet.dimensioned import Shown, from_above, from_the_side
from mitertool.packet.views import end_view
from mitertool.packet.words import lies, more, reading, reading_label, which_way
from mitertool.quantity import show_length
from mitertool.saw import Reach

_SCALES: Final = (1, 2, 5, 10, 20, 50, 100)
_PAPER: Final = 240.0
"""mm. The sketch's lettering is sized for a print of about this width."""


def lettering_scale(solved: SolvedPiece) -> float:
    """How much larger than on paper the lettering stands in the model, so that a whole sketch prints readable."""
    need = (solved.piece.overall + 3 * solved.piece.section.width) / _PAPER
    return float(next((scale for scale in _SCALES if scale >= need), _SCALES[-1]))


def sketch(solved: SolvedPiece, head: Head) -> Drawing:
    """All views of a mark with dimensions and a title; mm of steel."""
    scale = lettering_scale(solved)
    piece, section = solved.piece, solved.piece.section
    shown = Shown(piece, piece, head.units)
    drawing = from_above(shown, 1 / scale)
    below = -_room(solved) * scale
    drawing += from_the_side(shown, 1 / scale).moved(0, below - section.height)
    right = piece.overall + 55 * scale
    drawing += _end(solved, head).moved(right, 0)
    return drawing + _title(solved, head, scale).moved(0, below - section.height - 14 * scale)


def _room(solved: SolvedPiece) -> float:
    """Paper mm below the plan that its dimensions take."""
    return 40.0 if solved.piece.overall - solved.piece.long_point > 1e-6 else 28.0


def _end(solved: SolvedPiece, head: Head) -> Drawing:
    section = solved.piece.section
    width, height = show_length(section.width, head.units), show_length(section.height, head.units)
    return end_view(section) + Drawing(
        [
            Dimension((0, 0), (section.width, 0), -9, width, 3.5, along=0.0),
            Dimension((0, 0), (0, section.height), 9, height, 3.5, along=90.0),
        ]
    )


def _title(solved: SolvedPiece, head: Head, scale: float) -> Drawing:
    piece = solved.piece
    facts = [piece.section.name, solved.order.grade, solved.order.lies or lies(piece.section)]
    lines = [
        f"{solved.mark}: {solved.quantity} piece{'s' if solved.quantity > 1 else ''}",
        ", ".join(fact for fact in facts if fact),
        *(
            f"{end} end: {reading_label(reach)} {', '.join(_setting(reach, cut))}"
            for end, reach, cut in (("left", solved.left, piece.left), ("right", solved.right, piece.right))
        ),
        ", ".join(fact for fact in (head.name, head.revision and f"revision {head.revision}", head.date) if fact),
    ]
    return Drawing(Text((0, -7 * scale * i), line, 5.0 if i == 0 else 3.5) for i, line in enumerate(lines))


def _setting(reach: Reach | None, cut: Cut) -> Iterator[str]:
    """What is set for an end: the reading, which way, then a roll, tilt or bevel."""
    return filter(None, (reading(reach, cut), which_way(reach, cut), more(reach, cut)))
