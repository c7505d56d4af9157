"""The block of a frame on the cut sheet: its pieces in place with their marks, and how well they close."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot
from typing import Final

from mitertool.base.tolerances import CLOSED
from mitertool.drawing import OUTLINE, Dimension, Drawing, Point, Polygon, Text, fit, text_width, wrap
from mitertool.frame import Assembly
from mitertool.job import FrameOrder
from mitertool.job.fit_up import FrameFit
from mitertool.packet.paper.clear import first_clear, strokes
from mitertool.packet.paper.layout import Block, box, boxed, cell
from mitertool.quantity import Units, show_angle, show_angle_limit, show_exact, show_gap, show_length, show_limit
from mitertool.saw.proof.fit_up import Share

_TALL: Final = 62.0
_TITLE: Final = 9.0
_LINE: Final = 5.0
_LONG: Final = 8
"""Lines. A note of more stands in boxes below the picture, which may run on over pages."""

_CAUTION: Final = 2.8
_NARROWEST: Final = 120.0
"""mm. Lettering of the caution of a sketch, and the width it has below a picture that is narrower."""

_LONGEST_MARK: Final = 40.0
"""mm. Width for a mark beside its piece; a longer one is set smaller."""


def frame_blocks(order: FrameOrder, fit: FrameFit | None, width: float, units: Units) -> Iterator[Block]:
    """A frame seen from above with what the floor must know of it, `width` paper mm wide; long lists in boxes below."""
    notes = [
        (note, list(wrap(note, width - 6, 3.2)))
        for note in (*frame_notes(order, units), *(fit_notes(fit, units) if fit else ()))
    ]
    yield _frame_block(order, [line for _, lines in notes if len(lines) <= _LONG for line in lines], width, units)
    more = [note for note, lines in notes if len(lines) > _LONG]
    yield from boxed(f"Frame {order.assembly.mark}", more, width) if more else ()


def _frame_block(order: FrameOrder, lines: list[str], width: float, units: Units) -> Block:
    """The picture of a frame, as large as its room allows, with its overall size and lines of words below it."""
    assembly = order.assembly
    height = _TITLE + _TALL + _LINE * len(lines) + 3
    title = f"Frame {assembly.mark}: {assembly.shape}, {order.quantity} to make"
    texts = [cell(title, (3, -6.5), width - 6, 4.5, bold=True)]
    texts += [cell(line, (3, -_TITLE - _TALL - _LINE * (i + 1)), width - 6, 3.2) for i, line in enumerate(lines)]
    picture = frame_drawing(assembly, units, width - 80, _TALL - 26)
    x0, y0, x1, y1 = picture.bounds()
    middle = ((width - x1 - x0) / 2, -_TITLE - (_TALL + y1 + y0) / 2)
    return Block(height, box(width, height) + Drawing(texts) + picture.moved(*middle))


def frame_notes(order: FrameOrder, units: Units) -> tuple[str, ...]:
    """What the floor must know of a frame, a sentence each: its order, its gaps, and how well it closes."""
    assembly, closure = order.assembly, order.assembly.closure
    opens = show_gap(closure.rounded_gap, units)
    misfit = max(closure.gap, closure.overlap)
    exact = "the exact pieces close" if misfit <= CLOSED else f"the exact pieces miss by {_missed(misfit, units)}"
    fits = f"{exact}; rounded to tape and scale they open {opens}"
    around = f"around it, left end first: {', '.join(assembly.order)}" if len(set(assembly.order)) > 1 else ""
    gaps = sorted({joint.gap for joint in assembly.joints if joint.gap})
    shown = ", ".join(f"{show_exact(gap, units)}{' mm' if units == 'mm' else ''}" for gap in gaps)
    left_open = f"root gap left open {shown}" if gaps else ""
    notes = (note.says(lambda length: show_length(length, units)) for note in assembly.notes)
    return tuple(word for word in (around, left_open, *notes, fits) if word)


def _missed(misfit: float, units: Units) -> str:
    return f"{show_limit(misfit, units, 'up')}{' mm' if units == 'mm' else ''}"


def fit_notes(fit: FrameFit, units: Units) -> tuple[str, ...]:
    """What an error of the scale's finest division opens at the joints and in the whole frame, a sentence each."""
    throat = show_limit(max(one.throat for one in fit.too_much), units, "up")
    heel = show_limit(max(one.heel for one in fit.too_little), units, "up")
    out = f"every end {show_angle(fit.error)} out"
    said = [f"{out}: too much opens the throats up to {throat}, too little the heels up to {heel}"]
    shares = [corner.share for corner in fit.corners if corner.share.share is not None]
    if shares:
        worst = max(shares, key=lambda share: share.share or 0.0)
        used = f"{100 * (worst.share or 0.0):.0f} % of what a corner may be out"
        said.append(f"that is {used} (±{show_angle_limit(worst.allowed or 0.0, 'down')}){_beyond(worst)}")
    return (*said, *_last_corner(fit, units))


def _last_corner(fit: FrameFit, units: Units) -> Iterator[str]:
    if fit.apart:
        much, little = (show_length(apart, units) for apart in fit.apart)
        last = "with all corners but one pulled shut, the outer corners of the last stand"
        yield f"{last} {much} apart (too much) or {little} (too little)"


def _beyond(share: Share) -> str:
    return ": the scale alone cannot hold it, prove the corners" if (share.share or 0.0) > 1 else ""


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
    widest = max(text_width(mark, 2.8) for mark in assembly.order) if assembly.shape != "infill" else 0.0
    beside = 8 + min(widest, _LONGEST_MARK)
    sizes = [
        Dimension((0, 0), (across, 0), -12, show_length(x1 - x0, units), 3.0, along=0.0),
        Dimension(
            (across, 0), (across, up), -min(beside, _LONGEST_MARK + 8), show_length(y1 - y0, units), 3.0, along=90.0
        ),
    ]
    edges = [[on_paper(point) for point in corners] for corners in assembly.edges]
    return Drawing([*shapes, *_marks(assembly, outlines, edges, sizes), *sizes])


def frame_sketch(assembly: Assembly, units: Units, caution: str) -> Drawing:
    """The frame's picture by itself, with what can hurt below it; paper mm."""
    picture = frame_drawing(assembly, units)
    left, low, right, _ = picture.bounds()
    width = max(right - left, _NARROWEST)
    lines = wrap(caution, width, _CAUTION)
    return picture + Drawing(cell(line, (left, low - _LINE * (i + 1)), width, _CAUTION) for i, line in enumerate(lines))


def _marks(
    assembly: Assembly, outlines: list[list[Point]], edges: list[list[Point]], sizes: list[Dimension]
) -> list[Text]:
    """Each mark beside its piece where it stands clear of every outline, dimension and mark set before.

    Where there is no such place it is left out; the order around the frame names it all the same.
    """
    if assembly.shape == "infill":
        return []
    drawn = list(strokes(Drawing([*sizes, *(Polygon(outline, OUTLINE) for outline in outlines)])))
    found: list[Text] = []
    for mark, corners in zip(assembly.order, edges, strict=True):
        text = first_clear([*_places(mark, corners)], drawn, found)
        found += [text] if text else []
    return found


def _places(mark: str, corners: list[Point]) -> Iterator[Text]:
    """Where a mark may stand: outside its piece, then inside; at its middle, then nearer an end."""
    inner_start, outer_start, outer_end, inner_end = corners
    height = fit(mark, _LONGEST_MARK, 2.8)
    half = text_width(mark, height) / 2
    for near, far, (start, end) in (
        (outer_start, inner_start, (outer_start, outer_end)),
        (inner_start, outer_start, (inner_start, inner_end)),
    ):
        out = _unit_across(start, end, (near[0] - far[0], near[1] - far[1]))
        reach = 1.2 + height / 2 + abs(out[0]) * half
        for share in (0.5, 0.35, 0.65, 0.2, 0.8):
            x, y = start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
            yield Text((x + out[0] * reach, y + out[1] * reach), mark, height, "center", "middle")


def _unit_across(start: Point, end: Point, toward: Point) -> Point:
    """The direction square to an edge that points the same way as `toward`."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = hypot(dx, dy) or 1.0
    x, y = -dy / length, dx / length
    return (x, y) if x * toward[0] + y * toward[1] >= 0 else (-x, -y)
