"""Frames: corners, planar frames of any outline, braces and infill, and the proof that their pieces close.

Imports piece and left of it.
"""

from mitertool.base.doors import door

TYPE_CHECKING = False
if TYPE_CHECKING:
    from mitertool.frame.assembly import Assembly, Closure, Member, Resolution
    from mitertool.frame.corners import Corner, corner
    from mitertool.frame.elbows import bend, elbow
    from mitertool.frame.hoppers import hopper, hopper_cut
    from mitertool.frame.in_plane import planar
    from mitertool.frame.in_space import SpaceAssembly
    from mitertool.frame.joints import Joint
    from mitertool.frame.landings import Landing, landing
    from mitertool.frame.lay_words import laid
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

__getattr__ = door(
    __name__,
    {
        "assembly": "Assembly Closure Member Resolution",
        "corners": "Corner corner",
        "elbows": "bend elbow",
        "hoppers": "hopper hopper_cut",
        "in_space": "SpaceAssembly",
        "joints": "Joint",
        "landings": "Landing landing",
        "lay_words": "laid",
        "in_plane": "planar",
        "rails": "rail",
        "rectangles": "rectangle",
    },
)
