"""Bars: the pieces put on stock lengths with the least steel and the fewest set-ups; imports bar and left of it."""

from mitertool.bar import Allowance
from mitertool.nest.compare import Alternative, compare
from mitertool.nest.done import Done
from mitertool.nest.floor import Purchase, buying_list
from mitertool.nest.plan import ArmLimits, Bar, Bound, Item, Makes, Placed, Plan, Rates, SawCut, Steel, Stock
from mitertool.nest.setups import swings_from_square
from mitertool.nest.solver import NoBars, solve

__all__ = [
    "Allowance",
    "Alternative",
    "ArmLimits",
    "Bar",
    "Bound",
    "Done",
    "Item",
    "Makes",
    "NoBars",
    "Placed",
    "Plan",
    "Purchase",
    "Rates",
    "SawCut",
    "Steel",
    "Stock",
    "buying_list",
    "compare",
    "solve",
    "swings_from_square",
]
