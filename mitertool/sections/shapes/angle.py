"""Angles, legs equal or not."""

from __future__ import annotations

from collections.abc import Mapping
from math import atan2, degrees
from typing import Final

from mitertool.geometry import Point, Region, rounded
from mitertool.sections.dimension import HEIGHT, ROOT_RADIUS, TOE_RADIUS, WIDTH, Dimension, below, radius
from mitertool.sections.lay import BOX_WORDS, box_lines, refuse_lay, rolled, sides
from mitertool.sections.section import FrameWord, Section, Shape
from mitertool.words import phrase


def angle(width: float, height: float, thickness: float, root_radius: float = 0, toe_radius: float = 0) -> Section:
    """An angle with its heel at y = 0, z = 0: one leg lies along the bed (width), the other stands (height).

    >>> mt.angle(50, 50, 5).area
    475.0
    """
    SHAPE.check(width=width, height=height, thickness=thickness)
    below("dimension.thickness", thickness, min(width, height), "limit.shorter-leg")
    toe = radius("toe_radius", toe_radius, thickness)
    root = radius("root_radius", root_radius, min(width, height) - thickness - toe)
    t = thickness
    loop = rounded(
        [(0, 0, 0), (width, 0, 0), (width, t, toe), (t, t, root), (t, height, toe), (0, height, 0)],
    )
    words = (
        ("height", height),
        ("width", width),
        ("thickness", t),
        ("root radius", root),
        ("toe radius", toe),
    )
    return Section(f"angle {height:g}x{width:g}x{t:g}", SHAPE, Region((loop,)), words)


def heel_up(section: Section) -> float:
    """The rotation that lays an angle on both toes, degrees; 225 for equal legs.

    The bed is the common tangent of the two toes, which runs parallel to the line between the centers of their
    equal radii, and so to the line between the inner corners of the sharp toes.
    """
    size = dict(section.dimensions)
    return -degrees(atan2(size["height"] - size["thickness"], size["thickness"] - size["width"])) % 360


def _lays(section: Section) -> Mapping[str, float]:
    return {"leg flat": 0.0, "heel up": heel_up(section)}


_AROUND: Final = (("fixed", "bottom"), ("moving", "bottom"), ("moving", "top"), ("fixed", "top"))
"""Where the heel lies for every quarter that it has gone round from where the catalogue has it."""


def _heel(section: Section, quarter: int) -> tuple[str, str]:
    """A bar turned end for end shows its heel on the other side before it is rotated."""
    return _AROUND[(quarter + section.turned) % 4]


def _lies(section: Section) -> str:
    if section.quarter is not None:
        side, level = _heel(section, section.quarter)
        return phrase(f"lies.heel-{level}-{side}")
    if not section.turned and abs(section.rotation - heel_up(section)) < 1e-6:
        return phrase("lies.heel-up")
    return rolled(section)


def _in_frame(section: Section, heel: str, leg: str) -> Section:
    """The angle with the leg that lies flat still flat, its heel and its other leg where the words have them."""
    if section.quarter is None:
        refuse_lay(section)
    asked = ("fixed" if heel == "in" else "moving", "bottom" if leg == "up" else "top")
    ways = (section.lay(rotation, turned) for rotation in (0, 180) for turned in (False, True))
    return next(laid for laid in ways if _heel(laid, int(laid.rotation // 90)) == asked)


def _parts(section: Section) -> Mapping[str, Point]:
    if section.quarter is None:
        return {}
    side, level = _heel(section, section.quarter)
    return {"heel": (section.width * (side == "moving"), section.height * (level == "top"))}


def _tape_lines(section: Section) -> Mapping[str, float]:
    """Heel out: heel and toe lie outside and inside; heel in: the other way round."""
    if section.quarter is None:
        return box_lines(section)
    width, thickness = section.width, dict(section.dimensions)["thickness"]
    if _heel(section, section.quarter)[0] == "moving":
        return {**sides(section), "over heels": 0.0, "between legs": thickness, "toe to toe": width}
    return {**sides(section), "over heels": width, "between legs": width, "toe to toe": 0.0}


SHAPE: Final = Shape(
    "angle",
    angle,
    (WIDTH, HEIGHT, Dimension("thickness", "angle.thickness", wall=True), ROOT_RADIUS, TOE_RADIUS),
    _lies,
    (*BOX_WORDS, "over heels", "between legs", "toe to toe"),
    _tape_lines,
    _lays,
    (
        FrameWord("heel", "frame.heel", ("out", "in")),
        FrameWord("leg", "frame.leg", ("up", "down")),
    ),
    _in_frame,
    _parts,
    either_way=True,
    one_for_both=True,
)
