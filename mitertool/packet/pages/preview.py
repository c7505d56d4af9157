"""A solved job in plain characters for a terminal of 80 columns: the pieces as a table, each with a small picture."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain
from math import inf
from typing import Final

import attrs

from mitertool.base.speech import spelled
from mitertool.base.terminal import columns_of, filled, printable, wrapped
from mitertool.cut import Cut
from mitertool.job import Solution, SolvedPiece
from mitertool.job.solved import EndWay
from mitertool.packet.words import end_lines, lies, sided_reading
from mitertool.piece import Piece
from mitertool.quantity import Units, show_length
from mitertool.words import phrase

COLUMNS: Final = 80

_TITLES: Final = ("mark", "pieces", "section", "long_point", "short_point", "left", "right")
_BREAKABLE: Final = (0, 2, 5, 6)
"""The columns of words and of readings, which may be broken over lines."""

_LEAST: Final = 6
"""Characters of a broken column."""

_ROWS: Final = 4
_STEEPEST: Final = 3.5
"""Characters along the bar for one across it at which an end stays in the picture, however long its miter is."""

_LONGEST: Final = 28
"""Characters of bar between two cuts; a longer piece is drawn with a stretch left out."""


def preview(solution: Solution, encoding: str | None = None) -> list[str]:
    """Lines of at most `COLUMNS` columns: the table, then for each mark its settings and a picture.

    Signs that the terminal's `encoding` lacks are spelled out, since that takes columns.
    """
    units = solution.job.head.units
    angles = phrase("preview.scale" if solution.job.saw else "preview.square")
    blocks = (line for piece in solution.pieces for line in ("", *_block(piece, units)))
    lines = ["", " ".join((angles, phrase("preview.pictures"))), *blocks]
    told = (_broken(spelled(line, encoding)) for line in lines)
    return [*_table(solution.pieces, units, encoding), *chain.from_iterable(told)]


def _table(pieces: Sequence[SolvedPiece], units: Units, encoding: str | None) -> list[str]:
    said = [[phrase(f"screen.{title}") for title in _TITLES], *(_row(piece, units) for piece in pieces)]
    rows = [[spelled(cell, encoding) for cell in row] for row in said]
    widths = _fitted([max(map(columns_of, column)) for column in zip(*rows, strict=True)])
    return [line for row in rows for line in _cells(row, widths)]


def _row(solved: SolvedPiece, units: Units) -> tuple[str, ...]:
    piece = solved.piece
    return (
        *(printable(solved.mark), str(solved.quantity), printable(piece.section.name)),
        *(show_length(piece.long_point, units), show_length(piece.short_point, units)),
        *(" + ".join(_reading(*cut) for cut in solved.cuts_of(end)) for end in ("left", "right")),
    )


def _reading(ways: Sequence[EndWay], cut: Cut) -> str:
    """What is set for an end; where that is more than one thing it stands below the table."""
    shown = {sided_reading(way.reach, cut) for way in ways}
    return shown.pop() if len(shown) == 1 else phrase("preview.below")


def _fitted(widths: list[int]) -> list[int]:
    """The widths of the columns, those of words made narrower until the table fits."""
    while sum(widths) + 2 * (len(widths) - 1) > COLUMNS:
        widest = max(_BREAKABLE, key=lambda i: widths[i])
        if widths[widest] <= _LEAST:
            break
        widths[widest] -= 1
    return widths


def _cells(row: Sequence[str], widths: Sequence[int]) -> Iterator[str]:
    """A row of a table in as many lines as its highest cell needs."""
    broken = [wrapped(cell, width) for cell, width in zip(row, widths, strict=True)]
    for i in range(max(map(len, broken))):
        parts = (lines[i] if i < len(lines) else "" for lines in broken)
        yield "  ".join(filled(part, width) for part, width in zip(parts, widths, strict=True)).rstrip()


def _block(solved: SolvedPiece, units: Units) -> list[str]:
    """A mark with what it is, its lengths, its picture and what is set for both ends."""
    piece = solved.piece
    words = (piece.section.name, lies(piece.section), solved.order.grade)
    code = "preview.opposite" if solved.hand == "opposite" else "preview.title"
    title = phrase(code, mark=solved.mark, count=solved.quantity, section=", ".join(word for word in words if word))
    return [
        printable(title),
        f"  {_lengths(piece, units)}",
        *_pictures(piece),
        *(f"  {line}" for line in end_lines(solved)),
    ]


def _broken(line: str) -> list[str]:
    """A line in as many as it needs, each set in as it is."""
    if columns_of(line) <= COLUMNS:
        return [line]
    indent = len(line) - len(line.lstrip())
    return [" " * indent + part for part in wrapped(line, COLUMNS - indent)]


def _lengths(piece: Piece, units: Units) -> str:
    names = ("long_point", "short_point", "overall")
    shown = {name: show_length(getattr(piece, name), units) for name in names}
    if shown["overall"] == shown["long_point"]:
        del shown["overall"]
    return ", ".join(f"{phrase(f'screen.{name}')} {length}" for name, length in shown.items())


def _pictures(piece: Piece) -> list[str]:
    """The piece from above, and from the fixed jaw's side where an end has a bevel."""
    section, edges = piece.section, piece.edges
    at_fixed, on_bed = (edges.fixed_bottom + edges.fixed_top) / 2, (edges.fixed_bottom + edges.moving_bottom) / 2
    above = _View(*_slopes(piece, 0), at_fixed / section.width, (phrase("jaw.moving"), phrase("jaw.fixed")))
    if not piece.beveled:
        return above.lines()
    aside = _View(*_slopes(piece, 1), on_bed / section.height, (phrase("preview.top"), phrase("preview.bed")))
    return [*above.lines(), *aside.lines()]


def _slopes(piece: Piece, axis: int) -> tuple[_Slopes, _Slopes]:
    """The slopes of both ends across the bed (axis 0) or above it (1)."""
    size = (piece.section.width, piece.section.height)[axis]

    def of(end: str) -> _Slopes:
        first, further = piece.end(end)
        places = (one.place(piece.section, first)[axis] / size for one in further)
        return tuple(zip([(cut.p, cut.q)[axis] for cut in piece.cuts(end)], (0.0, *places), strict=True))

    return of("left"), of("right")


_Slopes = tuple[tuple[float, float], ...]
"""Each slope of an end, and at which share of the depth it meets the first one."""


@attrs.frozen
class _View:
    """A view of a piece: the slopes of its ends, how many times its depth it is long at the bottom, words at the right.

    Positions are columns; boundary 0 is the top of the picture, `_ROWS` its bottom.
    """

    left: _Slopes
    right: _Slopes
    share: float
    words: tuple[str, str]

    @property
    def broken(self) -> bool:
        """Whether a stretch is left out."""
        return self._shortest > _LONGEST

    @property
    def _shortest(self) -> float:
        """Columns of the shortest line, were the whole piece drawn."""
        grows = [_out(self.left, level) + _out(self.right, level) for level in _LEVELS]
        return _ROWS * (self.share + min(grows) - grows[-1])

    def ends(self) -> list[tuple[int, int]]:
        """Where the two ends cross each boundary, from the top down, beginning at column 0."""
        left, right = ([_ROWS * _out(end, level, _STEEPEST) for level in _LEVELS] for end in (self.left, self.right))
        grows = [a + b for a, b in zip(left, right, strict=True)]
        short = min(max(self._shortest, 0.0 if max(grows) - min(grows) >= 1 else 2.0), _LONGEST)
        bottom, shift = _nearest(short - min(grows)), _nearest(max(left))
        return [(shift - _nearest(a), shift + bottom + _nearest(b)) for a, b in zip(left, right, strict=True)]

    def lines(self) -> list[str]:
        """The picture."""
        ends = self.ends()
        rows = [_ruled(*ends[0]), *(_sides(ends[i], ends[i + 1], i == _ROWS - 1) for i in range(_ROWS))]
        if self.broken:
            rows = [_left_out(rows[0], ends), *rows[1:-1], _left_out(rows[-1], ends)]
        width = max(right for _, right in ends)
        words = ["", self.words[0], *[""] * (_ROWS - 2), self.words[1]]
        return [f"    {row:<{width}}  {word}".rstrip() for row, word in zip(rows, words, strict=True)]


_LEVELS: Final = tuple(1 - i / _ROWS for i in range(_ROWS + 1))
"""Shares of the depth at the boundaries of the rows, from the top down."""


def _out(end: _Slopes, level: float, most: float = inf) -> float:
    """How far an end stands out at a share of the depth, in depths, none of its slopes steeper than `most`."""
    slopes = [max(-most, min(most, slope)) for slope, _ in end]
    return min((slopes[0] - slope) * meets + slope * level for slope, (_, meets) in zip(slopes, end, strict=True))


def _nearest(columns: float) -> int:
    """Half columns away from zero, so that both hands look alike."""
    return int(columns + (0.5 if columns > 0 else -0.5))


def _ruled(left: int, right: int) -> str:
    """The top edge."""
    return " " * left + "_" * (right - left)


def _sides(top: tuple[int, int], bottom: tuple[int, int], last: bool) -> str:
    """One row: both ends between two boundaries, with the bottom edge between them in the last row."""
    row = [" "] * max(*top, *bottom)
    if last:
        row[bottom[0] : bottom[1]] = "_" * (bottom[1] - bottom[0])
    for (a, b), upright in zip(zip(top, bottom, strict=True), (0, -1), strict=True):
        at, says = _stroke(a, b, upright)
        row[at : at + len(says)] = says
    return "".join(row)


def _stroke(a: int, b: int, upright: int) -> tuple[int, str]:
    """An end from column a at the top of a row to b at its bottom: where it begins, and its characters."""
    if b > a:
        return a, "\\" + "_" * (b - a - 1)
    if b < a:
        return b, "_" * (a - b - 1) + "/"
    return a + upright, "|"


def _left_out(row: str, ends: Sequence[tuple[int, int]]) -> str:
    middle = (max(left for left, _ in ends) + min(right for _, right in ends)) // 2
    return f"{row[: middle - 1]}//{row[middle + 1 :]}"
