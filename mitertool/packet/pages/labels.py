"""Labels: one a piece, on common label sheets; knows solved pieces, words and drawing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import islice
from math import ceil
from typing import Final

import attrs
import segno

from mitertool.base.errors import BadInput
from mitertool.cut import Cut
from mitertool.drawing import A4, FILL, LETTER, Drawing, Page, Polygon, wrap
from mitertool.job import Solution, SolvedPiece
from mitertool.job.model import Head
from mitertool.packet.cautions import SHORT
from mitertool.packet.paper.layout import cell
from mitertool.quantity import show_angle, show_length

_INCH: Final = 25.4
_EDGE: Final = 3.0
"""mm left free along the edge of a label, for sheets that feed a little off."""

_LEAST: Final = 2.5
"""mm. The smallest lettering."""

_SHARP: Final = "Cut ends are sharp and may be hot."


@attrs.frozen
class LabelSheet:
    """A sheet of equal labels: paper size, columns and rows, label size, first label's corner and pitch, mm."""

    paper: tuple[float, float]
    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    across: float
    down: float

    @property
    def count(self) -> int:
        """Labels on a sheet."""
        return self.columns * self.rows


SHEETS: Final[Mapping[str, LabelSheet]] = {
    "a4-24": LabelSheet(A4, 3, 8, 70.0, 37.0, 0.0, 0.5, 70.0, 37.0),
    "a4-14": LabelSheet(A4, 2, 7, 99.1, 38.1, 4.65, 15.15, 101.6, 38.1),
    "letter-30": LabelSheet(
        *(LETTER, 3, 10, 2.625 * _INCH, 1.0 * _INCH),
        *(0.1875 * _INCH, 0.5 * _INCH, 2.75 * _INCH, 1.0 * _INCH),
    ),
    "letter-20": LabelSheet(
        *(LETTER, 2, 10, 4.0 * _INCH, 1.0 * _INCH),
        *(0.15625 * _INCH, 0.5 * _INCH, 4.1875 * _INCH, 1.0 * _INCH),
    ),
}
"""Sheets by paper and number of labels; sizes as such sheets are usually sold: common practice, no source."""


def label_pages(solution: Solution, sheet: str = "", codes: bool = False) -> tuple[Page, ...]:
    """A label for every piece in the order of the job; the first label of each sheet is the job's, with what can hurt.

    `codes` adds a square code that holds job, mark and count.
    Without a `sheet` the paper follows the units. Raises `BadInput` for a sheet that is not known.
    """
    head = solution.job.head
    name = sheet or ("a4-24" if head.units == "mm" else "letter-30")
    if name not in SHEETS:
        raise BadInput("label sheet", name, f"allowed: {', '.join(SHEETS)}")
    form = SHEETS[name]
    labels = _labels(solution, form, codes)
    sheets = ceil(_count(solution) / (form.count - 1))
    return tuple(_sheet(labels, form, _first_label(solution, form, sheets, number + 1)) for number in range(sheets))


def _sheet(labels: Iterator[Drawing], form: LabelSheet, first: Drawing) -> Page:
    """A sheet with the job's label first, since sheets part on the floor, and as many of the others as it holds."""
    return Page(*form.paper, _placed([first, *islice(labels, form.count - 1)], form))


def _count(solution: Solution) -> int:
    return sum(piece.quantity for piece in solution.pieces)


def _labels(solution: Solution, form: LabelSheet, codes: bool) -> Iterator[Drawing]:
    for piece in solution.pieces:
        for number in range(1, piece.quantity + 1):
            yield _label(piece, number, solution.job.head, form, codes)


def _placed(labels: Sequence[Drawing], form: LabelSheet) -> Drawing:
    whole = Drawing(())
    for i, label in enumerate(labels):
        x = form.left + (i % form.columns) * form.across
        y = form.paper[1] - form.top - (i // form.columns) * form.down
        whole += label.moved(x, y)
    return whole


def _first_label(solution: Solution, form: LabelSheet, sheets: int, number: int) -> Drawing:
    """The job's own label, hanging from its upper left corner: whose labels these are, and what can hurt."""
    head, room = solution.job.head, form.width - 2 * _EDGE
    which = f"Sheet {number} of {sheets}. " if sheets > 1 else ""
    lines = wrap(f"{which}{_SHARP} {SHORT}", room, _LEAST)
    pitch = (form.height - 2 * _EDGE) / (len(lines) + 1)
    texts = [cell(f"{_job(head)}: {_count(solution)} labels", (0, -pitch), room, 3.5, bold=True)]
    texts += [cell(line, (0, -pitch * (i + 2)), room, _LEAST) for i, line in enumerate(lines)]
    return Drawing(texts).moved(_EDGE, -_EDGE + pitch * 0.15)


def _job(head: Head) -> str:
    return f"{head.name}{f', revision {head.revision}' if head.revision else ''}"


def _label(solved: SolvedPiece, number: int, head: Head, form: LabelSheet, codes: bool) -> Drawing:
    """A label hanging from its upper left corner: mark and count, section, length, angles, job."""
    room = form.width - 2 * _EDGE
    side = min(form.height - 2 * _EDGE, 16.0) if codes else 0.0
    words = room - (side + 2 if codes else 0.0)
    pitch = (form.height - 2 * _EDGE) / 5
    count = f"{number} of {solved.quantity}"
    facts = ", ".join(fact for fact in (solved.piece.section.name, solved.order.grade) if fact)
    length = f"long point {show_length(solved.piece.long_point, head.units)}"
    most = pitch * 0.72
    lines = [
        cell(solved.mark, (0, -pitch), words, min(5.0, pitch * 0.8), bold=True),
        cell(facts, (0, -2 * pitch), words, min(3.2, most)),
        cell(length, (0, -3 * pitch), words, min(3.5, most), bold=not codes),
        cell(_angles(solved), (0, -4 * pitch), words, min(3.0, most)),
        cell(_job(head), (0, -5 * pitch + 0.3), words * 0.68, _LEAST),
        cell(count, (words * 0.7, -5 * pitch + 0.3), words * 0.3, min(3.2, most), "right"),
    ]
    drawing = Drawing(lines).moved(_EDGE, -_EDGE + pitch * 0.15)
    if codes:
        code = _code(f"{head.name}|{solved.mark}|{number}/{solved.quantity}", side)
        drawing += code.moved(form.width - _EDGE - side, -_EDGE - side)
    return drawing


def _angles(solved: SolvedPiece) -> str:
    """Both ends as miter, or miter/bevel, in degrees from square to a tenth, for checking the piece when it is cut."""
    ends = (("L", solved.piece.cuts("left")), ("R", solved.piece.cuts("right")))
    return ", ".join(
        f"{name} {' + '.join(f'{_angle(cut.miter)}{_beveled(cut)}' for cut in cuts)}" for name, cuts in ends
    )


def _beveled(cut: Cut) -> str:
    return f"/{_angle(cut.bevel)}" if cut.bevel else ""


def _angle(degrees: float) -> str:
    return show_angle(degrees, 1).rstrip("°")


def _code(content: str, side: float) -> Drawing:
    """A QR code (ISO/IEC 18004) of `content`, `side` mm with its quiet zone, lower left corner at (0, 0)."""
    rows = [list(row) for row in segno.make(content, error="m", micro=False).matrix_iter(border=4)]
    step = side / len(rows)
    squares = [
        _square(x * step, (len(rows) - 1 - y) * step, step)
        for y, row in enumerate(rows)
        for x, dark in enumerate(row)
        if dark
    ]
    return Drawing(squares)


def _square(x: float, y: float, step: float) -> Polygon:
    return Polygon([(x, y), (x + step, y), (x + step, y + step), (x, y + step)], FILL, fill=0.0)
