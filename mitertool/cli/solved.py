"""The pieces of a solved job as a table for a terminal; knows job and packet's words."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest

from mitertool.cli.options import aligned
from mitertool.job import Solution, SolvedPiece
from mitertool.packet.words import every_reading, long_points
from mitertool.quantity import Units, show_length
from mitertool.words import phrase


def solved_lines(solution: Solution, unit: Units) -> list[str]:
    """The pieces of a solved job as a table; an end with more ways, or more cuts, has a line for each."""
    heads = ("mark", "pieces", "section", "long_point", "short_point", "left", "right", "long-points")
    head = tuple(phrase(f"screen.{word}") for word in heads)
    return aligned([head, *(row for piece in solution.pieces for row in _rows(piece, unit))])


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


def problem_lines(solution: Solution) -> list[str]:
    """What of a solved job cannot be made."""
    return [phrase("screen.cannot", why=problem) for problem in solution.problems]
