"""Frames: corners, planar frames of any outline, braces and infill, and the proof that their pieces close.

Imports piece and left of it.
"""

from mitertool.frame.assembly import Assembly, Closure, Member, Resolution
from mitertool.frame.corners import Corner, corner
from mitertool.frame.elbows import bend, elbow
from mitertool.frame.hoppers import hopper, hopper_cut
from mitertool.frame.in_space import SpaceAssembly
from mitertool.frame.joints import Joint
from mitertool.frame.landings import Landing, landing
from mitertool.frame.lay_words import laid
from mitertool.frame.planar import planar
from mitertool.frame.rails import rail
from mitertool.frame.rectangles import rectangle

__all__ = [
    "Assembly",
    "Closure",
    "Corner",
    "Joint",
    "Landing",
    "Member",
    "Resolution",
    "SpaceAssembly",
    "bend",
    "corner",
    "elbow",
    "hopper",
    "hopper_cut",
    "laid",
    "landing",
    "planar",
    "rail",
    "rectangle",
]
