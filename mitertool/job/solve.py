"""Solves a job: hands, settings on the saw, bars; every room to the left does its own part."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mitertool import nest
from mitertool.base.errors import CannotMake
from mitertool.frame.alternatives import past_the_scale
from mitertool.job.model import Job, PieceOrder
from mitertool.job.solution import Solution, SolvedPiece
from mitertool.nest import Item, Plan
from mitertool.piece import Piece
from mitertool.saw import Reach, Saw


def solve(job: Job) -> Solution:
    """Everything that a packet shows. Problems are listed in the answer, not raised."""
    pieces = tuple(solved for order in job.pieces for solved in _hands(order, job.saw))
    problems = [problem for piece in pieces for problem in piece.problems]
    plan = None
    if job.allowance is not None:
        try:
            plan = _plan(job, pieces)
        except CannotMake as error:
            problems += error.reasons
    past = (corner for frame in job.frames for corner in past_the_scale(frame.assembly, _most(job.saw)))
    return Solution(job, pieces, job.frames, plan, tuple(problems), tuple(past))


_USUAL: Final = 60.0
"""degrees from square at which many scales end: common practice, no source; used where there is no saw file."""


def _most(saw: Saw | None) -> float:
    """The largest swing of the saw to either side; a bar may be rolled for the other."""
    return max(saw.scale.feed_side_most, saw.scale.discharge_side_most) if saw else _USUAL


def _hands(order: PieceOrder, saw: Saw | None) -> Iterator[SolvedPiece]:
    """The piece as drawn and its opposite hand; one entry where the opposite hand is the same piece."""
    if order.opposite and order.piece.is_own_opposite:
        yield _solved(order, order.mark, "as drawn", order.piece, order.quantity + order.opposite, saw)
        return
    if order.quantity:
        yield _solved(order, order.mark, "as drawn", order.piece, order.quantity, saw)
    if order.opposite:
        yield _solved(order, order.opposite_mark, "opposite", order.piece.opposite_hand(), order.opposite, saw)


def _solved(order: PieceOrder, mark: str, hand: str, piece: Piece, quantity: int, saw: Saw | None) -> SolvedPiece:
    def reaches(one: Piece) -> tuple[Reach | None, Reach | None]:
        if saw is None:
            return None, None
        return saw.reach(one.section, one.left, "left"), saw.reach(one.section, one.right, "right")

    return SolvedPiece(order, mark, hand, piece, quantity, *reaches(piece), reaches(order.piece))


def _plan(job: Job, pieces: tuple[SolvedPiece, ...]) -> Plan:
    assert job.allowance is not None
    items = [Item(p.mark, p.piece, p.quantity, p.order.grade, p.order.turn) for p in pieces]
    return nest.solve(items, job.stock, job.allowance)
