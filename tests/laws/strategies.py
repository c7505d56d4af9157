"""Sections, cuts and pieces drawn at random for the laws."""

from __future__ import annotations

import math

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st

import mitertool as mt
from mitertool.geometry import Arc, Line, Region
from mitertool.sections.own import outlined
from tests.often import times
from tests.specimens import SPECIMENS

LAW = settings(
    deadline=None,
    max_examples=times(30),
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
"""Same examples every run, so that nothing turns red by luck; no example is held against a clock."""


def _lengths(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False).map(lambda x: round(x, 3))


def _tenths(length: float) -> float:
    """Down to a tenth of a millimetre: finer radii are rolled by no mill."""
    return math.floor(length * 10 + 1e-9) / 10


@st.composite
def rect_tubes(draw: st.DrawFn) -> mt.Section:
    width, height = draw(_lengths(10, 400)), draw(_lengths(10, 400))
    side = min(width, height)
    wall = draw(st.floats(0.01, 0.45)) * side
    inner = _tenths(draw(st.floats(0, 1)) * (side / 2 - wall))
    outer = _tenths(min(side / 2, inner + draw(st.floats(0, 1.5)) * wall))
    return mt.rect_tube(width, height, wall, outer, inner)


@st.composite
def round_tubes(draw: st.DrawFn) -> mt.Section:
    diameter = draw(_lengths(5, 600))
    return mt.round_tube(diameter, draw(st.floats(0.01, 0.49)) * diameter)


@st.composite
def angles(draw: st.DrawFn) -> mt.Section:
    width, height = draw(_lengths(20, 250)), draw(_lengths(20, 250))
    leg = min(width, height)
    thickness = draw(st.floats(0.04, 0.5)) * leg
    toe = _tenths(draw(st.floats(0, 1)) * min(thickness, (leg - thickness) / 3))
    root = _tenths(draw(st.floats(0, 1)) * (leg - thickness - toe) / 2)
    return mt.angle(width, height, thickness, root, toe)


@st.composite
def channels(draw: st.DrawFn) -> mt.Section:
    width, height = draw(_lengths(20, 120)), draw(_lengths(60, 400))
    web = draw(st.floats(0.05, 0.3)) * width
    taper = draw(st.sampled_from([0, 5, 8, 16.67]))
    flange = draw(st.floats(0.2, 0.28)) * min(width, height)
    room = min(width - web, height / 2 - flange - 0.2 * width, flange - 0.17 * width)
    root, toe = (_tenths(draw(st.floats(0, 0.4)) * max(0.0, room)) for _ in range(2))
    return mt.channel(width, height, web, flange, root, toe, taper)


@st.composite
def i_sections(draw: st.DrawFn) -> mt.Section:
    width, height = draw(_lengths(40, 300)), draw(_lengths(60, 600))
    web = draw(st.floats(0.03, 0.2)) * width
    flange = draw(st.floats(0.05, 0.2)) * height
    root = _tenths(draw(st.floats(0, 0.9)) * min((width - web) / 2, height / 2 - flange))
    return mt.i_section(width, height, web, flange, root)


@st.composite
def tapered_i_sections(draw: st.DrawFn) -> mt.Section:
    """Flanges that keep a third of their thickness at the edge, and leave a fifth of the height between the roots."""
    width, share = draw(_lengths(40, 300)), draw(st.floats(0.03, 0.2))
    taper = draw(st.sampled_from([5.0, 8.0, 14.0, 16.67]))
    flange = round(taper / 100 * width / 4 * draw(st.floats(1.5, 3)), 2)
    height = round((2 * (flange + taper / 100 * width / 4) + width / 2) / 0.8, 1)
    toe = _tenths(draw(st.floats(0, 0.3)) * (flange - taper / 100 * width / 4))
    root = _tenths(draw(st.floats(0, 0.4)) * min(width * (1 - share) / 2 - 2 * toe, height / 10))
    return mt.i_section(width, height, share * width, flange, root, taper, toe)


@st.composite
def tees(draw: st.DrawFn) -> mt.Section:
    width, height = draw(_lengths(30, 300)), draw(_lengths(30, 300))
    web, flange = draw(st.floats(0.04, 0.3)) * width, draw(st.floats(0.04, 0.4)) * height
    root = _tenths(draw(st.floats(0, 0.9)) * min((width - web) / 2, height - flange))
    return mt.tee(width, height, web, flange, root)


@st.composite
def z_sections(draw: st.DrawFn) -> mt.Section:
    height, lower = draw(_lengths(60, 400)), draw(_lengths(30, 120))
    thickness = round(draw(st.floats(0.02, 0.1)) * lower, 2)
    inner = _tenths(draw(st.floats(0, 2)) * thickness)
    lip = draw(st.sampled_from([0.0, round((inner + thickness) * 1.2, 1)]))
    upper = draw(st.one_of(st.none(), st.floats(0.8, 1).map(lambda share: round(share * lower, 1))))
    return mt.z_section(height, lower, thickness, inner, lip, draw(st.sampled_from([90, 50])), upper)


def egg(low: float, high: float, apart: float) -> mt.Section:
    """A drawn outline: the hull of a circle of radius `low` on the bed and one of radius `high` so far above it."""
    lean = math.asin((low - high) / apart)
    below = Arc((low, low), low, math.pi - lean, math.pi + 2 * lean)
    above = Arc((low, low + apart), high, lean, math.pi - 2 * lean)
    loop = (below, Line(below.end, above.start), above, Line(above.end, below.start))
    return outlined(Region((loop,)), "egg.dxf", "egg")


MADE: dict[str, st.SearchStrategy[mt.Section]] = {
    "rect-tube": rect_tubes(),
    "round-tube": round_tubes(),
    "angle": angles(),
    "channel": channels(),
    "i-section": st.one_of(i_sections(), tapered_i_sections()),
    "tee": tees(),
    "z": z_sections(),
    "flat": st.builds(mt.flat, _lengths(2, 300), _lengths(2, 300)),
    "round-bar": st.builds(mt.round_bar, _lengths(2, 300)),
    "outline": st.builds(egg, _lengths(40, 100), _lengths(5, 35), _lengths(110, 300)),
}
"""Sections of every shape by its word."""

shapes: st.SearchStrategy[mt.Section] = st.one_of(st.sampled_from(list(SPECIMENS.values())), *MADE.values())

rotations = st.one_of(st.sampled_from([0, 90, 180, 270, 45]), st.floats(-360, 360).map(lambda x: round(x, 2)))

sections = st.builds(lambda shape, rotation, turned: shape.lay(rotation, turned), shapes, rotations, st.booleans())

cuts = st.builds(
    mt.Cut,
    st.one_of(st.sampled_from([0.0, 45.0, -45.0, 22.5]), st.floats(-75, 75)),
    st.one_of(st.just(0.0), st.floats(-70, 70)),
)


@st.composite
def pieces(draw: st.DrawFn) -> mt.Piece:
    section, left, right = draw(sections), draw(cuts), draw(cuts)
    short = draw(st.one_of(st.sampled_from([0.5, 1000.0]), st.floats(0.001, 12000)))
    return mt.Piece(section, short, left, right, at="short-point")
