"""What is wrong with the lettering of a page, found from its text boxes alone; knows drawing only.

Every finding is one line that names the texts. Boxes overlap where no line can be laid between them (separating
axes: two convex outlines are apart if and only if they are apart along the normal of one of their sides).
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from shapely import LineString, STRtree

from mitertool.drawing import Drawing, Line, Page, Polygon, Polyline, TextBox

TOUCH = 0.05
"""mm. Boxes that reach into each other by less are side by side: a tenth of the thinnest pen of a letter."""

LEAST = 2.5
"""mm. The smallest lettering height of ISO 3098 that is common on paper held in the hand."""

LEAST_SETTING = 3.5
"""mm. One step more of ISO 3098 for what is set on the saw, read at arm's length."""

MARGIN = 12.0
"""mm, the sheet's margin at the left, the right and the top."""

LOW_MARGIN = 11.0
"""mm, the margin below: the last line stands on the margin and its descenders hang under it."""

RULE, STRIP, APART = 170.0, 60.0, 0.4
"""mm: a line across the page is a rule from this on, a polygon a strip; apart is what leaves paper between two pens."""

Point = tuple[float, float]


def findings(page: Page) -> list[str]:
    """Everything that is wrong with the lettering of a page of the cut sheet."""
    boxes = page.drawing.text_boxes()
    return [*overlaps(boxes), *outside(page), *too_small(boxes, LEAST), *struck(page.drawing), *on_rules(page.drawing)]


def overlaps(boxes: Sequence[TextBox]) -> Iterator[str]:
    """Every pair of texts that stand on each other."""
    corners = [box.corners for box in boxes]
    for i, j in near(corners, corners):
        if i < j and shared(corners[i], corners[j], TOUCH) > TOUCH:
            yield f"{boxes[i].says!r} overlaps {boxes[j].says!r}"


def outside(page: Page) -> Iterator[str]:
    """Every text that runs into the margin."""
    for box in page.drawing.text_boxes():
        xs, ys = zip(*box.corners, strict=True)
        beyond = (MARGIN - min(xs), max(xs) - (page.width - MARGIN), max(ys) - (page.height - MARGIN))
        if max(*beyond, LOW_MARGIN - min(ys)) > TOUCH:
            yield f"{box.says!r} runs out of the page"


def too_small(boxes: Iterable[TextBox], least: float) -> Iterator[str]:
    """Every text lower than `least` mm."""
    return (f"{box.says!r} is {box.height:.2f} mm high" for box in boxes if box.height < least - 1e-9)


def struck(drawing: Drawing) -> Iterator[str]:
    """Every text that a straight line or the side of a polygon runs through."""
    boxes, strokes = drawing.text_boxes(), list(_strokes(drawing))
    corners, lines = [box.corners for box in boxes], [(a, b) for a, b, _ in strokes]
    for i, j in near(corners, lines):
        if shared(corners[i], lines[j], TOUCH) > TOUCH:
            yield f"{boxes[i].says!r} is struck by a line of the layer {strokes[j][2]}"


def on_rules(drawing: Drawing) -> Iterator[str]:
    """Every strip, a polygon as long as a bar is drawn, whose side lies on a rule across the page and is lost in it."""
    lines = [part for part in drawing.primitives() if isinstance(part, Line) and part.a[1] == part.b[1]]
    rules = [line.a[1] for line in lines if abs(line.b[0] - line.a[0]) >= RULE]
    for part in drawing.primitives():
        if isinstance(part, Polygon) and part.layer.weight:
            xs, ys = zip(*part.points, strict=True)
            if max(xs) - min(xs) >= STRIP and any(abs(y - rule) < APART for y in (min(ys), max(ys)) for rule in rules):
                yield f"a strip {max(xs) - min(xs):.0f} long lies on a rule"


def _strokes(drawing: Drawing) -> Iterator[tuple[Point, Point, str]]:
    for part in drawing.primitives():
        if isinstance(part, Line):
            yield part.a, part.b, part.layer.name
        elif isinstance(part, Polyline):
            for a, b in itertools.pairwise(part.points):
                yield a, b, part.layer.name
        elif isinstance(part, Polygon) and part.layer.weight:
            for a, b in itertools.pairwise((*part.points, part.points[0])):
                yield a, b, part.layer.name


def near(ones: Sequence[Sequence[Point]], others: Sequence[Sequence[Point]]) -> list[tuple[int, int]]:
    """Numbers of one and other wherever the boxes around them along the axes of the page meet, in order."""
    if not ones or not others:
        return []
    met = STRtree([LineString(points) for points in others]).query([LineString(points) for points in ones])
    return sorted(zip(*met.tolist(), strict=True))


def cut_short(boxes: Iterable[TextBox]) -> Iterator[str]:
    """Every text that ends in an ellipsis."""
    return (f"{box.says!r} is cut short" for box in boxes if "…" in box.says)


_LEVEL: Final = ((1.0, 0.0), (0.0, 1.0))


def shared(one: Sequence[Point], other: Sequence[Point], enough: float = -math.inf) -> float:
    """How far two convex outlines must move to be apart, mm; below 0 where they are.

    The axes of the page are tried first, and where these show less than `enough`, that is the answer.
    """
    found = math.inf
    for axis in itertools.chain(_LEVEL, _normals(one), _normals(other)):
        found = min(found, _along(axis, one, other))
        if found < enough:
            break
    return found


def _along(axis: Point, one: Sequence[Point], other: Sequence[Point]) -> float:
    ours, theirs = _on(axis, one), _on(axis, other)
    return min(max(theirs) - min(ours), max(ours) - min(theirs))


def _on(axis: Point, points: Sequence[Point]) -> list[float]:
    return [axis[0] * x + axis[1] * y for x, y in points]


def _normals(points: Sequence[Point]) -> Iterator[Point]:
    for (x0, y0), (x1, y1) in itertools.pairwise((*points, points[0])):
        side = math.hypot(x1 - x0, y1 - y0)
        if side > 0:
            yield ((y0 - y1) / side, (x1 - x0) / side)
