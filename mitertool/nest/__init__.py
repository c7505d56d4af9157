"""Bars: the pieces put on stock lengths with the least steel and the fewest set-ups; imports bar and left of it."""

from mitertool.bar import Allowance
from mitertool.nest.blanks import blank_of
from mitertool.nest.compare import compare
from mitertool.nest.done import Done, remaining
from mitertool.nest.fit import FullBar, how_many
from mitertool.nest.floor import Purchase, buying_list
from mitertool.nest.plan import (
    BAR_BY_BAR,
    BY_SETTING,
    MIXED,
    WAYS,
    Alternative,
    ArmLimits,
    Bar,
    Bound,
    GroupWay,
    Handling,
    Item,
    Makes,
    Placed,
    Plan,
    Rates,
    Recut,
    SawCut,
    Steel,
    Stock,
    WorkStep,
)
from mitertool.nest.set_up_shares import set_up_minutes, shares_of
from mitertool.nest.setups import swings_from_square
from mitertool.nest.solver import NoBars, solve

__all__ = [
    "BAR_BY_BAR",
    "BY_SETTING",
    "MIXED",
    "WAYS",
    "Allowance",
    "Alternative",
    "ArmLimits",
    "Bar",
    "Bound",
    "Done",
    "FullBar",
    "GroupWay",
    "Handling",
    "Item",
    "Makes",
    "NoBars",
    "Placed",
    "Plan",
    "Purchase",
    "Rates",
    "Recut",
    "SawCut",
    "Steel",
    "Stock",
    "WorkStep",
    "blank_of",
    "buying_list",
    "compare",
    "how_many",
    "remaining",
    "set_up_minutes",
    "shares_of",
    "solve",
    "swings_from_square",
]
