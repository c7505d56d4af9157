"""What cannot be made as asked, and why, as values: a code and its numbers, no words; knows nothing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

import attrs

Kind = Literal["length", "angle", "count", "name", "names"]
"""What a number is: mm, degrees, how many; or what a file or a catalogue calls something, one or several."""

Value = float | int | str | tuple[str, ...]


@attrs.frozen
class Number:
    """A value that a sentence shows, by its name there, and its kind."""

    name: str
    value: Value
    kind: Kind


Numbers = tuple[Number, ...]


@attrs.frozen
class Remark:
    """What is to be told: a stable `code`, with the numbers that its sentence shows, and `more` to tell after it.

    `case` is which of the sentences of a code it is, "" where the code has one or it is the first.
    """

    code: str
    numbers: Numbers = ()
    case: str = ""
    more: tuple[Remark, ...] = ()


@attrs.frozen
class Problem:
    """Why the pieces of `mark` cannot be made as asked; code, numbers, case and more are those of a `Remark`.

    `end` is "left" or "right" where it is told of a cut of the piece as drawn, else ""; `cut` counts the cuts of that
    end from 1, 0 without an end. `bar` is the number of the bar on which a plan set the cut so, 0 where none is
    meant.
    """

    mark: str
    end: str
    code: str
    numbers: Numbers
    case: str = ""
    more: tuple[Remark, ...] = ()
    cut: int = 0
    bar: int = 0

    @classmethod
    def of(cls, told: Remark, mark: str, end: str = "", cut: int = 0, bar: int = 0) -> Problem:
        """The problem that something is of a mark, of a cut of it, or of how a bar has it."""
        return cls(mark, end, told.code, told.numbers, told.case, told.more, cut, bar)


def lengths(**by_name: float) -> Numbers:
    """Lengths, mm."""
    return _numbers("length", by_name)


def angles(**by_name: float) -> Numbers:
    """Angles, degrees."""
    return _numbers("angle", by_name)


def counts(**by_name: int) -> Numbers:
    """How many of something."""
    return _numbers("count", by_name)


def names(**by_name: str | Sequence[str]) -> Numbers:
    """What files and catalogues call something, one or several."""
    return tuple(
        Number(name, called, "name") if isinstance(called, str) else Number(name, tuple(called), "names")
        for name, called in by_name.items()
    )


def _numbers(kind: Kind, by_name: dict[str, float] | dict[str, int]) -> Numbers:
    return tuple(Number(name, value, kind) for name, value in by_name.items())
