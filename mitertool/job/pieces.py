"""One mark of a job: a [[piece]] table, or a piece that a frame asks for; knows the file format and piece."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.cut.end_words import end_from
from mitertool.cut.ends import End
from mitertool.job.model import FrameOrder, PieceOrder
from mitertool.job.rack import Rack
from mitertool.piece import AT, POSES, Piece
from mitertool.quantity.tables import Table
from mitertool.sections import Section, laid_by, shapes
from mitertool.sections.grades import density

KEYS: Final = (
    *("mark", "section", "grade", "length", "at", "left", "right"),
    *("quantity", "opposite", "lay", "out", "turn"),
)

LONGEST_MARK: Final = 20
"""Characters of a mark that a column of the cut sheet holds in readable lettering."""


def piece_order(table: Table, rack: Rack) -> PieceOrder:
    """The mark that a [[piece]] table asks for."""
    table.only(*KEYS)
    mark, grade = mark_of(table), table.words("grade", "")
    section = lay_of(table, rack.find(table, "section")).of_density(density(grade))
    length, at = table.length_from_zero("length"), table.choice("at", AT, "long-point")
    left, right = _end(table, "left"), _end(table, "right")
    quantity, opposite = table.count("quantity", 1, least=0), table.count("opposite", 0, least=0)
    if quantity + opposite == 0:
        raise BadInput("quantity", 0, "give at least 1 of the piece or of its opposite hand", table.where)
    with table.place():
        piece = Piece(section, length, left, right, at)
    return PieceOrder(mark, piece, quantity, opposite, grade, "", table.words("out", ""), _turn(table, piece))


def of_frame(frame: FrameOrder, table: Table) -> Iterator[PieceOrder]:
    """The marks that a frame asks for, in numbers for all frames of its kind."""
    grade = table.words("grade", "")
    words = [f"{word.key} {table.text(word.key)}" for word in shapes.frame_words() if table.has(word.key)]
    for member in frame.assembly.pieces:
        yield PieceOrder(
            mark=member.mark,
            piece=member.piece,
            quantity=member.quantity * frame.quantity,
            grade=grade,
            lies=", ".join(words),
            out="moving side",
            frame=frame.assembly.mark,
        )


def mark_of(table: Table) -> str:
    """The mark of a table, short enough to stand whole on every sheet."""
    mark = table.words("mark")
    if len(mark) > LONGEST_MARK:
        raise BadInput("mark", mark, f"a mark has at most {LONGEST_MARK} characters", table.where)
    return mark


def lay_of(table: Table, section: Section) -> Section:
    """The section as the key `lay` says: degrees counter-clockwise seen with the feed, or a word as "toes up"."""
    if not table.has("lay"):
        return section
    with table.place():
        return laid_by(section, table.raw("lay"))


def _end(table: Table, key: str) -> End:
    with table.place():
        return end_from(table.raw(key, 0), key, table.units)


def _turn(table: Table, piece: Piece) -> tuple[str, ...]:
    given = table.raw("turn", [])
    if not isinstance(given, list) or any(pose not in POSES for pose in given):
        raise BadInput("turn", given, f"a list of poses among {', '.join(POSES)}", table.where)
    if given and not set(given) & set(piece.poses):
        raise BadInput("turn", ", ".join(given), f"the section allows {', '.join(piece.poses)}", table.where)
    return tuple(given)
