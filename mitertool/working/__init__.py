"""The working: formulas with words and symbols, and the steps that show them with numbers put in.

Only packet and cli import it; loading it loads sympy.
"""

from mitertool.working.formula import Formula, Quantity, Step
from mitertool.working.steps import for_assembly, for_corner, for_cut, for_piece
from mitertool.working.table import TABLE

__all__ = ["TABLE", "Formula", "Quantity", "Step", "for_assembly", "for_corner", "for_cut", "for_piece"]
