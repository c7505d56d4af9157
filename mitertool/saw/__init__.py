"""The saw: its file, its scale, and what must be set for a cut; imports frame and left of it."""

from mitertool.saw.reach import Reach, reach
from mitertool.saw.reasons import Reason
from mitertool.saw.saw import Saw
from mitertool.saw.scale import Scale

__all__ = ["Reach", "Reason", "Saw", "Scale", "reach"]
