"""Marks that are one piece, turned: whoever picks one of them may take either; knows frames and pieces."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

import attrs

from mitertool.frame import Assembly
from mitertool.job import Solution
from mitertool.packet.floor.values import PieceRow
from mitertool.piece.same_piece import same_piece
from mitertool.quantity.compare import same_length


def twins(assembly: Assembly) -> Iterator[tuple[str, str]]:
    """The pairs of marks around a flat frame of which one can be laid so that it is the other."""
    kinds = [member for member in assembly.pieces if member.mark in assembly.order] if assembly.in_plan else []
    for one, other in combinations(kinds, 2):
        if same_length(one.piece.long_point, other.piece.long_point) and same_piece(one.piece, other.piece):
            yield one.mark, other.mark


def with_twins(rows: Sequence[PieceRow], solution: Solution) -> tuple[PieceRow, ...]:
    """The rows, each that is the same piece as one before it with the first such mark."""
    alike: dict[str, set[str]] = {}
    for pair in (pair for order in solution.frames for hand in order.hands for pair in twins(hand.assembly)):
        for mark in pair:
            alike.setdefault(mark, set()).update(pair)
    first: list[PieceRow] = []
    for row in rows:
        before = next((one.mark for one in first if one.mark in alike.get(row.mark, ())), "")
        first.append(attrs.evolve(row, same_as=before))
    return tuple(first)
