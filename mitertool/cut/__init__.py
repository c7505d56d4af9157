"""The cut: one plane through the bar, its face, its kerf; imports sections and left of it."""

from mitertool.cut.cut import Cut
from mitertool.cut.face import Face
from mitertool.cut.words import cut_from, from_bar, from_corner

__all__ = ["Cut", "Face", "cut_from", "from_bar", "from_corner"]
