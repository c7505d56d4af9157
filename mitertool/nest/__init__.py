"""Bars: the pieces put on stock lengths one after another; imports saw and left of it."""

from mitertool.nest.plan import Allowance, Bar, Item, Placed, Plan, Stock
from mitertool.nest.solver import solve

__all__ = ["Allowance", "Bar", "Item", "Placed", "Plan", "Stock", "solve"]
