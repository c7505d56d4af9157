"""Frames drawn at random as jobs, each with what it must come out as: corners, widths, where its measured line lies.

Sizes are such that every frame can be made: sides are many widths long. Corners asked for stand in walking order,
clockwise; points given counter-clockwise are the same corners from the first one the other way round.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from hypothesis import strategies as st

from tests.frame.runs import frame, table, tube

KINDS = ("miter", "first-through", "second-through")


@dataclass(frozen=True)
class Case:
    """A job and what it asks for: `corners` of the measured lines, mm, and by the name of a section its width as it
    lies and how far inside the outer edge its measured line runs."""

    job: tuple[str, ...]
    corners: tuple[complex, ...]
    width: Mapping[str, float]
    depth: Mapping[str, float]
    closed: bool = True


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    """Numbers as a drawing has them, to a thousandth."""
    return st.floats(low, high).map(lambda value: round(value, 3))


gaps = st.one_of(st.just(0.0), numbers(0, 6))
shares = st.sampled_from([("outside", 0.0), ("centerline", 0.5), ("inside", 1.0)])
"""Words for a box, each with the share of the width outside the measured line."""


@st.composite
def rectangles(draw: st.DrawFn) -> Case:
    count = draw(st.sampled_from([1, 2, 4]))
    width, height = draw(numbers(500, 3000)), draw(numbers(500, 3000))
    corners = draw(st.sampled_from([("miter", None), ("butt", "width"), ("butt", "height")]))
    sizes = {"width": width, "height": height, "corners": corners[0], "through": corners[1]}
    asked = (complex(0, height), complex(width, height), complex(width, 0), 0j)
    return _of_tubes(draw, "rectangle", count, asked, True, root_gap=draw(gaps), **sizes)


@st.composite
def regular_polygons(draw: st.DrawFn) -> Case:
    """By each of the three sizes; the first side lies on top."""
    sides, side = draw(st.integers(3, 12)), draw(numbers(400, 1500))
    half = math.pi / sides
    given = draw(st.sampled_from(["side", "across_flats", "across_corners"]))
    size = {"side": side, "across_flats": side / math.tan(half), "across_corners": side / math.sin(half)}[given]
    radius = side / 2 / math.sin(half)
    asked = tuple(cmath.rect(radius, math.pi / 2 + half - 2 * half * i) for i in range(sides))
    more = {"sides": sides, given: size, "corners": draw(st.sampled_from(KINDS)), "root_gap": draw(gaps)}
    return _of_tubes(draw, "polygon", draw(st.sampled_from([1, sides])), asked, True, **more)


@st.composite
def convex_polygons(draw: st.DrawFn) -> Case:
    """Corners on a circle, from every two neighbours a different way round it; every corner joined its own way."""
    asked = draw(_on_a_circle())
    corners = draw(st.lists(st.sampled_from(KINDS), min_size=len(asked), max_size=len(asked)))
    return draw(_by_points(asked, corners))


@st.composite
def l_shapes(draw: st.DrawFn) -> Case:
    """The corner that points into the frame is mitered, the others as they come."""
    a, b, c, d = (draw(numbers(400, 1500)) for _ in range(4))
    shape = (complex(0, c + d), complex(a, c + d), complex(a, c), complex(a + b, c), complex(a + b, 0), 0j)
    turned = cmath.rect(1, draw(st.floats(-3, 3)))
    corners = [draw(st.sampled_from(KINDS)) for _ in shape]
    return draw(_by_points(tuple(_to_a_thousandth(point * turned) for point in shape), corners, reflex=2))


@st.composite
def open_frames(draw: st.DrawFn) -> Case:
    """A chain that never turns back; a left turn is a corner that points into the frame and is mitered."""
    heading, asked, corners = draw(st.floats(-75, 75)), [0j], []
    for turn in draw(st.lists(st.floats(25, 75), min_size=1, max_size=4)):
        asked.append(_to_a_thousandth(asked[-1] + cmath.rect(draw(numbers(400, 1500)), math.radians(heading))))
        left = heading + turn <= 75 and (heading - turn < -75 or draw(st.booleans()))
        corners.append("miter" if left else draw(st.sampled_from(KINDS)))
        heading += turn if left else -turn
    asked.append(_to_a_thousandth(asked[-1] + cmath.rect(draw(numbers(400, 1500)), math.radians(heading))))
    deduct = draw(st.one_of(st.none(), numbers(0, 20)))
    more = {"points": _pairs(asked), "corners": corners, "root_gap": draw(gaps), "deduct": deduct}
    less = (_shortened(asked[0], asked[1], deduct or 0), _shortened(asked[-1], asked[-2], deduct or 0))
    return _of_tubes(draw, "polygon", len(asked) - 1, (less[0], *asked[1:-1], less[1]), False, closed=False, **more)


@st.composite
def angle_frames(draw: st.DrawFn) -> Case:
    """Angle with the leg of `flat` lying: heel out or in, leg up or down, measured on every line that a tape finds."""
    flat, up, thick = draw(numbers(30, 90)), draw(numbers(30, 90)), draw(numbers(3, 8))
    heel, leg = draw(st.sampled_from(["out", "in"])), draw(st.sampled_from(["up", "down"]))
    lines = {"outside": 0.0, "inside": flat, "over heels": 0.0, "between legs": thick, "toe to toe": flat}
    if heel == "in":
        lines |= {"over heels": flat, "between legs": flat, "toe to toe": 0.0}
    section = {"shape": "angle", "width": flat, "height": up, "thickness": thick}
    return draw(_of_open_section(section, {"heel": heel, "leg": leg}, flat, lines))


@st.composite
def channel_frames(draw: st.DrawFn) -> Case:
    """Channel standing on a flange, toes out or in, or lying on its web or its toes."""
    flange, deep = draw(numbers(40, 80)), draw(numbers(60, 150))
    toes = draw(st.sampled_from(["out", "in", "up", "down"]))
    width = flange if toes in ("out", "in") else deep
    lines = {"outside": 0.0, "inside": width}
    if toes in ("out", "in"):
        webs = flange if toes == "out" else 0.0
        lines |= {"over webs": webs, "toe to toe": flange - webs}
    section = {"shape": "channel", "width": flange, "height": deep, "web": 5, "flange": 7}
    return draw(_of_open_section(section, {"toes": toes}, width, lines))


every_kind = {
    "rectangle": rectangles(),
    "regular polygon": regular_polygons(),
    "convex polygon": convex_polygons(),
    "L": l_shapes(),
    "open frame": open_frames(),
    "angle frame": angle_frames(),
    "channel frame": channel_frames(),
}


def _of_tubes(
    draw: st.DrawFn, shape: str, count: int, asked: Sequence[complex], is_closed: bool, **keys: object
) -> Case:
    """A frame of `count` tubes of random widths, measured on any line of the box."""
    width = {f"T{i}": draw(numbers(10, 60)) for i in range(count)}
    measured, share = draw(shares)
    tubes = [tube(name, size) for name, size in width.items()]
    depth = {name: share * size for name, size in width.items()}
    job = (*tubes, frame(shape, list(width), measured=measured, **keys))
    return Case(job, tuple(asked), width, depth, is_closed)


@st.composite
def _by_points(draw: st.DrawFn, asked: tuple[complex, ...], corners: Sequence[str], reflex: int = 0) -> Case:
    """A closed frame by its points, given either way round; the corner `reflex`, where there is one, is mitered."""
    given, kinds, count = list(asked), list(corners), len(asked)
    counter_clockwise = draw(st.booleans())
    if counter_clockwise:
        given = [asked[0], *asked[:0:-1]]
    if reflex:
        kinds[count - reflex - 1 if counter_clockwise else reflex - 1] = "miter"
    return _of_tubes(draw, "polygon", count, asked, True, points=_pairs(given), corners=kinds, root_gap=draw(gaps))


@st.composite
def _of_open_section(
    draw: st.DrawFn, section: Mapping[str, object], words: Mapping[str, str], width: float, lines: Mapping[str, float]
) -> Case:
    measured = draw(st.sampled_from(sorted(lines)))
    asked = draw(_on_a_circle())
    keys = {"points": _pairs(asked), "measured": measured, "root_gap": draw(gaps), **words}
    job = (table("section", name="T", **section), frame("polygon", **keys))
    return Case(job, asked, {"T": width}, {"T": lines[measured]})


@st.composite
def _on_a_circle(draw: st.DrawFn) -> tuple[complex, ...]:
    """Three to eight points clockwise on a circle, no two much closer than any other two."""
    weights = draw(st.lists(st.integers(2, 4), min_size=3, max_size=8))
    radius, begin = draw(numbers(1000, 2500)), draw(st.floats(-3, 3))
    turns = [2 * math.pi * sum(weights[:i]) / sum(weights) for i in range(len(weights))]
    return tuple(_to_a_thousandth(cmath.rect(radius, begin - turn)) for turn in turns)


def _to_a_thousandth(point: complex) -> complex:
    return complex(round(point.real, 3), round(point.imag, 3))


def _pairs(points: Sequence[complex]) -> list[list[float]]:
    return [[point.real, point.imag] for point in points]


def _shortened(end: complex, other: complex, by: float) -> complex:
    return end + by * (other - end) / abs(other - end)
