"""A piece seen from above and from the side with its true dimensions, at a scale; knows views.

`k` is paper mm for one mm of steel. The drawings are in mm of steel; lettering and offsets are paper mm.
"""

from __future__ import annotations

import itertools
from typing import Final

import attrs

from mitertool.base.tolerances import SAME_LENGTH
from mitertool.drawing import THIN, Dimension, Drawing, Line, Point, Polygon, Text
from mitertool.packet.paper.clear import is_clear, strokes
from mitertool.packet.paper.views import extreme_places, front_view, top_view, x_left, x_right
from mitertool.piece import Piece
from mitertool.quantity import Units, show_length

_CLEAR: Final = 7.0
"""Paper mm from the outline to the first dimension line."""


@attrs.frozen
class OnPaper:
    """A piece as it is drawn: `drawn` may be shorter than `piece`, broken in the middle."""

    piece: Piece
    drawn: Piece
    units: Units
    lettering: float = 3.5

    @property
    def broken(self) -> bool:
        """Whether a stretch of the middle is left out of the picture."""
        return self.drawn.centerline < self.piece.centerline - SAME_LENGTH


def to_fit(piece: Piece, width: float, k: float, units: Units) -> OnPaper:
    """The piece drawn within `width` paper mm at scale k, with the middle left out where it is longer."""
    excess = piece.overall - width / k
    if excess <= 0:
        return OnPaper(piece, piece, units)
    shortest = piece.centerline - piece.short_point
    length = max(piece.centerline - excess, shortest + 1e-3)
    return OnPaper(piece, piece.of_centerline(length), units)


def from_above(shown: OnPaper, k: float) -> Drawing:
    """The plan view with long point, short point and overall length where they differ."""
    view = top_view(shown.drawn)
    if shown.broken:
        view += _break(shown.drawn, shown.drawn.section.width, k)
    return view + Drawing(_plan_dimensions(shown, k))


def from_the_side(shown: OnPaper, k: float) -> Drawing:
    """The view from the fixed jaw's side, without dimensions: the plan has the lengths."""
    view = front_view(shown.drawn)
    return view + _break(shown.drawn, shown.drawn.section.height, k) if shown.broken else view


def _plan_dimensions(shown: OnPaper, k: float) -> list[Dimension]:
    """Long point on one side, short point on the other, overall on the side where it strikes neither text."""
    piece, drawn = shown.piece, shown.drawn
    long_place, short_place = extreme_places(drawn)
    side = 1 if long_place[0] * 2 >= drawn.section.width else -1
    found = [_along(shown, long_place, "long point", piece.long_point, side, k)]
    if piece.long_point - piece.short_point > SAME_LENGTH:
        found.append(_along(shown, short_place, "short point", piece.short_point, -side, k))
    if piece.overall - piece.long_point <= SAME_LENGTH:
        return found
    below, above = _overall(shown, -side, len(found), k), _overall(shown, side, 2, k)
    return [*found, below if _reads_clear([*found, below], k) else above]


def _reads_clear(dimensions: list[Dimension], k: float) -> bool:
    """Whether no line of one dimension runs through the text of another, with all of them on paper at scale k."""
    on_paper = [Drawing([dimension]).scaled(k) for dimension in dimensions]
    return all(
        is_clear(_about_middle(text), strokes(other), ())
        for one in on_paper
        for text in one.primitives()
        if isinstance(text, Text)
        for other in on_paper
        if other is not one
    )


def _about_middle(text: Text) -> Text:
    """The same level text, placed by its middle."""
    return Text((text.at[0], text.at[1] + text.height / 2), text.says, text.height, "center", "middle")


def _along(shown: OnPaper, place: Point, words: str, length: float, side: int, k: float) -> Dimension:
    """A dimension on the line at a place (y, z), drawn above (side 1) or below (side -1) the plan."""
    drawn, (y, z) = shown.drawn, place
    says = f"{words} {show_length(length, shown.units)}"
    a, b = (x_left(drawn, y, z), y), (x_right(drawn, y, z), y)
    room = (drawn.section.width - y) if side > 0 else y
    return Dimension(a, b, side * (room * k + _CLEAR), says, shown.lettering, along=0.0)


def _overall(shown: OnPaper, side: int, before: int, k: float) -> Dimension:
    """Tip to tip, outside the dimensions that stand already on its side."""
    drawn = shown.drawn
    left, right = drawn.end_roof("left").highest_point, drawn.end_roof("right").highest_point
    a, b = (x_left(drawn, *left), left[0]), (x_right(drawn, *right), right[0])
    room = (drawn.section.width - a[1]) if side > 0 else a[1]
    offset = room * k + _CLEAR + (before - 1) * 2.5 * shown.lettering
    says = f"overall {show_length(shown.piece.overall, shown.units)}"
    return Dimension(a, b, side * offset, says, shown.lettering, along=0.0)


def _break(drawn: Piece, across: float, k: float) -> Drawing:
    """Two jagged lines over the middle with nothing between: a stretch is left out."""
    middle = (x_left(drawn, drawn.section.width / 2, 0) + x_right(drawn, drawn.section.width / 2, 0)) / 2
    gap, over = 1.5 / k, 1.5 / k
    ys = (-over, across * 0.4, across * 0.6, across + over)
    xs = (0.0, 0.0, gap, gap)
    left = [(middle - gap - gap / 2 + x, y) for x, y in zip(xs, ys, strict=True)]
    right = [(x + 2 * gap, y) for x, y in left]
    blank = Polygon([*left, *right[::-1]], _NO_PEN, fill=1.0)
    lines = [Line(a, b, THIN) for side in (left, right) for a, b in itertools.pairwise(side)]
    return Drawing([blank, *lines])


_NO_PEN: Final = attrs.evolve(THIN, name="break", weight=0.0)
