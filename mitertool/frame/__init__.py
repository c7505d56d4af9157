"""Frames: corners, closed frames, and the proof that their pieces close; imports piece and left of it."""

from mitertool.frame.assembly import Assembly, Closure, Member, Resolution
from mitertool.frame.corners import Corner, corner
from mitertool.frame.lay_words import laid
from mitertool.frame.rectangles import rectangle

__all__ = ["Assembly", "Closure", "Corner", "Member", "Resolution", "corner", "laid", "rectangle"]
