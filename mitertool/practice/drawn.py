"""Exercises drawn by lot, every kind that a saw has something to ask of in its turn; knows their makers."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.practice.angles import long_side, reading
from mitertool.practice.case import Case
from mitertool.practice.distances import guide, support
from mitertool.practice.exercise import Exercise
from mitertool.practice.lengths import keyed, stop
from mitertool.practice.lot import ByLot
from mitertool.saw.saw import Saw
from mitertool.sections import Section
from mitertool.words import phrase

Maker = Callable[[Case], Exercise | None]

_MAKERS: Final[tuple[Maker, ...]] = (reading, long_side, guide, support, keyed, stop)

USUAL: Final = ("SHS 50x50x3", "RHS 80x40x3", "L 50x50x5", "FLAT 60x10", "CHS 48.3x3.2", "UPN 80")
"""Sections that are practiced with where none is named: common shapes of common sizes, small enough for any saw."""

_TRIED: Final = 60
"""Cuts that are tried by lot until one gives an exercise of a kind: past that the saw has none of it."""


def exercises(saw: Saw, sections: Sequence[Section], count: int, seed: int) -> tuple[Exercise, ...]:
    """`count` exercises of cuts in the sections on the saw, the same for the same `seed`.

    Raises `BadInput` where the saw makes no such cut in any of the sections.
    """
    lot, found = ByLot(seed), list[Exercise]()
    for exercise in _in_turn(saw, sections, lot):
        found.append(exercise)
        if len(found) >= count:
            return tuple(found)
    names = ", ".join(section.name for section in sections)
    raise BadInput(phrase("what.practice"), names, phrase("refuse.practice", saw=saw.name))


def _in_turn(saw: Saw, sections: Sequence[Section], lot: ByLot) -> Iterator[Exercise]:
    """Exercises without end, one of each kind before any comes again; ends where the saw has none of any kind."""
    makers: Sequence[Maker] = _MAKERS
    while makers:
        found = [(maker, _tried(maker, saw, sections, lot)) for maker in lot.in_any_order(makers)]
        yield from (exercise for _, exercise in found if exercise)
        makers = [maker for maker, exercise in found if exercise]


def _tried(maker: Maker, saw: Saw, sections: Sequence[Section], lot: ByLot) -> Exercise | None:
    cases = (Case(saw, lot.one_of(sections), lot) for _ in range(_TRIED))
    return next(filter(None, map(maker, cases)), None)
