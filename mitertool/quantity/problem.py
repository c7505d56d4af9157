"""What is to be told, and what cannot be made as asked and why, as values: a code and its numbers, no words."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import attrs

from mitertool.quantity.telling import As, Kind, Number, Numbers, ShowAs, in_units, renamed, told
from mitertool.quantity.units import Units


@attrs.frozen
class Remark:
    """What is to be told: a stable `code`, with the numbers that its sentence shows, and `more` to tell after it.

    A code names its room and what it says, "refuse.crossed"; that of a problem is a word alone. `case` is which of the
    sentences of a code it is, "" where the code has one or it is the first.
    """

    code: str
    numbers: Numbers = ()
    case: str = ""
    more: tuple[Remark, ...] = ()

    def told_by(self, show: Callable[[float], str], show_as: Callable[[float, As], str] | None = None) -> str:
        """The sentence with its lengths as `show` writes them, those that ask as `show_as` does (`show` where None)."""
        return self._told(lambda mm, asked: show_as(mm, asked) if asked and show_as else show(mm))

    def in_units(self, units: Units) -> str:
        """The sentence with its lengths as a person reads them, and the unit behind bare mm."""
        return self._told(in_units(units))

    def renamed(self, other: Mapping[str, str]) -> Remark:
        """The same of what goes by other names: a name that `other` has not stays."""
        more = tuple(one.renamed(other) for one in self.more)
        return attrs.evolve(self, numbers=renamed(self.numbers, other), more=more)

    def _told(self, show: ShowAs) -> str:
        says = told(self.code, self.case, self.numbers, show)
        return "; ".join((says, *(more._told(show) for more in self.more)))


@attrs.frozen
class Problem:
    """Why the pieces of `mark` cannot be made as asked; code, numbers, case and more are those of a `Remark`.

    `end` is "left" or "right" where it is told of a cut of the piece as drawn, else ""; `cut` counts the cuts of that
    end from 1, 0 without an end.
    """

    mark: str
    end: str
    code: str
    numbers: Numbers
    case: str = ""
    more: tuple[Remark, ...] = ()
    cut: int = 0

    @classmethod
    def of(cls, told: Remark, mark: str, end: str = "", cut: int = 0) -> Problem:
        """The problem that something is of a mark or of a cut of it."""
        return cls(mark, end, told.code, told.numbers, told.case, told.more, cut)


def lengths(**by_name: float | Sequence[float]) -> Numbers:
    """Lengths, mm, one or several."""
    return tuple(
        Number(name, mm if isinstance(mm, int | float) else tuple(mm), "length") for name, mm in by_name.items()
    )


def angles(**by_name: float) -> Numbers:
    """Angles, degrees."""
    return _numbers("angle", by_name)


def masses(**by_name: float) -> Numbers:
    """Masses, kg."""
    return _numbers("mass", by_name)


def counts(**by_name: int) -> Numbers:
    """How many of something."""
    return _numbers("count", by_name)


def names(**by_name: str | Sequence[str]) -> Numbers:
    """What files and catalogues call something, one or several."""
    return tuple(
        Number(name, called, "name") if isinstance(called, str) else Number(name, tuple(called), "names")
        for name, called in by_name.items()
    )


def words(**by_name: str) -> Numbers:
    """What has words of its own, by their code."""
    return tuple(Number(name, code, "word") for name, code in by_name.items())


def _numbers(kind: Kind, by_name: dict[str, float] | dict[str, int]) -> Numbers:
    return tuple(Number(name, value, kind) for name, value in by_name.items())
