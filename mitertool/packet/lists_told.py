"""How lists of parts were read, row by row: what each row became, or what is wrong with it; knows lists and job."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from attrs import frozen

from mitertool.base.errors import BadInput, BadRows
from mitertool.job import Job
from mitertool.job.orders import PieceOrder
from mitertool.lists.read import ListRow, PartsList
from mitertool.packet.tables import Rows
from mitertool.packet.words import lies
from mitertool.piece import Piece
from mitertool.quantity import Units, show_angle, show_length
from mitertool.words import phrase


@frozen
class ListTold:
    """A list: what was read of it, what was not ("" where all was), and its rows below their titles."""

    read: str
    not_read: str
    rows: Rows


def lists_told(job: Job, unit: Units) -> Iterator[ListTold]:
    """The lists of a job, each row with the mark that it became: pieces, lengths, ends, how it lies, grade."""
    orders = {order.mark: order for order in job.pieces}
    for one in job.lists:
        head = (*_head(one), *(phrase(f"list.echo.{word}") for word in ("became", "long", "at-ends", "lies", "grade")))
        rows = [(*_cells(one, row), *_became(orders[row.mark], unit)) for row in one.rows]
        yield ListTold(_read(one), _not_read(one), [head, *rows])


def refused_told(one: PartsList, error: BadRows) -> ListTold:
    """A list of which rows were refused, each of these with what is wrong with it, and where."""
    wrong = {row.number: _wrong(one, row, error) for row in one.rows}
    bad = sum(map(bool, wrong.values()))
    read = phrase("list.echo.refused", file=one.file, bad=bad, rows=len(one.rows))
    head = (*_head(one), phrase("list.echo.wrong"))
    return ListTold(read, _not_read(one), [head, *((*_cells(one, row), wrong[row.number]) for row in one.rows)])


def _wrong(one: PartsList, row: ListRow, error: BadRows) -> str:
    """What is told of a row, from its cell on."""
    here = phrase("list.row", number=row.number)
    of_row = (told for told in error.refusals if one.file in told.where and here in told.where)
    return "; ".join(
        str(BadInput(told.what, told.found, told.allowed, told.where[told.where.index(here) + 1 :])) for told in of_row
    )


def _read(one: PartsList) -> str:
    told = {"file": one.file, "rows": len(one.rows), "header": one.columns.header}
    return phrase("list.echo.read" if one.columns.header else "list.echo.read-bare", **told)


def _not_read(one: PartsList) -> str:
    left = one.columns.not_read
    return phrase("list.echo.not-read", file=one.file, headings=", ".join(left)) if left else ""


def _head(one: PartsList) -> tuple[str, ...]:
    headings = (f"{column.heading or key} ({column.cell(0)[:-1]})" for key, column in one.columns.read.items())
    return (phrase("list.echo.row"), *headings)


def _cells(one: PartsList, row: ListRow) -> tuple[str, ...]:
    written: Mapping[str, str] = dict(row.written)
    return (str(row.number), *(written.get(key, "") for key in one.columns.read))


def _became(order: PieceOrder, unit: Units) -> tuple[str, ...]:
    piece = order.piece
    counts = ", ".join(_pieces(order, mark, count) for mark, count in order.counts)
    lengths = phrase(
        "list.echo.lengths", long=show_length(piece.long_point, unit), short=show_length(piece.short_point, unit)
    )
    left, right = ("; ".join(show_angle(cut.miter) for cut in piece.cuts(end)) for end in ("left", "right"))
    ends = phrase(f"list.echo.ends/{_long_sides(piece)}", left=left, right=right)
    return (counts, lengths, ends, _lying(piece, unit), order.grade)


def _pieces(order: PieceOrder, mark: str, count: int) -> str:
    """How many of a mark; of both hands together, and of the other hand, what they are."""
    alike = order.quantity and order.opposite and order.is_own_opposite
    case = "alike" if alike else "opposite" if mark != order.mark else "drawn"
    return phrase(f"list.echo.pieces/{case}", count=count, section=f"{order.piece.section.name} {mark}")


def _long_sides(piece: Piece) -> str:
    """At which side of the bar, as it lies drawn, the mitered ends are long."""
    left, right = piece.left.miter, piece.right.miter
    sides = {"moving" if miter > 0 else "fixed" for miter in (left, right) if miter}
    if len(sides) == 2:
        return "left-moving" if left > 0 else "left-fixed"
    return sides.pop() if sides else "square"


def _lying(piece: Piece, unit: Units) -> str:
    """Across which side of its section a piece is mitered, and how that lies; "" of one whose ends are square."""
    if not any(cut.miter or cut.bevel for end in ("left", "right") for cut in piece.cuts(end)):
        return ""
    how, across = lies(piece.section), show_length(piece.section.width, unit)
    return phrase("list.echo.across/lies" if how else "list.echo.across/plain", across=across, lies=how)
