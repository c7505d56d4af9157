"""Labels: one a piece, on common label sheets; knows solved pieces, words and drawing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from math import ceil
from typing import Final

import attrs
import segno

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.cut import Cut
from mitertool.drawing import A4, FILL, LETTER, Drawing, Page, Polygon, Text, text_width, wrap
from mitertool.job import Solution, SolvedPiece
from mitertool.job.labels import LabelSheet
from mitertool.job.orders import Head
from mitertool.packet.cautions import short
from mitertool.packet.paper.layout import cell
from mitertool.packet.words import place_lines
from mitertool.piece.marks import EndWork, PieceMark
from mitertool.quantity import Units, show_angle, show_length
from mitertool.quantity.problem import Remark
from mitertool.quantity.problem import words as word_of
from mitertool.words import counted, phrase

_INCH: Final = 25.4
_EDGE: Final = 3.0
"""mm left free along the edge of a label, for sheets that feed a little off."""

_LEAST: Final = 2.5
"""mm. The smallest lettering."""

_LINES: Final = 5
_ROOMY: Final = 4.2
_NARROW: Final = 50.0
"""Lines of a label, how far apart there is room for one more, the width below which there is none for the job; mm."""

_FULL: Final = 0.72
"""How high lettering may be, of what there is from line to line."""

_PITCH: Final = 6.0
_CODE: Final = 16.0
"""mm: from line to line of the first label at most, and the side of a code."""

_APART: Final = 2.0
"""mm between a line and the job behind it."""

_LEAST_PITCH: Final = 3.3
_CLOSE: Final = 3.8
"""mm from line to line of the smallest lettering, its descenders among them; and of lines that are told from each other
at a glance."""

_BLANK: Final = "_" * 6
"""Where a heat is written."""


@attrs.frozen
class CutPiece:
    """A piece as it comes off the saw: its mark, its number among all `of` the mark, its bar (0: none) and heat.

    `again` is the number of a recut that it comes of, "" for none.
    """

    solved: SolvedPiece
    number: int
    of: int
    bar: int = 0
    heat: str = ""
    again: str = ""


def cut_pieces(solution: Solution) -> Iterator[CutPiece]:
    """Every piece in the order of cutting; without bars in the order of the job, refused marks left out.

    Pieces that are done before keep their numbers: those that are cut are the last ones of their mark.
    """
    by_mark = {solved.mark: solved for solved in solution.pieces}
    if solution.plan is None:
        marks = [(mark, 0, "") for mark, one in by_mark.items() for _ in range(one.quantity)]
        marks = [one for one in marks if one[0] not in solution.refused]
    else:
        marks = list(_off_bars(solution))
    out = dict(solution.plan.left_out) if solution.plan else {}
    on = Counter(mark for mark, _, _ in marks)
    before = solution.job.rest.good if solution.job.rest else {}
    all_of = {mark: one.quantity + before.get(mark, 0) for mark, one in by_mark.items()}
    numbers = {mark: count - on[mark] - out.get(mark, 0) for mark, count in all_of.items()}
    yield from _recut(solution, all_of)
    for mark, bar, heat in marks:
        numbers[mark] += 1
        own = solution.job.of_piece(by_mark[mark].order).heat
        heat = by_mark[mark].order.particulars.heat or heat or own
        yield CutPiece(by_mark[mark], numbers[mark], all_of[mark], bar, heat)


def _recut(solution: Solution, all_of: Mapping[str, int]) -> Iterator[CutPiece]:
    """The pieces that are cut already and become others: they are numbered before those off bars."""
    good = solution.job.rest.good if solution.job.rest else {}
    numbers = Counter(good)
    for one in solution.again:
        numbers[one.solved.mark] -= one.offer.count
    for one in solution.again:
        mark = one.solved.mark
        for _ in range(one.offer.count):
            numbers[mark] += 1
            heat = one.solved.order.particulars.heat or one.offer.heat
            yield CutPiece(one.solved, numbers[mark], all_of.get(mark, good.get(mark, 0)), heat=heat, again=one.called)


def _off_bars(solution: Solution) -> Iterator[tuple[str, int, str]]:
    """Mark, bar and heat of every piece of the plan as it is cut, those of bars cut at once one after another."""
    together = {one.mark: [mark for mark in (one.mark, one.comes_with) if mark] for one in solution.pieces}
    each = {one.mark: one.order.a_cut for one in solution.pieces}
    for run in solution.runs:
        for load in range(run.bar.count):
            heats = solution.heats(run.number, load * run.bar.section.bars + 1)
            heat = heats[0] if len(heats) == 1 else ""
            for placed in run.bar.pieces:
                cut = (mark for mark in together[placed.mark] for _ in range(each[placed.mark]))
                yield from ((mark, run.number, heat) for mark in cut)


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


def label_pages(solution: Solution, sheet: str = "", codes: bool = False) -> Iterator[Page]:
    """A label for every piece in the order of cutting; the first label of each sheet is the job's, with what can hurt.

    The pages come one by one: those of many thousands of pieces never stand in memory together.

    `codes` adds a square code that holds job, mark and count. Without the name of a `sheet` it is the job's own, else
    the paper follows the units. Raises `BadInput` for a sheet that is not known.
    """
    form = _form(solution, sheet)
    cut = list(cut_pieces(solution))
    each = form.count - 1
    marked = {mark for order in solution.frames for mark, _ in order.assembly.saddles}
    sheets = max(1, ceil(len(cut) / each))
    for number in range(sheets):
        first = _first_label(solution, form, len(cut), (number + 1, sheets))
        those = cut[number * each : (number + 1) * each]
        others = _labels(those, solution.job.head, form, codes, marked)
        yield Page(*form.paper, _placed([first, *others], form))


def _form(solution: Solution, sheet: str) -> LabelSheet:
    if sheet and sheet not in SHEETS:
        raise BadInput(phrase("what.label-sheet"), sheet, among(SHEETS))
    usual = "a4-24" if solution.job.head.units == "mm" else "letter-30"
    return SHEETS[sheet] if sheet else solution.job.labels or SHEETS[usual]


def _placed(labels: Sequence[Drawing], form: LabelSheet) -> Drawing:
    whole = Drawing(())
    for i, label in enumerate(labels):
        x = form.left + (i % form.columns) * form.across
        y = form.paper[1] - form.top - (i // form.columns) * form.down
        whole += label.moved(x, y)
    return whole


def _first_label(solution: Solution, form: LabelSheet, labels: int, which: tuple[int, int]) -> Drawing:
    """The job's own label, hanging from its upper left corner: whose labels these are, and what can hurt.

    A small one has no room for all cautions: the sheet has them too.
    """
    room, (number, sheets) = form.width - 2 * _EDGE, which
    sheet = (phrase("label.sheet", number=number, sheets=sheets),) if sheets > 1 else ()
    sharp, most = phrase("label.sharp"), int((form.height - 2 * _EDGE) / _LEAST_PITCH) - 1
    wrapped = (wrap(" ".join((*sheet, sharp, *more)), room, _LEAST) for more in ((short(),), ()))
    lines = next((lines for lines in wrapped if len(lines) <= most), wrap(sharp, room, _LEAST))
    pitch = min(_PITCH, (form.height - 2 * _EDGE) / (len(lines) + 1))
    whose = counted("label.labels", labels, job=_job(solution.job.head))
    texts = [cell(whose, (0, -pitch), room, 3.5, bold=True)]
    texts += [cell(line, (0, -pitch * (i + 2)), room, _LEAST) for i, line in enumerate(lines)]
    return Drawing(texts).moved(_EDGE, -_EDGE + pitch * 0.15)


def _job(head: Head) -> str:
    return phrase("label.job/revision", job=head.name, revision=head.revision) if head.revision else head.name


def _briefly(head: Head) -> str:
    return phrase("label.job/short", job=head.name, revision=head.revision) if head.revision else head.name


def _labels(
    pieces: Iterable[CutPiece], head: Head, form: LabelSheet, codes: bool, marked: Collection[str]
) -> Iterator[Drawing]:
    """The labels of pieces; those of one mark off one bar differ in their numbers alone.

    The left end of a piece of a `marked` mark is cut by a template.
    """
    composed: dict[tuple[str, int, str, str], _Lines] = {}
    for one in pieces:
        alike = one.solved.mark, one.bar, one.heat, one.again
        lines = composed.get(alike)
        if lines is None:
            lines = composed[alike] = _lines(one, head, form, codes, one.solved.mark in marked)
        yield _label(one, lines, head, form, codes)


@attrs.frozen
class _Lines:
    """What stands on a label but for its number: its mark and the rest; how wide, and how far from line to line."""

    mark: Drawing
    rest: Drawing
    words: float
    pitch: float


def _label(one: CutPiece, lines: _Lines, head: Head, form: LabelSheet, codes: bool) -> Drawing:
    """A label hanging from its upper left corner: its lines, the number of the piece at the right of its mark."""
    words, pitch, says = lines.words, lines.pitch, phrase("label.count", number=one.number, quantity=one.of)
    count = cell(says, (words * 0.72, -pitch), words * 0.28, min(3.2, pitch * _FULL), "right")
    drawing = lines.mark + _inside([count], pitch) + lines.rest
    if codes:
        side = _side(form)
        code = _code(f"{head.name}|{one.solved.mark}|{one.number}/{one.of}", side)
        drawing += code.moved(form.width - _EDGE - side, -_EDGE - side)
    return drawing


def _side(form: LabelSheet) -> float:
    return min(form.height - 2 * _EDGE, _CODE)


def _lines(one: CutPiece, head: Head, form: LabelSheet, codes: bool, marked: bool) -> _Lines:
    """Mark, section, length, angles, marks, bar and heat, job.

    On a low label the marks stand beside the section; on a low and narrow one the job stands on the first label alone.
    """
    solved, room = one.solved, form.width - 2 * _EDGE
    words = room - (_side(form) + 2 if codes else 0.0)
    tall = form.height - 2 * _EDGE
    high = tall >= (_LINES + 1) * _ROOMY
    placed = _places(solved.places, head.units, words, int(tall / _CLOSE) - _LINES - high)
    pitch = tall / (_LINES + high + len(placed))
    facts = ", ".join(fact for fact in (solved.piece.section.name, solved.order.grade) if fact)
    if solved.places and not placed:
        room = words - text_width(f"{facts}, ", _LEAST)
        facts = ", ".join((facts, *(_places(solved.places, head.units, room, 1) or _counted(solved.places))))
    most, narrow, last = pitch * _FULL, words < _NARROW, _LINES + len(placed)
    lines = [
        cell(solved.mark, (0, -pitch), words * 0.7, min(5.0, pitch * 0.8), bold=True),
        cell(facts, (0, -2 * pitch), words, min(3.2, most)),
        cell(_length(solved, head.units, words), (0, -3 * pitch), words, min(3.5, most), bold=not codes),
        cell(_ends(solved, head.units, marked, words), (0, -4 * pitch), words, min(3.0, most)),
        *(cell(says, (0, -i * pitch), words, _LEAST) for i, says in enumerate(placed, _LINES)),
        cell(_from_bar(one), (0, -last * pitch + 0.3), words, min(3.0, most)),
    ]
    if high:
        lines.append(cell(_job(head), (0, -(last + 1) * pitch + 0.3), words, _LEAST))
    elif not narrow:
        lines.append(_beside([_job(head), _briefly(head)], lines[1:], words))
    return _Lines(_inside(lines[:1], pitch), _inside(lines[1:], pitch), words, pitch)


def _inside(texts: Iterable[Text], pitch: float) -> Drawing:
    return Drawing(texts).moved(_EDGE, -_EDGE + pitch * 0.15)


def _beside(texts: Sequence[str], lines: Sequence[Text], words: float) -> Text:
    """The first of some texts that has room at the right of a line, the lowest that has; else the last as far as it
    goes where there is most."""
    free = [(words - line.width - _APART, line) for line in reversed(lines)]
    fits = ((says, *one) for says in texts for one in free if one[0] >= text_width(says, _LEAST))
    says, room, line = next(fits, (texts[-1], *max(free, key=lambda one: one[0])))
    return cell(says, (words - room, line.at[1]), room, _LEAST, "right")


def _places(places: Sequence[PieceMark], units: Units, room: float, lines: int) -> tuple[str, ...]:
    """Where holes and other pieces lie along it, in as few lines as tell all, else only how many; () for no room."""
    if not places:
        return ()
    along = ["; ".join(place_lines(places, units, code)) for code in ("places.along", "label.along")]
    whole = sorted((wrap(says, room, _LEAST) for says in along), key=len)
    counted_only = wrap(counted("label.see-sheet", len(places)), room, _LEAST)
    return next((told for told in (*whole, counted_only) if len(told) <= lines), ())


def _counted(places: Sequence[PieceMark]) -> tuple[str, ...]:
    return (counted("label.marks", len(places)),)


def _from_bar(one: CutPiece) -> str:
    """Of which bar, and the heat, or a line to write it on."""
    heat = one.heat or _BLANK
    if one.again:
        return phrase("label.again", number=one.again, heat=heat)
    return phrase("label.bar", bar=one.bar, heat=heat) if one.bar else phrase("label.heat", heat=heat)


def _angles(solved: SolvedPiece, brief: bool) -> str:
    """Both ends as miter and bevel in degrees from square to a tenth, for checking the piece when it is cut."""
    ends = (("L", solved.piece.cuts("left")), ("R", solved.piece.cuts("right")))
    return ", ".join(f"{name} {' + '.join(_cut(cut, brief) for cut in cuts)}" for name, cuts in ends)


def _ends(solved: SolvedPiece, units: Units, marked: bool, room: float) -> str:
    """The angles, what is done at the ends after the saw, and that the left one is marked by its template.

    Where there is no room for the name of a bevel it stands behind a stroke.
    """
    after = (*((phrase("label.template"),) if marked else ()), *(_worked(one, units) for one in solved.worked))
    told = [", ".join((_angles(solved, brief), *after)) for brief in (False, True)]
    return _that_fits(told, room)


def _that_fits(told: Sequence[str], room: float) -> str:
    """The first that a line of a label holds; the last where none is so short."""
    return next((says for says in told if text_width(says, _LEAST) <= room), told[-1])


def _worked(one: EndWork, units: Units) -> str:
    told = Remark(f"label.worked/{one.code}", word_of(end=f"label.end/{one.end}") + one.numbers)
    return told.told_by(lambda mm: show_length(mm, units))


def _length(solved: SolvedPiece, units: Units, room: float) -> str:
    """The long point, and how far the long point of the right end is turned from that of the left, as room allows."""
    length, turn = show_length(solved.piece.long_point, units), solved.piece.turn
    if min(abs(turn), 180 - abs(turn)) < _ON_ONE_SIDE:
        return phrase("label.long-point", length=length)
    way, shown = "clockwise" if turn > 0 else "counter", show_angle(abs(turn), 1)
    codes = (f"label.turned/{way}", f"label.turned-narrow/{way}")
    return _that_fits([phrase(code, length=length, turn=shown) for code in codes], room * _BOLD)


_BOLD: Final = 0.9
"""Of a line, what lettering may take that is measured light, so that it fits bold too."""


_ON_ONE_SIDE: Final = 0.05
"""degrees. Long points that lie so nearly on one side, or on opposite ones, are told so: a tenth shows no more."""


def _cut(cut: Cut, brief: bool) -> str:
    """A bevel alone, or a miter, with its bevel where it has one; `brief` miter/bevel."""
    angles = {"miter": _angle(cut.miter), "bevel": _angle(cut.bevel)}
    if angles["bevel"] == _NONE:
        return angles["miter"]
    if brief:
        return f"{angles['miter']}/{angles['bevel']}"
    return phrase("label.cut/bevel" if angles["miter"] == _NONE else "label.cut/both", **angles)


_NONE: Final = "0"
"""An angle that is shown as none."""


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
