"""Tables for a terminal and a page alike: the pieces of a solved job, the ways of its bars; knows job and words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from mitertool.job import Solution, SolvedPiece
from mitertool.nest import Alternative
from mitertool.packet.bar_cost import BarCost
from mitertool.packet.words import every_reading, long_points
from mitertool.quantity import Units, show_length
from mitertool.words import phrase

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
    """The ways of working side by side, the one that is best first; nothing where none was compared."""
    if not others:
        return []
    tilting = any(one.tilts for one in others)
    costs = () if cost.all_new(*others) else (cost.word(*others),)
    setups = ("swings", *(("tilts",) if tilting else ()), "rolls")
    told = ("nest.cuts", "nest.recuts", *(f"screen.{word}" for word in setups), "nest.loads", "screen.steel")
    rows: Rows = [("", *map(phrase, told), *costs, phrase("nest.minutes"), phrase("nest.money"))]
    for one in others:
        rates = ("-" if one.minutes is None else f"{one.minutes:.0f}", "-" if one.money is None else f"{one.money:.2f}")
        counts = (one.cuts, one.recuts, one.swings, *((one.tilts,) if tilting else ()), one.rolls, one.loads)
        paid = (cost.show(one.cost),) if costs else ()
        rows.append(
            (
                phrase(f"plan.name/{one.name.replace(' ', '-')}"),
                *map(str, counts),
                show_length(one.steel, cost.units),
                *paid,
                *rates,
            )
        )
    return rows
