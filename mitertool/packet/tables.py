"""Tables for a terminal and a page alike: the pieces of a solved job, the ways of its bars; knows job and words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest
from typing import TYPE_CHECKING, Final

from mitertool.job import Solution, SolvedPiece
from mitertool.packet.bar_cost import BarCost
from mitertool.packet.words import every_reading, long_points
from mitertool.quantity import Units, show_length
from mitertool.words import phrase

if TYPE_CHECKING:
    from mitertool.nest import Alternative

Rows = list[tuple[str, ...]]
"""The cells of a table, its titles first."""


def piece_rows(solution: Solution, unit: Units) -> Rows:
    """The pieces of a solved job; an end with more ways, or more cuts, has a row for each."""
    heads = ("mark", "pieces", "section", "long_point", "short_point", "left", "right", "long-points")
    head = tuple(phrase(f"screen.{word}") for word in heads)
    return [head, *(row for piece in solution.pieces for row in _rows(piece, unit))]


def _rows(solved: SolvedPiece, unit: Units) -> Iterator[tuple[str, ...]]:
    piece = solved.piece
    told = [solved.mark, str(solved.quantity), piece.section.name]
    told += [show_length(piece.long_point, unit), show_length(piece.short_point, unit)]
    columns = [[word] for word in told]
    return zip_longest(*columns, _end(solved, "left"), _end(solved, "right"), [long_points(piece)], fillvalue="")


def _end(solved: SolvedPiece, end: str) -> list[str]:
    """What is set for an end: every further way begins with "or", every further cut with "+"."""
    lines: list[str] = []
    for cut in solved.cuts_of(end):
        first, *others = every_reading(*cut)
        lines += [f"+ {first}" if lines else first, *(phrase("screen.or", other=other) for other in others)]
    return lines


def way_rows(others: Sequence[Alternative], cost: BarCost) -> Rows:
    """The ways of working side by side, the one that is best first; nothing where none was compared.

    A column that tells nothing of any way is left out.
    """
    if not others:
        return []
    name = tuple(phrase(f"plan.name/{one.name.replace(' ', '-')}") for one in others)
    columns = [("", *name), *_counted(others, cost), *_paid(others, cost)]
    return [*zip(*columns, strict=True)]


def _counted(others: Sequence[Alternative], cost: BarCost) -> Iterator[tuple[str, ...]]:
    """The columns of what is done, each below its title."""
    counts = {
        "nest.cuts": [one.cuts for one in others],
        "nest.recuts": [one.recuts for one in others],
        "screen.swings": [one.swings for one in others],
        "screen.tilts": [one.tilts for one in others],
        "screen.rolls": [one.rolls for one in others],
        "nest.loads": [one.loads for one in others],
    }
    yield from ((phrase(title), *map(str, found)) for title, found in counts.items() if title != _TILTS or any(found))
    yield (phrase("screen.steel"), *(show_length(one.steel, cost.units) for one in others))


_TILTS: Final = "screen.tilts"


def _paid(others: Sequence[Alternative], cost: BarCost) -> Iterator[tuple[str, ...]]:
    """The columns of what that takes, each below its title."""
    if not cost.all_new(*others):
        yield (cost.word(*others), *(cost.show(one.cost) for one in others))
    for title, decimals, found in (
        (phrase("nest.minutes"), 0, [one.minutes for one in others]),
        (cost.in_all, 2, [one.money for one in others]),
    ):
        if any(one is not None for one in found):
            yield (title, *("-" if one is None else f"{one:.{decimals}f}" for one in found))
