"""Whether an arm swings or a blade tilts so far: the one place where that is judged; knows numbers only."""

from __future__ import annotations

from mitertool.base.tolerances import AT_A_STOP


def reaches(angle: float, lowest: float, highest: float) -> bool:
    """Whether what goes from `lowest` to `highest` (degrees) goes to `angle`."""
    return lowest - AT_A_STOP <= angle <= highest + AT_A_STOP
