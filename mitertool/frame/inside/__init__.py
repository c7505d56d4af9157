"""Bars inside a frame: uprights, rails and braces, each cut to what it meets; knows pieces and assemblies."""

from mitertool.frame.inside.diagonals import RISING, Diagonal
from mitertool.frame.inside.filled import Fill, filled, opening_of
from mitertool.frame.inside.spaced import SPACED, Spaced

__all__ = ["RISING", "SPACED", "Diagonal", "Fill", "Spaced", "filled", "opening_of"]
