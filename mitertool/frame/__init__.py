"""Frames: corners, planar frames of any outline, braces and infill, and the proof that their pieces close.

Imports piece and left of it.
"""

from mitertool.frame.assembly import Assembly, Closure, Member, Resolution
from mitertool.frame.corners import Corner, corner
from mitertool.frame.joints import Joint
from mitertool.frame.lay_words import laid
from mitertool.frame.planar import planar
from mitertool.frame.rectangles import rectangle

__all__ = ["Assembly", "Closure", "Corner", "Joint", "Member", "Resolution", "corner", "laid", "planar", "rectangle"]
