"""Cold-formed Z sections, bent from one sheet, with or without lips."""

from __future__ import annotations

from collections.abc import Mapping
from math import acos, atan2, cos, degrees, hypot, radians, sin, tan
from typing import Final

from mitertool.geometry import Region, rounded
from mitertool.geometry.outline import Corner
from mitertool.sections.dimension import HEIGHT, Dimension, below
from mitertool.sections.lay import refuse_lay, rolled, sides
from mitertool.sections.section import FrameWord, Section, Shape
from mitertool.words import phrase


def z_section(
    height: float,
    flange_width: float,
    thickness: float,
    inner_radius: float,
    lip: float = 0,
    lip_angle: float = 90,
    top_flange_width: float | None = None,
) -> Section:
    """A Z bent from sheet, web upright, its lower flange toward +y and its upper one toward y = 0.

    All sizes are outside ones, mm: the height over both flanges, a flange from the back of the web to its edge, a lip
    from the corner that it makes with the flange were both sharp. `lip_angle` is how far a lip is bent out of its
    flange, degrees: 90 stands square to it. A top flange that is not given is as wide as the other; where the two
    differ, the bar looks otherwise after half a turn. Raises `BadInput` for bends that have no room.

    >>> z = mt.z_section(200, 65, 2, 3)
    >>> z.width, sorted(z.symmetry), round(z.area, 2)
    (128.0, ['half-turn'], 645.13)
    """
    top = flange_width if top_flange_width is None else top_flange_width
    SHAPE.check(height=height, flange_width=flange_width, top_flange_width=top, thickness=thickness)
    SHAPE.check(inner_radius=inner_radius, lip=lip, lip_angle=lip_angle)
    for limit, width in (("limit.flange", flange_width), ("limit.top-flange", top)):
        below("dimension.thickness", thickness, width, limit)
    below("what.both-bends", 2 * (thickness + inner_radius), height, "limit.height")
    below("dimension.lip", lip * sin(radians(lip_angle)), height, "limit.height")
    lower = _flange(flange_width, thickness, inner_radius, lip, radians(lip_angle))
    upper = _flange(top, thickness, inner_radius, lip, radians(lip_angle))
    over = [(thickness - y, height - z, r) for y, z, r in upper]
    words = [("height", height), ("flange width", flange_width)]
    words += [("top flange width", top)] if top != flange_width else []
    words += [("thickness", thickness), ("inner radius", inner_radius)]
    words += [("lip", lip), ("lip angle deg", lip_angle)] if lip else []
    region = Region((rounded([*lower, *over]),)).to_corner()
    return Section(f"Z {height:g}x{flange_width:g}x{thickness:g}", SHAPE, region, tuple(words))


def _flange(width: float, t: float, r: float, lip: float, bend: float) -> list[Corner]:
    """Corners from the back of the web, at y = 0, round the lower flange, on z = 0, to the front of the web."""
    if not lip:
        return [(0, 0, r + t), (width, 0, 0), (width, t, 0), (t, t, r)]
    tip = (width + lip * cos(bend), lip * sin(bend))
    inner = (tip[0] - t * sin(bend), tip[1] + t * cos(bend))
    corner = width - t * tan(bend / 2)
    return [(0, 0, r + t), (width, 0, r + t), (*tip, 0), (*inner, 0), (corner, t, r), (t, t, r)]


def _leaning(section: Section) -> float:
    """The rotation that lays a Z on the toe of its lower flange and the upper bend of its web, degrees.

    The bed is the tangent from the toe to the bend; of the toe's corners that one touches it from which the tangent
    has turned furthest.
    """
    size = dict(section.dimensions)
    outer = size["thickness"] + size["inner radius"]
    y, z = size["thickness"] - outer, size["height"] - outer
    toe = _made_flange(section, "flange width")[1:-1]
    normals = (atan2(b - z, a - y) + acos(outer / hypot(a - y, b - z)) for a, b, _ in toe)
    return (-90.0 - degrees(max(normals))) % 360


def _made_flange(section: Section, word: str) -> list[Corner]:
    """The corners of a flange of a section by its dimensions."""
    size = dict(section.dimensions)
    lip, bend = size.get("lip", 0.0), radians(size.get("lip angle deg", 90.0))
    return _flange(size[word], size["thickness"], size["inner radius"], lip, bend)


def _lays(section: Section) -> Mapping[str, float]:
    return {"web up": 0.0, "web flat": 90.0, "web leaning": _leaning(section)}


def _lies(section: Section) -> str:
    """Which flange is meant is told where the two differ."""
    if section.quarter is None:
        leans = not section.turned and abs(section.rotation - _leaning(section)) < 1e-6
        return phrase("lies.web-leaning") if leans else rolled(section)
    if section.quarter % 2:
        lower = section.turned == (section.quarter == 3)
        return phrase(f"lies.web-flat-{_jaw(section.turned)}{_which(section, lower)}")
    return phrase(f"lies.web-up-{_jaw(section.turned)}{_which(section, section.quarter == 0)}")


def _jaw(turned: bool) -> str:
    return "fixed" if turned else "moving"


def _which(section: Section, lower: bool) -> str:
    """The lower or the upper flange as made, as the case of a code; "" where they are alike."""
    size = dict(section.dimensions)
    difference = size["flange width"] - size.get("top flange width", size["flange width"])
    if difference == 0:
        return ""
    return "/wide" if (difference > 0) == lower else "/narrow"


_LAID: Final[Mapping[str, tuple[int, bool]]] = {
    "out": (0, False),
    "in": (0, True),
    "up": (90, False),
    "down": (90, True),
}


def _in_frame(section: Section, flange: str) -> Section:
    refuse_lay(section)
    return section.lay(*_LAID[flange])


def _tape_lines(section: Section) -> Mapping[str, float]:
    """The outer faces of the webs, where they stand: as far from the edge as the flange reaches that points out."""
    if section.quarter not in (0, 2):
        return sides(section)
    made_lower = section.turned == (section.quarter == 2)
    word = "flange width" if made_lower or "top flange width" not in dict(section.dimensions) else "top flange width"
    corners = _made_flange(section, word)
    return {**sides(section), "over webs": max(y for y, _, _ in corners) - dict(section.dimensions)["thickness"]}


SHAPE: Final = Shape(
    "z",
    z_section,
    (
        HEIGHT,
        Dimension("flange_width", "z.flange_width"),
        Dimension("thickness", "z.thickness", wall=True),
        Dimension("inner_radius", "z.inner_radius", "length-from-zero"),
        Dimension(
            *("lip", "z.lip", "length-from-zero"),
            needed=False,
        ),
        Dimension(
            *("lip_angle", "z.lip_angle", "angle"),
            needed=False,
            most=90.0,
        ),
        Dimension("top_flange_width", "z.top_flange_width", needed=False),
    ),
    _lies,
    ("outside", "inside", "over webs"),
    _tape_lines,
    _lays,
    (
        FrameWord(
            "flange",
            "frame.flange",
            tuple(_LAID),
        ),
    ),
    _in_frame,
)
