"""The section families as exact outlines; every dimension in mm, refused at once where it cannot be made."""

from __future__ import annotations

from math import isfinite, pi, sqrt
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.geometry import Arc, Loop, Region, rounded
from mitertool.sections.section import Section

FLANGE_AT: Final = ("half-width", "mid-overhang")
_LARGEST: Final = 5000.0
"""mm. No bar that goes in a vise is larger; guards against a slipped decimal point."""


def rect_tube(
    width: float,
    height: float,
    wall: float,
    outer_radius: float | None = None,
    inner_radius: float | None = None,
) -> Section:
    """A square or rectangular hollow section; a radius not given is 2 x wall outside and 1 x wall inside.

    Raises `BadInput` for a wall of half the tube or more, or radii that do not fit.
    """
    _positive(width=width, height=height, wall=wall)
    _below("wall", wall, min(width, height) / 2, "half the smaller side")
    ro = _radius("outer_radius", 2 * wall if outer_radius is None else outer_radius, min(width, height) / 2)
    inner = min(width, height) - 2 * wall
    ri = _radius("inner_radius", wall if inner_radius is None else inner_radius, inner / 2)
    _below("outer radius less inner radius", ro - ri, (2 + sqrt(2)) * wall, "what leaves a wall at the corners")
    region = Region((_box(0, 0, width, height, ro), _hole(_box(wall, wall, width - wall, height - wall, ri))))
    words = (("height", height), ("width", width), ("wall", wall), ("outer radius", ro), ("inner radius", ri))
    return Section(f"rect tube {height:g}x{width:g}x{wall:g}", "rect-tube", region, words)


def round_tube(diameter: float, wall: float) -> Section:
    """A circular hollow section by outside diameter and wall."""
    _positive(diameter=diameter, wall=wall)
    _below("wall", wall, diameter / 2, "half the diameter")
    r = diameter / 2
    region = Region((_circle(r, r), _hole(_circle(r, r - wall))))
    words = (("diameter", diameter), ("wall", wall))
    return Section(f"round tube {diameter:g}x{wall:g}", "round-tube", region, words)


def round_bar(diameter: float) -> Section:
    """A solid round."""
    _positive(diameter=diameter)
    region = Region((_circle(diameter / 2, diameter / 2),))
    return Section(f"round bar {diameter:g}", "round-bar", region, (("diameter", diameter),))


def flat(width: float, height: float) -> Section:
    """A solid rectangle with sharp edges: flat or square bar, lying on its width."""
    _positive(width=width, height=height)
    region = Region((_box(0, 0, width, height, 0.0),))
    return Section(f"flat {width:g}x{height:g}", "flat", region, (("width", width), ("height", height)))


def angle(width: float, height: float, thickness: float, root_radius: float = 0, toe_radius: float = 0) -> Section:
    """An angle with its heel at y = 0, z = 0: one leg lies along the bed (width), the other stands (height)."""
    _positive(width=width, height=height, thickness=thickness)
    _below("thickness", thickness, min(width, height), "the shorter leg")
    toe = _radius("toe_radius", toe_radius, thickness)
    root = _radius("root_radius", root_radius, min(width, height) - thickness - toe)
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
    return Section(f"angle {height:g}x{width:g}x{t:g}", "angle", Region((loop,)), words)


def channel(
    width: float,
    height: float,
    web: float,
    flange: float,
    root_radius: float = 0,
    toe_radius: float = 0,
    taper: float = 0,
    flange_at: str = "half-width",
) -> Section:
    """A channel with its web on y = 0 and its flanges toward +y.

    `taper` is the slope of the flanges' inner faces in per cent; the flange thickness is measured at
    "half-width" (width/2 from the back of the web) or "mid-overhang" ((width + web)/2 from it).
    """
    _positive(width=width, height=height, web=web, flange=flange)
    _below("web", web, width, "the width")
    _from_zero(taper=taper, root_radius=root_radius, toe_radius=toe_radius)
    if flange_at not in FLANGE_AT:
        raise BadInput("flange_at", flange_at, f"allowed: {' or '.join(FLANGE_AT)}")
    middle = width / 2 if flange_at == "half-width" else (width + web) / 2
    slope = taper / 100
    root, toe = flange + slope * (middle - web), flange - slope * (width - middle)
    _flange_fits(root, toe, height)
    loop = rounded(
        [
            *((0, 0, 0), (width, 0, 0), (width, toe, toe_radius), (web, root, root_radius)),
            *((web, height - root, root_radius), (width, height - toe, toe_radius)),
            *((width, height, 0), (0, height, 0)),
        ]
    )
    main = (("height", height), ("width", width), ("web", web), ("flange", flange))
    words = (*main, ("root radius", root_radius), ("toe radius", toe_radius), ("taper %", taper))
    return Section(f"channel {height:g}x{width:g}x{web:g}", "channel", Region((loop,)), words)


def i_section(
    width: float,
    height: float,
    web: float,
    flange: float,
    root_radius: float = 0,
    taper: float = 0,
    toe_radius: float = 0,
) -> Section:
    """An I or H section standing on a flange; a tapered flange (per cent) is measured at width/4 from its edge."""
    _positive(width=width, height=height, web=web, flange=flange)
    _below("web", web, width, "the width")
    _from_zero(taper=taper, root_radius=root_radius, toe_radius=toe_radius)
    slope, y1, y2 = taper / 100, (width - web) / 2, (width + web) / 2
    root, toe = flange + slope * (y1 - width / 4), flange - slope * width / 4
    _flange_fits(root, toe, height)
    top_root, top_toe, r, e = height - root, height - toe, root_radius, toe_radius
    loop = rounded(
        [
            *(
                (0, 0, 0),
                (width, 0, 0),
                (width, toe, e),
                (y2, root, r),
                (y2, top_root, r),
                (width, top_toe, e),
            ),
            *(
                (width, height, 0),
                (0, height, 0),
                (0, top_toe, e),
                (y1, top_root, r),
                (y1, root, r),
                (0, toe, e),
            ),
        ]
    )
    main = (("height", height), ("width", width), ("web", web), ("flange", flange), ("root radius", r))
    words = (*main, ("toe radius", toe_radius), ("taper %", taper)) if taper or toe_radius else main
    return Section(f"I {height:g}x{width:g}x{web:g}", "i-section", Region((loop,)), words)


def tee(width: float, height: float, web: float, flange: float, root_radius: float = 0) -> Section:
    """A tee lying on its flange, web up, flanges parallel."""
    _positive(width=width, height=height, web=web, flange=flange)
    _from_zero(root_radius=root_radius)
    _below("web", web, width, "the width")
    _below("flange", flange, height, "the height")
    y1, y2, r = (width - web) / 2, (width + web) / 2, root_radius
    loop = rounded(
        [
            *((0, 0, 0), (width, 0, 0), (width, flange, 0), (y2, flange, r)),
            *((y2, height, 0), (y1, height, 0), (y1, flange, r), (0, flange, 0)),
        ]
    )
    words = (("height", height), ("width", width), ("web", web), ("flange", flange), ("root radius", r))
    return Section(f"tee {height:g}x{width:g}x{web:g}", "tee", Region((loop,)), words)


def _box(y0: float, z0: float, y1: float, z1: float, radius: float) -> Loop:
    return rounded([(y0, z0, radius), (y1, z0, radius), (y1, z1, radius), (y0, z1, radius)])


def _circle(center: float, radius: float) -> Loop:
    return (Arc((center, center), radius, 0.0, 2 * pi),)


def _hole(loop: Loop) -> Loop:
    return tuple(segment.reversed() for segment in loop[::-1])


def _positive(**values: float) -> None:
    for name, value in values.items():
        if not (isfinite(value) and 0 < value <= _LARGEST):
            raise BadInput(name, value, f"must be more than 0 and at most {_LARGEST:g} mm")


def _from_zero(**values: float) -> None:
    for name, value in values.items():
        if not (isfinite(value) and value >= 0):
            raise BadInput(name.replace("_", " "), value, "must be 0 or more")


def _below(name: str, value: float, limit: float, words: str) -> None:
    if value >= limit:
        raise BadInput(name, f"{value:g} mm", f"must be less than {words}, {limit:g} mm")


def _radius(name: str, value: float, most: float) -> float:
    if not (isfinite(value) and 0 <= value <= most + 1e-12):
        raise BadInput(name.replace("_", " "), f"{value:g} mm", f"must be from 0 to {most:g} mm here")
    return min(value, most)


def _flange_fits(root: float, toe: float, height: float) -> None:
    if toe <= 0:
        raise BadInput("taper", f"{toe:g} mm left at the toe", "the flange must not run out before its toe")
    _below("flange at the web", root, height / 2, "half the height")
