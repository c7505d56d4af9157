"""Problems in the words of the language that is spoken, with the mark and the place that each is told of."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from mitertool.quantity.problem import Problem, Remark
from mitertool.quantity.units import Units
from mitertool.words import codes, phrase

CODES: Final = codes("problem")
"""Every code of a problem, once."""


def reason_says(told: Remark | Problem, units: Units) -> str:
    """The sentence of a reason, its lengths in `units`, without its place; what more is told stands behind it."""
    remark = told if isinstance(told, Remark) else Remark(told.code, told.numbers, told.case, told.more)
    return remark.in_units(units)


def problem_says(problem: Problem, units: Units) -> str:
    """The sentence of a problem, with the mark that it is told of and where at its front."""
    where = ", ".join(filter(None, (problem.mark, _place(problem))))
    return f"{where}: {reason_says(problem, units)}"


def problem_why(problem: Problem, units: Units) -> str:
    """The same without the mark."""
    return ": ".join(filter(None, (_place(problem), reason_says(problem, units))))


def problems_in_lines(problems: Iterable[Problem], units: Units) -> tuple[str, ...]:
    """The sentences of problems in their order, with every mark of which one is told at the same place at its front."""
    found: dict[tuple[str, str], list[str]] = {}
    for problem in problems:
        found.setdefault((_place(problem), reason_says(problem, units)), []).append(problem.mark)
    fronts = (", ".join(filter(None, (*dict.fromkeys(marks), place))) for (place, _), marks in found.items())
    return tuple(f"{front}: {says}" for front, (_, says) in zip(fronts, found, strict=True))


def _place(problem: Problem) -> str:
    """Where a problem of a mark lies, as closely as it is told; "" where it is told of the whole of it."""
    if problem.cut > 1:
        return phrase("where.cut", end=phrase(f"end.{problem.end}"), cut=problem.cut)
    if problem.end:
        return phrase("where.end", end=phrase(f"end.{problem.end}"))
    return ""
