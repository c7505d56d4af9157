"""Bars: the pieces put on stock lengths with the least steel and the fewest set-ups; imports saw and left of it."""

from mitertool.nest.done import Done
from mitertool.nest.plan import Allowance, Arm, Bar, Bound, Item, Placed, Plan, Rates, SawCut, Steel, Stock
from mitertool.nest.solver import solve

__all__ = [
    *("Allowance", "Arm", "Bar", "Bound", "Done", "Item", "Placed", "Plan", "Rates", "SawCut", "Steel", "Stock"),
    "solve",
]
