"""The block of a frame on the cut sheet: its pieces in place with their marks, and how well they close."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot
from typing import Final

from mitertool.base.tolerances import CLOSED
from mitertool.drawing import OUTLINE, Dimension, Drawing, Point, Polygon, Text, fit, text_width, wrap
from mitertool.frame import Assembly, Closure
from mitertool.job import FrameOrder
from mitertool.packet.layout import Block, box, cell
from mitertool.quantity import Units, show_length

_TALL: Final = 62.0
_TITLE: Final = 9.0
_LINE: Final = 5.0


def frame_block(order: FrameOrder, width: float, units: Units) -> Block:
    """A frame seen from above, as large as its room allows, with its overall size; `width` paper mm wide."""
    assembly = order.assembly
    lines = [line for note in frame_notes(order, units) for line in wrap(note, width - 6, 3.2)]
    height = _TITLE + _TALL + _LINE * len(lines) + 3
    title = f"Frame {assembly.mark}: {assembly.shape}, {order.quantity} to make"
    texts = [cell(title, (3, -6.5), width - 6, 4.5, bold=True)]
    texts += [cell(line, (3, -_TITLE - _TALL - _LINE * (i + 1)), width - 6, 3.2) for i, line in enumerate(lines)]
    picture = frame_drawing(assembly, units, width - 50, _TALL - 22)
    x0, y0, x1, y1 = picture.bounds()
    middle = ((width - x1 - x0) / 2, -_TITLE - (_TALL + y1 + y0) / 2)
    return Block(height, box(width, height) + Drawing(texts) + picture.moved(*middle))


def closes_within(closure: Closure) -> str:
    """The misfit of the unrounded pieces; below a millionth of a mm only that is said."""
    return f"{max(closure.gap, closure.overlap, CLOSED):.6f} mm"


def frame_notes(order: FrameOrder, units: Units) -> tuple[str, ...]:
    """What the floor must know of a frame, a sentence each: its order, its gaps, and how well it closes."""
    assembly, closure = order.assembly, order.assembly.closure
    fits = (
        f"closes within {closes_within(closure)}; rounding to tape and scale alone opens {closure.rounded_gap:.2f} mm"
    )
    around = f"around it, left end first: {', '.join(assembly.order)}" if len(set(assembly.order)) > 1 else ""
    gaps = sorted({joint.gap for joint in assembly.joints if joint.gap})
    left_open = f"root gap left open {', '.join(f'{gap:g} mm' for gap in gaps)}" if gaps else ""
    notes = (note.says(lambda length: show_length(length, units)) for note in assembly.notes)
    return tuple(word for word in (around, left_open, *notes, fits) if word)


def frame_drawing(assembly: Assembly, units: Units, width: float = 160, height: float = 120) -> Drawing:
    """The pieces in place with their marks and the overall size, within a width and height on paper, mm."""
    points = [point for outline in assembly.outlines for point in outline]
    x0, x1 = min(p.real for p in points), max(p.real for p in points)
    y0, y1 = min(p.imag for p in points), max(p.imag for p in points)
    k = min(width / max(x1 - x0, 1e-9), height / max(y1 - y0, 1e-9))

    def on_paper(point: complex) -> Point:
        return ((point.real - x0) * k, (point.imag - y0) * k)

    outlines = [[on_paper(point) for point in outline] for outline in assembly.outlines]
    shapes = [Polygon(outline, OUTLINE, fill=0.93) for outline in outlines]
    across, up = (x1 - x0) * k, (y1 - y0) * k
    sizes = [
        Dimension((0, 0), (across, 0), -9, show_length(x1 - x0, units), 3.0, along=0.0),
        Dimension((across, 0), (across, up), -9, show_length(y1 - y0, units), 3.0, along=90.0),
    ]
    return Drawing([*shapes, *_marks(assembly, outlines), *sizes])


def _marks(assembly: Assembly, outlines: list[list[Point]]) -> list[Text]:
    """Each mark beside its piece, toward the middle of the frame, where it stands clear of those set before.

    Where it would meet another everywhere, it is left out; the order around the frame names it all the same.
    """
    if assembly.shape == "infill":
        return []
    center = _middle([point for outline in outlines for point in outline])
    found: list[Text] = []
    for mark, outline in zip(assembly.order, outlines, strict=True):
        places = list(_places(mark, outline, center))
        text = next((t for t in places if all(_clear(t, other) for other in found)), None)
        found += [text] if text else []
    return found


def _places(mark: str, outline: list[Point], center: Point) -> Iterator[Text]:
    """Where a mark may stand beside its piece: at its middle or nearer an end, toward the middle of the frame.

    A piece alone has it on its upper left.
    """
    (ix, iy), (ox, oy) = outline[0], outline[1]
    (jx, jy), (px, py) = outline[3], outline[2]
    start, end = ((ix + ox) / 2, (iy + oy) / 2), ((jx + px) / 2, (jy + py) / 2)
    thick, height = hypot(ox - ix, oy - iy), fit(mark, 30, 2.8)
    for share in (0.5, 0.3, 0.7, 0.15, 0.85):
        x, y = start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
        way = (center[0] - x, center[1] - y) if hypot(center[0] - x, center[1] - y) > 1 else (-1.0, 0.6)
        ux, uy = way[0] / hypot(*way), way[1] / hypot(*way)
        reach = thick / 2 + height + abs(ux) * text_width(mark, height) / 2
        yield Text((x + ux * reach, y + uy * reach), mark, height, "center", "middle")


def _clear(one: Text, other: Text) -> bool:
    """Whether two level texts stand apart."""
    across = (one.width + other.width) / 2 + 1
    return abs(one.at[0] - other.at[0]) > across or abs(one.at[1] - other.at[1]) > one.height + other.height


def _middle(points: list[Point]) -> Point:
    xs, ys = zip(*points, strict=True)
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
