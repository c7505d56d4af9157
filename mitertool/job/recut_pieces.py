"""Pieces that are cut already and become others: how each is set and where its stop stands; knows job and saw."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

import attrs

from mitertool import nest, rack
from mitertool.bar import Angles, BarCut, BarPiece
from mitertool.base.totals import summed
from mitertool.cut import Cut
from mitertool.job.model import Job
from mitertool.job.orders import PieceOrder
from mitertool.job.recuts import RecutRun
from mitertool.job.settings import Use
from mitertool.job.solved import SolvedPiece, held_first
from mitertool.piece import POSES, Piece
from mitertool.piece.poses import end_in, one_after_other
from mitertool.quantity.problem import Problem
from mitertool.saw import Reach
from mitertool.saw.feed.stops import stop_behind
from mitertool.saw.setting.asked import Asked
from mitertool.saw.setting.reach import as_set

if TYPE_CHECKING:
    from mitertool.job.before import CutAlready
    from mitertool.rack import RackBar


@attrs.frozen
class RecutPiece:
    """Pieces that are cut already and become others of one mark, by their number in the packet, counted from 1.

    `solved` is what they become, so many of it; `steps` the cuts that make it, one end after the other, and `off_cuts`
    what comes off each piece.
    """

    number: int
    offer: CutAlready
    solved: SolvedPiece
    steps: tuple[RecutRun, ...]
    off_cuts: tuple[RackBar, ...] = ()

    @property
    def called(self) -> str:
        """Its number as the sheet has it."""
        return f"R{self.number}"


def taken(job: Job) -> tuple[CutAlready, ...]:
    """The pieces that are recut in a job of a rest, blanks that get their other end among them; none in any other."""
    rest = job.rest
    fates = ("finish", "recut") if rest and rest.taken else ("finish",)
    return tuple(one for one in rest.offers if one.fate in fates) if rest else ()


def recut_pieces(job: Job, wanted: Sequence[SolvedPiece], asked: Asked | None) -> tuple[RecutPiece, ...]:
    """All that are recut, in their order; `wanted` are the marks of the whole job."""
    by_mark = {one.mark: one for one in wanted}
    return tuple(
        RecutPiece(
            number,
            offer,
            attrs.evolve(by_mark[offer.to], quantity=offer.count),
            tuple(recut_steps(number, offer, by_mark[offer.to].order, by_mark[offer.to].piece, asked)),
            off_cuts(offer, by_mark[offer.to].order.grade, job.kerf),
        )
        for number, offer in enumerate(taken(job), 1)
    )


def recut_steps(
    number: int, offer: CutAlready, order: PieceOrder, new: Piece, asked: Asked | None
) -> Iterator[RecutRun]:
    """The cuts that make a hand of an order, the piece `new`, of pieces that are cut already.

    Of two ends the old piece's right one first: its left end, as it is, stands at the stop.
    """
    old, how = offer.piece, offer.how
    assert old is not None
    assert how is not None
    blank = old.centerline
    if len(how.cut_anew) == 2:
        half = Piece(old.section, blank - how.off[1], old.left, how.ends[1], at="centerline")
        yield _step(number, offer, order, (half, "right", blank), asked)
        blank = half.centerline
    yield _step(number, offer, order, (new.blank, how.cut_anew[0], blank), asked)


def _step(
    number: int, offer: CutAlready, order: PieceOrder, made: tuple[Piece, str, float], asked: Asked | None
) -> RecutRun:
    """The cut of an end of a piece, which the vise holds where the saw makes it so, else it holds the off-cut."""
    piece, end, _blank = made
    leads = asked.saw.leads if asked else "left"
    poses = held_first(piece, order.turn, end, leads)
    found = [_laid(number, offer, order.grade, made, pose, asked) for pose in poses]
    return next((run for run in found if run.reach is None or run.reach.ok), found[0])


def _laid(
    number: int, offer: CutAlready, grade: str, made: tuple[Piece, str, float], pose: str, asked: Asked | None
) -> RecutRun:
    piece, end, blank = made
    laid = BarPiece.of(offer.to, piece, pose, leads=asked.saw.leads if asked else "left")
    leads = end_in(pose, end) == laid.leads
    cut, other = (laid.lead, laid.trail) if leads else (laid.trail, laid.lead)
    angles = nest.ways_to_set(cut, laid.section, asked)[0] if asked else Angles()
    held = (laid.centerline if leads else blank - laid.centerline) - other.half_reach(laid.section)
    reach = as_set(asked.saw, laid.section, angles, asked.count, held) if asked else None
    head = (offer.to, laid.section, grade, offer.count, end, pose, 0)
    recut = nest.Recut(*head, blank, laid.centerline, *laid.along_bottom, cut, angles)
    return RecutRun(number, recut, laid, reach, stop_behind(laid, reach) if reach and leads else None)


def recut_uses(again: Iterable[RecutPiece]) -> Iterator[tuple[Use, str, Reach]]:
    """What each cut makes of the new piece, as it is drawn, its grade and its reach; nothing without a saw file.

    The first of two cuts is laid by how the old piece is drawn, of which the new one lies in a pose of its own.
    """
    for one in again:
        *first, last = one.steps
        lies = one.offer.how.pose if one.offer.how else POSES[0]
        for step, pose in (
            *((step, one_after_other(lies, step.recut.pose)) for step in first),
            (last, last.recut.pose),
        ):
            if step.reach:
                end = end_in(step.recut.pose, step.recut.end)
                yield Use.of(step.recut.mark, end, step.reach, pose), step.recut.grade, step.reach


def against(offer: CutAlready, order: PieceOrder, new: Piece, asked: Asked | None) -> Problem | None:
    """Why the saw cannot recut pieces to a hand of an order, the piece `new`; None where it can."""
    for step in recut_steps(0, offer, order, new, asked):
        for reason in step.reach.reasons if step.reach else ():
            return Problem.of(reason, offer.to, step.recut.end, 1)
    return None


def off_cuts(offer: CutAlready, grade: str, kerf: float) -> tuple[RackBar, ...]:
    """What comes off a piece at either end, where anything of it is whole, as the catalogue draws its section."""
    if offer.piece is None or offer.how is None:
        return ()
    old, (left, right), ends = offer.piece, offer.how.off, offer.how.ends
    parts = (((old.left, ends[0].reversed), left, ends[0]), ((ends[1].reversed, old.right), right, ends[1]))
    found = (_off_cut(old, pair, off - cut.kerf_along(kerf), grade) for pair, off, cut in parts)
    return tuple(attrs.evolve(one, heat=offer.heat) for one in found if one)


def _off_cut(old: Piece, ends: tuple[Cut, Cut], length: float, grade: str) -> RackBar | None:
    """So much on the centerline between two ends; None where nothing of it is whole."""
    reach = summed(BarCut(cut).half_reach(old.section) for cut in ends)
    if length - reach <= 0:
        return None
    left, right = (BarCut(cut).unlaid(old.section).plane for cut in ends)
    return rack.RackBar(old.section.name, length + reach, length - reach, grade, "", left, right)
