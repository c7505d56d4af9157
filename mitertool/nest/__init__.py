"""Bars: the pieces put on stock lengths with the least steel and the fewest set-ups; imports saw and left of it."""

from mitertool.nest.compare import Alternative, compare
from mitertool.nest.done import Done
from mitertool.nest.floor import Purchase, buying_list
from mitertool.nest.plan import Allowance, Arm, Bar, Bound, Item, Placed, Plan, Rates, SawCut, Steel, Stock
from mitertool.nest.setups import swings_from_square
from mitertool.nest.solver import NoBars, solve

__all__ = [
    "Allowance",
    "Alternative",
    "Arm",
    "Bar",
    "Bound",
    "Done",
    "Item",
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
