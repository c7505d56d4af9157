"""One mark of a job: a [[piece]] table, or a piece that a frame asks for; knows the file's keys and piece."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import attrs

from mitertool.base.errors import BadInput
from mitertool.cut import Cut
from mitertool.cut.ends import turned_end
from mitertool.frame.inside.landings import marks_by_piece
from mitertool.job.keys import PIECE
from mitertool.job.model import FrameOrder
from mitertool.job.named import NamedSections
from mitertool.job.orders import PieceOrder
from mitertool.job.particulars import Particulars
from mitertool.piece import Piece
from mitertool.piece.marks import EndWork, refuse_beyond
from mitertool.quantity.keys import Values
from mitertool.quantity.tables import Table
from mitertool.saw.setting.rows import refuse_row
from mitertool.sections import Section, laid_by
from mitertool.sections.grades import density
from mitertool.words import phrase


def piece_order(table: Table, sections: NamedSections) -> PieceOrder:
    """The mark that a [[piece]] table asks for."""
    said = PIECE.read(table)
    with table.place():
        grade, turn = said.get("grade", ""), said.get("turn", ())
        section = sections.once(lay_of(said, sections.named(said["section"], "section")).of_density(density(grade)))
        given = {key: said[key] for key in ("length", "at", "left", "right") if key in said}
        if "turned" in said or "turned_arc" in said:
            end = said.get("right", Cut())
            given["right"] = turned_end(end, section, said.get("turned"), said.get("turned_arc"))
        piece = Piece(section, **given)
        _check_turn(turn, piece)
        together = {key: said[key] for key in ("side_by_side", "boxed") if key in said}
        order = PieceOrder(
            *(said["mark"], piece, said.get("quantity", 1), said.get("opposite", 0), grade, "", said.get("out", "")),
            turn,
            particulars=Particulars.taken(said),
            **together,
            places=said.get("holes", ()),
        )
        refuse_beyond(piece, order.places)
        _check_together(order)
    return order


def _check_together(order: PieceOrder) -> None:
    """Raise `BadInput` where bars cannot be cut at once so that whole rows give just what is asked for."""
    row, piece = order.side_by_side, order.piece
    refuse_row(max(row, 2 if order.boxed else 1), piece.left, piece.right, bool(piece.further))
    if order.boxed and order.quantity != order.opposite:
        found = phrase("found.hands", drawn=order.quantity, opposite=order.opposite)
        raise BadInput("boxed", found, phrase("refuse.boxed-hands"))
    for key, count in (("quantity", order.quantity), ("opposite", order.opposite)):
        if count % row:
            raise BadInput(key, count, phrase("refuse.rows-of", row=row))
    order.in_vise(piece)


def of_frame(
    frame: FrameOrder, grade: str, lies: Mapping[str, str], worked: Mapping[str, tuple[EndWork, ...]]
) -> Iterator[PieceOrder]:
    """The marks that a frame asks for, in numbers for all frames of its kind.

    `lies` are its words by their keys, `worked` what is done after the saw at the ends of each mark.
    """
    places = marks_by_piece(frame.assembly) if frame.assembly.inside or frame.assembly.holes else {}
    shows = dict.fromkeys(frame.assembly.outside_up, "top")
    for member in frame.assembly.pieces:
        yield PieceOrder(
            mark=member.mark,
            piece=member.piece,
            quantity=member.quantity * (frame.quantity - frame.mirrored),
            opposite=member.quantity * frame.mirrored,
            grade=grade if member.grade is None else member.grade,
            lies=", ".join(f"{key} {word}" for key, word in lies.items()),
            frame=frame.assembly.mark,
            particulars=attrs.evolve(frame.particulars, note=""),
            places=places.get(member.mark, ()),
            worked=worked.get(member.mark, ()),
            shows=shows.get(member.mark, "moving" if frame.assembly.in_plan else ""),
        )


def lay_of(said: Values, section: Section) -> Section:
    """The section as the key `lay` says: degrees counter-clockwise seen with the feed, or a word as "toes up"."""
    return laid_by(section, said["lay"]) if "lay" in said else section


def _check_turn(turn: tuple[str, ...], piece: Piece) -> None:
    if turn and not set(turn) & set(piece.poses):
        raise BadInput("turn", ", ".join(turn), phrase("refuse.turn", poses=", ".join(piece.poses)))
