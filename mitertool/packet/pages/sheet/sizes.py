"""How high the lettering of the sheet is, mm of its capitals; paper that is read in gloves from an arm's length."""

from __future__ import annotations

from typing import Final

from mitertool.drawing.lettering import fit

_POINT: Final = 0.2533
"""mm that a capital of Helvetica is high for a point of size: 25.4 / 72 times 0.718."""

KEYED: Final = 28 * _POINT
"""What is keyed, or where a stop stands, where there is room."""

SET: Final = 20 * _POINT
"""What is set, and the least of what is keyed."""

ROW: Final = 14 * _POINT
NOTE: Final = 11 * _POINT


def keyed_height(says: str, width: float) -> float:
    """How high a figure to act on is set within a width: as high as there is room for, 28 points at most."""
    return fit(says, width, KEYED, bold=True)
