"""The working: formulas with words and symbols, and the steps that show them with numbers put in.

Only packet and cli import it; what is asked of it loads sympy.
"""

from mitertool.base.doors import door

TYPE_CHECKING = False
if TYPE_CHECKING:
    from mitertool.working.formula import Formula, Quantity, Step
    from mitertool.working.steps import for_assembly, for_corner, for_cut, for_facts, for_piece
    from mitertool.working.table import TABLE

__all__ = ["TABLE", "Formula", "Quantity", "Step", "for_assembly", "for_corner", "for_cut", "for_facts", "for_piece"]

__getattr__ = door(
    __name__,
    {
        "formula": "Formula Quantity Step",
        "steps": "for_assembly for_corner for_cut for_facts for_piece",
        "table": "TABLE",
    },
)
