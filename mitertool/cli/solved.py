"""A solved job as lines for a terminal; knows packet's tables."""

from __future__ import annotations

from mitertool.cli.options import aligned
from mitertool.job import Solution
from mitertool.packet.tables import piece_rows
from mitertool.quantity import Units
from mitertool.words import phrase


def solved_lines(solution: Solution, unit: Units) -> list[str]:
    """The pieces of a solved job as a table; an end with more ways, or more cuts, has a line for each."""
    return aligned(piece_rows(solution, unit))


def problem_lines(solution: Solution) -> list[str]:
    """What of a solved job cannot be made."""
    return [phrase("screen.cannot", why=problem) for problem in solution.problems]
