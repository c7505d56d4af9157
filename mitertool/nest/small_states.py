"""What a small job is while it is looked through: forms of its pieces, bars on the saw, states and the ways to them."""

from __future__ import annotations

from math import gcd
from typing import Final, NamedTuple

import attrs

from mitertool.bar import BarPiece
from mitertool.nest.blanks import RecutWay
from mitertool.nest.plan import Item, Rates

Cost = tuple[int, int, int, float]
"""What is least first to last: money, nothing and ties; or steel, work and ties; then what is used of the bars, mm.

Money, steel and work are whole numbers of small units, so that sums in another order are one.
"""


FREE: Final[Cost] = (0, 0, 0, 0.0)
"""What nothing costs."""

_UNITS: Final = 10**6
"""In 1 of money, of what stock costs, in a minute of work, or in a set-up where all count the same."""


def units(amount: float) -> int:
    """An amount in small units."""
    return round(amount * _UNITS)


@attrs.frozen
class Units:
    """What a swing, a roll, a tilt, a load and a recut cost, each in small units."""

    swing: int
    roll: int
    tilt: int
    load: int
    recut: int

    def of(self, swings: int, rolls: int, tilts: int, loads: int = 0, recuts: int = 0) -> int:
        """All together."""
        setups = swings * self.swing + rolls * self.roll + tilts * self.tilt
        return setups + loads * self.load + recuts * self.recut

    @property
    def step(self) -> int:
        """All work is so many times as much."""
        return gcd(*attrs.astuple(self)) or 1


def in_units(rates: Rates, money: bool) -> Units:
    """The rates as they count: in money, or in minutes."""
    minutes = (rates.minutes(*(int(i == at) for i in range(5))) for at in range(5))
    return Units(*(units(rates.money(one) if money else one) for one in minutes))


_STILL: Final = 1e-6
"""degrees. A bar that turns by less is not rolled."""


def apart(one: float, other: float) -> bool:
    """Whether a bar is rolled from one roll (degrees) to another."""
    return min((one - other) % 360, (other - one) % 360) > _STILL


class Option(NamedTuple):
    """How a cut is set: the number of the setting of arm and blade, and the roll of the bar."""

    arm: int
    roll: float


@attrs.frozen(eq=False)
class Form:
    """A piece, or its blank, as it may lie on a bar: both cuts and the ways to set them, its length, its lay.

    `over`: half a turn over it may lie too. Of a blank `recut` is the number of its kind among those that wait, and
    `waits` the bit of its sort, of which all are recut by the same settings.
    """

    item: Item
    number: int
    piece: BarPiece
    own: BarPiece
    pose: str
    lay: float
    over: bool
    lead: tuple[Option, ...]
    trail: tuple[Option, ...]
    reach: float
    tail: float
    recut: int = -1
    waits: int = 0


@attrs.frozen(eq=False)
class Waits:
    """Blanks of one mark with one end finished: the blank, the ways to recut it, and the settings that do."""

    item: Item
    ways: tuple[RecutWay, ...]
    arms: tuple[int, ...]


class OnSaw(NamedTuple):
    """The bar on the saw: its stock, the form whose trailing cut is next or one that has the same, its roll, whether a
    first roll is owed."""

    stock: int
    form: int
    roll: float
    owes: bool


class State(NamedTuple):
    """What is left of each item, the sorts of blanks that wait (a bit each), what limited stock is taken, the arm, the
    bar on the saw."""

    left: tuple[int, ...]
    waits: int
    taken: tuple[int, ...]
    arm: int
    bar: OnSaw | None


class Label:
    """A way to a state: what it costs, how far its bar is used, what came before and what was done."""

    __slots__ = ("before", "cost", "done", "state", "used")

    def __init__(self, cost: Cost, used: float, state: State, before: Label | None, done: tuple[str, int]) -> None:
        self.cost, self.used, self.state, self.before, self.done = cost, used, state, before, done
