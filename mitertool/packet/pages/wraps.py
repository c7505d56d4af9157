"""Templates at 1:1 to wrap around a tube: for a printer over several sheets, and as a drawing; knows skins.

A template lies with the end of the tube up; its base line is square to the tube. mm of steel and of paper are one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import ceil
from typing import Final

import attrs

import mitertool
from mitertool.base.tolerances import CUT_OUT, SAME_SETTING, SAME_SLOPE
from mitertool.base.totals import summed
from mitertool.drawing import A4, HIDDEN, LETTER, OUTLINE, THIN, Drawing, Line, Page, Point, Polyline, Text, wrap
from mitertool.job import Job, Solution
from mitertool.packet.cautions import short
from mitertool.packet.paper.control import control_line
from mitertool.packet.paper.layout import MARGIN, cell
from mitertool.packet.words import origin
from mitertool.piece import Piece
from mitertool.piece.poses import OTHER_END
from mitertool.piece.skin import Template, has_skin
from mitertool.quantity import Units, show_length
from mitertool.words import phrase

_BASE, _BRANCH_BASE = 30.0, 45.0
"""mm from the base line to the shortest place of the end: paper enough to hold by, and for the names of a branch."""

_FLAP: Final = 12.0
"""mm of paper past once around, to glue on."""

_AGAIN: Final = 10.0
"""mm of a sheet that the next one shows again."""

_STATIONS: Final = 12
_FIGURE, _NAME = 3.8, 7.9
"""mm right of a line at which a figure and a name stand on their base line."""

_APART: Final = 8.5
"""mm between stations at which a figure and the name of a line stand side by side."""

_HEAD: Final = 36.0
_FOOT: Final = 14.0
_LETTERS: Final = 3.0
_CROSS: Final = 3.0

Window = tuple[float, float, float, float]
"""Of a template what a sheet shows: from x0, y0 to x1, y1."""


Wrapped = tuple[str, tuple[Template, ...]]
"""A mark and the templates of its ends."""


def wrapped_marks(solution: Solution) -> Iterator[Wrapped]:
    """The marks of a job that have templates; an end that stands on a tube has its true edge."""
    saddles = {mark: saddle for order in solution.frames for mark, saddle in order.assembly.saddles}
    for solved in solution.pieces:
        saddle = saddles.get(solved.mark)
        ends = dict.fromkeys((*(("left",) if saddle else ()), *wrapped_ends(solved.piece)))
        if ends:
            yield (
                solved.mark,
                tuple(Template(solved.piece, end, saddle if end == "left" else None, CUT_OUT) for end in ends),
            )


def wrapped_ends(piece: Piece) -> tuple[str, ...]:
    """The ends of a piece that a template is made for: those of tube that lean; of other tube than round, where a mark
    across a face does not make them: compound, or of more planes."""
    return tuple(end for end in ("left", "right") if has_skin(piece.section) and _asked(piece, end))


def _asked(piece: Piece, end: str) -> bool:
    cuts = piece.cuts(end)
    leans = any(abs(cut.p) + abs(cut.q) > SAME_SLOPE for cut in cuts)
    compound = len(cuts) > 1 or any(abs(cut.p) > SAME_SLOPE < abs(cut.q) for cut in cuts)
    return leans if piece.section.shape.round else compound


def wrap_drawing(wrapped: Wrapped, units: Units) -> Drawing:
    """The templates of all ends of a mark, one above the other, mm of steel."""
    whole, top = Drawing(()), 0.0
    mark, templates = wrapped
    for template in templates:
        lines = _joined(_lines(template))
        made = Drawing([*lines, *_lettering(template, units), *_title(mark, template, (0.0, -8.0))])
        whole += made.moved(0.0, top)
        top += _tall(template) + 40.0
    return whole


def wrap_pages(wrapped: Wrapped, job: Job) -> tuple[Page, ...]:
    """The same on as many sheets as they need, each with a line to measure and crosses where sheets meet."""
    mark, templates = wrapped
    return tuple(page for template in templates for page in _pages(mark, template, job))


def _pages(mark: str, template: Template, job: Job) -> Iterator[Page]:
    upright = A4 if job.head.units == "mm" else LETTER
    paper = min((upright, upright[::-1]), key=lambda size: len(_sheets(template, size)))
    windows = _sheets(template, paper)
    crosses = list(_crosses(windows, _base(template)))
    drawn = [*_lines(template), *crosses]
    lettering = (_clear_of(crosses, text) for text in _lettering(template, job.head.units))
    texts = [(text, _first_of(windows, text)) for text in lettering]
    for number, window in enumerate(windows, 1):
        seen = Drawing([*_joined(_within(drawn, window)), *(text for text, at in texts if at == window)])
        moved = seen.moved(MARGIN - window[0], MARGIN + _FOOT - window[1])
        yield Page(*paper, moved + Drawing(_around(mark, template, job, paper, (number, len(windows)))))


def _sheets(template: Template, paper: Point) -> list[Window]:
    """What of a template each sheet of this size shows."""
    room = (paper[0] - 2 * MARGIN, paper[1] - 2 * MARGIN - _HEAD - _FOOT)
    across, up = _windows(template.skin.around + _FLAP, room[0]), _windows(_tall(template), room[1])
    return [(x0, y0, x1, y1) for y0, y1 in up for x0, x1 in across]


def _base(template: Template) -> float:
    """From the base line to the shortest place of the end, mm."""
    return _BRANCH_BASE if template.saddle else _BASE


def _tall(template: Template) -> float:
    return _base(template) + max(out for _, out in template.curve)


def _windows(size: float, room: float) -> list[tuple[float, float]]:
    """Equal stretches that each fit the room and show a little of each other."""
    count = 1 if size <= room else ceil((size - _AGAIN) / (room - _AGAIN))
    step = (size - _AGAIN) / count if count > 1 else size
    return [(i * step, i * step + step + (_AGAIN if count > 1 else 0.0)) for i in range(count)]


def _lines(template: Template) -> Iterator[Line]:
    """The edge to cut along, the base, the sides, the four lines of the tube and the stations."""
    around = template.skin.around
    edge = [(x, _base(template) + out) for x, out in template.curve]
    yield from (Line(a, b, OUTLINE) for a, b in pairwise(edge))
    yield Line((0, 0), (around, 0), OUTLINE)
    yield Line((around, 0), (around + _FLAP, 0), THIN)
    for x in (0.0, around):
        yield Line((x, 0), (x, _base(template) + template.out(x)), OUTLINE)
    yield Line((around + _FLAP, 0), (around + _FLAP, _base(template)), THIN)
    yield Line((around, _base(template)), (around + _FLAP, _base(template)), THIN)
    for _, x in template.skin.lines[1:]:
        yield Line((x, 0), (x, _base(template) + template.out(x)), HIDDEN)
    for x in template.skin.folds:
        yield Line((x, 0), (x, _base(template) + template.out(x)), THIN)
    for x, _ in template.stations(_STATIONS)[1:-1]:
        yield Line((x, 0), (x, 2.0), THIN)


def _joined(lines: Iterable[Line]) -> Iterator[Line | Polyline]:
    """The same with lines that go on where the one before ends as one."""
    run: list[Line] = []
    for line in lines:
        if run and (line.a, line.layer) != (run[-1].b, run[-1].layer):
            yield _one(run)
            run = []
        run.append(line)
    if run:
        yield _one(run)


def _one(run: Sequence[Line]) -> Line | Polyline:
    return run[0] if len(run) == 1 else Polyline([run[0].a, *(line.b for line in run)], run[0].layer)


def _lettering(template: Template, units: Units) -> Iterator[Text]:
    """Right of each line its name along it, and at each station what a tape reads."""
    side_by_side = template.skin.around / _STATIONS >= _APART
    for side, x in template.skin.lines:
        right = _NAME if side_by_side else _FIGURE + 0.5
        yield Text((x + right, 3.0), _line_name(template, side), _LETTERS, "left", "baseline", 90.0)
    flap = phrase("wrap.overlap")
    yield Text((template.skin.around + 8.0, 1.5), flap, 2.5, "left", "baseline", 90.0)
    if side_by_side:
        for x, out in template.stations(_STATIONS):
            yield Text((x + _FIGURE, 3.0), show_length(_base(template) + out, units), 2.5, "left", "baseline", 90.0)


def _line_name(template: Template, side: str) -> str:
    """A side of the tube; of a branch also where that lies on its run."""
    saddle, name = template.saddle, phrase(f"wrap.line/{side}")
    if saddle is None:
        return name
    acute = "fixed" if saddle.angle < 90 else "moving"
    if side in ("fixed", "moving"):
        case = "along" if abs(saddle.angle - 90) < SAME_SETTING else "acute" if side == acute else "obtuse"
    else:
        case = "" if not saddle.offset else "passes" if (side == "top") == (saddle.offset > 0) else "other"
    return phrase(f"wrap.branch/{case}", line=name) if case else name


def _title(mark: str, template: Template, at: Point) -> Iterator[Text]:
    says = phrase("wrap.title", mark=mark, end=phrase(f"wrap.end/{template.end}"), section=template.piece.section.name)
    yield Text(at, says, 4.0, bold=True)


def _crosses(windows: Sequence[Window], base: float) -> Iterator[Line]:
    """In the middle of what two sheets share."""
    across = sorted({(x0, x1) for x0, _, x1, _ in windows})
    up = sorted({(y0, y1) for _, y0, _, y1 in windows})
    xs = [(a[1] + b[0]) / 2 for a, b in pairwise(across)]
    ys = [(a[1] + b[0]) / 2 for a, b in pairwise(up)]
    for x in xs or [summed(across[0]) / 2]:
        for y in ys or ([base - _CROSS, up[0][1] - 2 * _CROSS] if xs else []):
            yield Line((x - _CROSS, y), (x + _CROSS, y), THIN)
            yield Line((x, y - _CROSS), (x, y + _CROSS), THIN)


def _within(lines: Sequence[Line], window: Window) -> Iterator[Line]:
    for line in lines:
        shares = _shares(line, window)
        if shares:
            yield Line(_on(line, shares[0]), _on(line, shares[1]), line.layer)


def _shares(line: Line, window: Window) -> tuple[float, float] | None:
    """From where to where a line lies in the window, 0 to 1; None where it does not."""
    low, high = 0.0, 1.0
    for i in (0, 1):
        begin, way = line.a[i], line.b[i] - line.a[i]
        if abs(way) < 1e-12:
            if not window[i] - 1e-9 <= begin <= window[i + 2] + 1e-9:
                return None
            continue
        one, other = sorted(((window[i] - begin) / way, (window[i + 2] - begin) / way))
        low, high = max(low, one), min(high, other)
    return (low, high) if low < high else None


def _on(line: Line, share: float) -> Point:
    return tuple(a + share * (b - a) for a, b in zip(line.a, line.b, strict=True))  # type: ignore[return-value]


def _clear_of(crosses: Sequence[Line], text: Text) -> Text:
    """A text as it stands, or left of its line where a cross strikes it."""
    edges = [(line.a, line.b) for line in crosses]
    x, y = text.at
    struck = any(_strikes(edge, text) for edge in edges)
    return attrs.evolve(text, at=(x - _NAME - 1.4, y)) if struck else text


def _strikes(edge: tuple[Point, Point], text: Text) -> bool:
    """Whether an upright or level line passes the box of a text, or close by."""
    boxes = zip(*text.corners, strict=True)
    lines = zip(*edge, strict=True)
    return all(min(line) < max(box) + 1 and max(line) > min(box) - 1 for box, line in zip(boxes, lines, strict=True))


def _first_of(windows: Sequence[Window], text: Text) -> Window | None:
    """The first sheet on which all of a text stands."""
    return next((window for window in windows if _holds(window, text)), None)


def _holds(window: Window, text: Text) -> bool:
    """Whether all of a text stands in the window."""
    inside = ((window[0] <= x <= window[2], window[1] <= y <= window[3]) for x, y in text.corners)
    return all(a and b for a, b in inside)


def _meant(template: Template, units: Units) -> Iterator[str]:
    """How a template is wrapped, and where it lies along the tube."""
    first, other = phrase("wrap.line/top"), OTHER_END[template.end]
    yield phrase("wrap.cut", first=first)
    from_end = template.along_top - template.out(0.0) - _base(template)
    if from_end >= 0:
        square = all(abs(cut.p) + abs(cut.q) <= SAME_SLOPE for cut in template.piece.cuts(other))
        yield phrase(
            "wrap.place/square" if square else "wrap.place/slanted",
            length=show_length(from_end, units),
            first=first,
            end=phrase(f"wrap.other/{other}"),
        )
    yield phrase("wrap.tip", length=show_length(template.furthest, units), first=first)
    if template.saddle:
        yield phrase("wrap.skin", most=show_length(template.inside_first, units))


def _around(mark: str, template: Template, job: Job, paper: Point, sheet: tuple[int, int]) -> Iterator[Line | Text]:
    """What every sheet bears around its part of the template."""
    (number, count), top, inner = sheet, paper[1] - MARGIN, paper[0] - 2 * MARGIN
    yield from _title(mark, template, (MARGIN, top - 5))
    said = [" ".join(_meant(template, job.head.units))]
    said += [phrase("wrap.sheet", number=number, count=count)] if count > 1 else []
    lines = [line for one in said for line in wrap(one, inner, _LETTERS)]
    for i, line in enumerate(lines):
        yield cell(line, (MARGIN, top - 10 - 4.4 * i), inner, _LETTERS)
    low = MARGIN + 9.0
    yield from control_line((MARGIN, low), inner, job.head.units)
    yield cell(short(), (MARGIN, MARGIN + 4.0), inner, 2.5)
    made_from = f"{job.head.name}, mitertool {mitertool.__version__}, {origin(job)}"
    yield cell(made_from, (MARGIN, MARGIN), inner, 2.5)
