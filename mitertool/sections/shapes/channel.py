"""Channels, flanges parallel or tapered."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from mitertool.geometry import Point, Region, rounded
from mitertool.sections.dimension import (
    FLANGE,
    HEIGHT,
    ROOT_RADIUS,
    TAPER,
    TOE_RADIUS,
    WEB,
    WIDTH,
    Dimension,
    below,
    flange_fits,
)
from mitertool.sections.lay import refuse_lay, rolled, sides
from mitertool.sections.section import FrameWord, Section, Shape
from mitertool.words import phrase

FLANGE_AT: Final = ("half-width", "mid-overhang")


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

    >>> mt.channel(50, 100, 5, 8).area
    1220.0
    """
    SHAPE.check(width=width, height=height, web=web, flange=flange)
    below("dimension.web", web, width, "limit.width")
    SHAPE.check(taper=taper, root_radius=root_radius, toe_radius=toe_radius, flange_at=flange_at)
    middle = width / 2 if flange_at == "half-width" else (width + web) / 2
    slope = taper / 100
    root, toe = flange + slope * (middle - web), flange - slope * (width - middle)
    flange_fits(root, toe, height)
    loop = rounded(
        [
            *((0, 0, 0), (width, 0, 0), (width, toe, toe_radius), (web, root, root_radius)),
            *((web, height - root, root_radius), (width, height - toe, toe_radius)),
            *((width, height, 0), (0, height, 0)),
        ]
    )
    main = (("height", height), ("width", width), ("web", web), ("flange", flange))
    words = (*main, ("root radius", root_radius), ("toe radius", toe_radius), ("taper %", taper))
    return Section(f"channel {height:g}x{width:g}x{web:g}", SHAPE, Region((loop,)), words)


def _lays(_: Section) -> Mapping[str, float]:
    return {"toes up": 90.0, "toes down": 270.0}


_TOES: Final = ("moving", "up", "fixed", "down")
"""Where the toes point for every quarter turn; end for end they point across the bed the other way."""


def _lies(section: Section) -> str:
    if section.quarter is None:
        return rolled(section)
    return phrase(f"lies.toes-{_toes(section, section.quarter)}")


def _toes(section: Section, quarter: int) -> str:
    """Where the toes of one that has gone round by so many quarters point."""
    end_for_end = 2 * (section.turned and quarter % 2 == 0)
    return _TOES[(quarter + end_for_end) % 4]


def _parts(section: Section) -> Mapping[str, Point]:
    """The middle of the back of the web, which lies where the toes do not."""
    if section.quarter is None:
        return {}
    wide, high = section.width, section.height
    at = {"moving": (0.0, high / 2), "fixed": (wide, high / 2), "up": (wide / 2, 0.0), "down": (wide / 2, high)}
    return {"web": at[_toes(section, section.quarter)]}


_LAID: Final[Mapping[str, tuple[int, bool]]] = {
    "out": (0, False),
    "in": (0, True),
    "up": (90, False),
    "down": (270, False),
}


def _in_frame(section: Section, toes: str) -> Section:
    refuse_lay(section)
    return section.lay(*_LAID[toes])


def _tape_lines(section: Section) -> Mapping[str, float]:
    """The back of the web and the toes, where the channel stands on a flange."""
    if section.rotation % 180:
        return sides(section)
    back_out = (section.rotation % 360 == 180) != section.turned
    over_webs, toes = (0.0, section.width) if back_out else (section.width, 0.0)
    return {**sides(section), "over webs": over_webs, "toe to toe": toes}


SHAPE: Final = Shape(
    "channel",
    channel,
    (
        *(WIDTH, HEIGHT, WEB, FLANGE, ROOT_RADIUS, TOE_RADIUS, TAPER),
        Dimension(*("flange_at", "channel.flange_at", "word"), needed=False, words=FLANGE_AT),
    ),
    _lies,
    ("outside", "inside", "over webs", "toe to toe"),
    _tape_lines,
    _lays,
    (FrameWord("toes", "frame.toes", tuple(_LAID)),),
    _in_frame,
    _parts,
)
