"""Outlines out of DXF files: areas and perimeters of lines and arcs in closed form, holes, units, layers, blocks.

Files are written as text by `dxf_text`, so reading them does not lean on the library that reads them; only splines,
ellipses and blocks are written with ezdxf. Areas to 1e-9 relative; curves other than arcs within the chord error that
the source of such a section states, times the perimeter.
"""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mitertool.geometry import Region
from mitertool.geometry.dxf_outline import read_outline
from tests.geometry.dxf_text import (
    INCH,
    MM,
    NO_UNIT,
    Point,
    Vertex,
    arc,
    box,
    circle,
    line,
    polyline,
    write,
)

EXACT = 1e-9
CHORD_ERROR = 1e-3
"""mm, as the source of a section from a drawing says."""

QUARTER = math.tan(math.pi / 8)
"""The bulge of a quarter circle."""


def read(folder: Path, *entities: str, header: int | None = MM, **words: str) -> Region:
    return read_outline(write(folder / "drawn.dxf", *entities, unit=header), **words)


SLOT: list[Point | Vertex] = [(0, 0), (40, 0, 1.0), (40, 30), (0, 30, 1.0)]
ROUNDED: list[Point | Vertex] = [
    *((5, 0), (45, 0, QUARTER), (50, 5), (50, 25, QUARTER)),
    *((45, 30), (5, 30, QUARTER), (0, 25), (0, 5, QUARTER)),
]
SHAPES: dict[str, tuple[list[str], float, float]] = {
    "square": ([box(0, 0, 40, 40)], 1600, 160),
    "circle": ([circle((7, -3), 20)], 400 * math.pi, 40 * math.pi),
    "whole arc": ([arc((0, 0), 20, 0, 360)], 400 * math.pi, 40 * math.pi),
    "circle of two bulges": ([polyline([(0, 0, 1.0), (40, 0, 1.0)])], 400 * math.pi, 40 * math.pi),
    "slot": ([polyline(SLOT)], 1200 + 225 * math.pi, 80 + 30 * math.pi),
    "slot of lines and arcs": (
        [line((0, 0), (40, 0)), arc((40, 15), 15, -90, 90), line((40, 30), (0, 30)), arc((0, 15), 15, 90, 270)],
        1200 + 225 * math.pi,
        80 + 30 * math.pi,
    ),
    "rounded": ([polyline(ROUNDED)], 1500 - (4 - math.pi) * 25, 120 + 10 * math.pi),
    "bitten": (
        [polyline([(0, 0), (40, 0), (40, 30), (30, 30, -1.0), (10, 30), (0, 30)])],
        1200 - 50 * math.pi,
        120 + 10 * math.pi,
    ),
    "three quarters of a circle": (
        [arc((0, 0), 20, 90, 360), line((0, 0), (0, 20)), line((20, 0), (0, 0))],
        300 * math.pi,
        30 * math.pi + 40,
    ),
    "lens": (
        [arc((-10, 0), 20, -60, 60), arc((10, 0), 20, 120, 240)],
        400 * (2 * math.pi / 3 - math.sqrt(3) / 2),
        80 * math.pi / 3,
    ),
    "ring": ([circle((0, 0), 30), circle((0, 0), 27)], (900 - 729) * math.pi, 114 * math.pi),
    "hole first": ([circle((50, 50), 4), box(0, 0, 100, 100)], 10000 - 16 * math.pi, 400 + 8 * math.pi),
    "two holes": (
        [box(0, 0, 60, 40), circle((15, 20), 10), box(35, 10, 55, 30)],
        2400 - 100 * math.pi - 400,
        200 + 20 * math.pi + 80,
    ),
    "rounded tube": ([polyline(ROUNDED), box(10, 8, 40, 22)], 1080 - (4 - math.pi) * 25, 208 + 10 * math.pi),
}
"""Entities with the area (mm2) and the perimeter (mm) of what they bound."""


@pytest.mark.parametrize("name", SHAPES)
def test_area_and_perimeter(tmp_path: Path, name: str) -> None:
    entities, area, perimeter = SHAPES[name]
    region = read(tmp_path, *entities)
    assert region.area == pytest.approx(area, rel=EXACT)
    assert region.perimeter == pytest.approx(perimeter, rel=EXACT)


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize(("header", "words", "mm"), [(INCH, {}, 25.4), (NO_UNIT, {"unit": "in"}, 25.4), (6, {}, 1000)])
def test_units(tmp_path: Path, name: str, header: int | None, words: dict[str, str], mm: float) -> None:
    entities, area, perimeter = SHAPES[name]
    region = read(tmp_path, *entities, header=header, **words)
    assert region.area == pytest.approx(area * mm**2, rel=EXACT)
    assert region.perimeter == pytest.approx(perimeter * mm, rel=EXACT)


@pytest.mark.parametrize("name", SHAPES)
def test_it_lies_in_its_corner_with_the_material_on_the_left(tmp_path: Path, name: str) -> None:
    """The box begins at (0, 0); the outer loop comes first and runs counter-clockwise, holes clockwise."""
    region = read(tmp_path, *SHAPES[name][0])
    assert region.bounds[:2] == pytest.approx((0, 0), abs=1e-9)
    areas = [Region((loop,)).area for loop in region.loops]
    assert areas[0] > 0
    assert all(area < 0 for area in areas[1:])


def test_one_piece_of_outline_for_one_entity(tmp_path: Path) -> None:
    """Ends that differ by rounding alone are not bridged by lines of no length."""
    assert [len(loop) for loop in read(tmp_path, *SHAPES["slot of lines and arcs"][0]).loops] == [4]
    assert [len(loop) for loop in read(tmp_path, *SHAPES["circle of two bulges"][0]).loops] == [2]


def test_which_way_is_up(tmp_path: Path) -> None:
    """x of the drawing across the bed, y up from it: an L of 10 with legs of 60 and 40 has its weight near the heel."""
    drawn = polyline([(100, 200), (160, 200), (160, 210), (110, 210), (110, 240), (100, 240)])
    y, z = read(tmp_path, drawn).centroid
    assert (y, z) == pytest.approx(((600 * 30 + 300 * 5) / 900, (600 * 5 + 300 * 25) / 900))


# Random outlines of lines and arcs


Side = tuple[complex, complex, float]
"""From, to, and the bulge between."""


@st.composite
def outlines(draw: st.DrawFn) -> list[Side]:
    """Points counter-clockwise on a circle, each side straight or bulging out or, less, in."""
    weights = draw(st.lists(st.integers(2, 4), min_size=3, max_size=8))
    radius = draw(st.floats(5, 200))
    turns = [2 * math.pi * sum(weights[:i]) / sum(weights) for i in range(len(weights))]
    points = [cmath.rect(radius, turn) for turn in turns]
    bulges = [draw(st.one_of(st.just(0.0), st.floats(0.01, 0.4), st.floats(-0.15, -0.01))) for _ in points]
    return list(zip(points, [*points[1:], points[0]], bulges, strict=True))


def bounded_area(sides: Sequence[Side]) -> float:
    """The polygon and the segment of a circle on each of its sides, mm2."""
    return sum(
        (a.conjugate() * b).imag / 2 + math.copysign(_segment(abs(b - a), bulge), bulge) for a, b, bulge in sides
    )


def _segment(chord: float, bulge: float) -> float:
    turn = 4 * math.atan(abs(bulge))
    return _radius(chord, bulge) ** 2 / 2 * (turn - math.sin(turn)) if bulge else 0.0


def _radius(chord: float, bulge: float) -> float:
    return chord * (1 + bulge * bulge) / (4 * abs(bulge))


def length(side: Side) -> float:
    a, b, bulge = side
    return 4 * math.atan(abs(bulge)) * _radius(abs(b - a), bulge) if bulge else abs(b - a)


def vertices(sides: Sequence[Side]) -> list[Vertex]:
    return [(a.real, a.imag, bulge) for a, _, bulge in sides]


def turned_round(sides: Sequence[Side]) -> list[Side]:
    return [(b, a, -bulge) for a, b, bulge in sides[::-1]]


def entity(side: Side) -> str:
    """A line as it runs, or an arc, which always runs counter-clockwise."""
    a, b, bulge = side
    if not bulge:
        return line((a.real, a.imag), (b.real, b.imag))
    center = (a + b) / 2 + 1j * (b - a) * (1 - bulge * bulge) / (4 * bulge)
    begin, end = (math.degrees(cmath.phase(point - center)) for point in ((a, b) if bulge > 0 else (b, a)))
    return arc((center.real, center.imag), abs(a - center), begin, end)


@settings(deadline=None, max_examples=60, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(outlines(), st.data())
def test_bulges_both_ways_drawn_in_any_way(tmp_path: Path, sides: list[Side], data: st.DataObject) -> None:
    """As one polyline either way round, and as lines and arcs in any order: the same area and perimeter."""
    mixed = data.draw(st.permutations(sides))
    either = [turned_round([side])[0] if data.draw(st.booleans()) else side for side in mixed]
    ways = ([polyline(vertices(sides))], [polyline(vertices(turned_round(sides)))], [entity(side) for side in either])
    for entities in ways:
        region = read(tmp_path, *entities)
        assert region.area == pytest.approx(bounded_area(sides), rel=EXACT)
        assert region.perimeter == pytest.approx(sum(map(length, sides)), rel=EXACT)


# Curves other than arcs, blocks, and what is mirrored: written with ezdxf


def by_ezdxf(folder: Path, draw: Callable[[Any], object], block: dict[str, float] | None = None) -> Region:
    """What `draw` puts into the model space, or into a block that is inserted there."""
    document = ezdxf.new()  # type: ignore[attr-defined]
    document.header["$INSUNITS"] = MM
    space = document.modelspace()
    if block is None:
        draw(space)
    else:
        draw(document.blocks.new("B"))
        space.add_blockref("B", (30, -20), dxfattribs=block)
    document.saveas(folder / "drawn.dxf")
    return read_outline(folder / "drawn.dxf")


def draw_arch(space: Any) -> None:
    """Under a Bezier curve through (0, 0), (10, 20), (30, 20), (40, 0): y = 60 t (1 - t), x' = 30 (1 + 2 t (1 - t)), so
    1800 (1/6 + 2/30) = 420."""
    space.add_open_spline([(0, 0), (10, 20), (30, 20), (40, 0)], degree=3)
    space.add_line((40, 0), (0, 0))


@pytest.mark.parametrize(
    ("draw", "area"),
    [
        (lambda space: space.add_ellipse((3, 4), (30, 0), 0.5), 450 * math.pi),
        (
            lambda space: (space.add_ellipse((0, 0), (0, 30), 0.25, 0, math.pi), space.add_line((0, -30), (0, 30))),
            112.5 * math.pi,
        ),
        (draw_arch, 420),
    ],
    ids=["ellipse", "half an ellipse", "spline"],
)
def test_other_curves_within_the_stated_error(tmp_path: Path, draw: Callable[[Any], object], area: float) -> None:
    """The chords lie inside, never further off than the chord error."""
    region = by_ezdxf(tmp_path, draw)
    assert area - CHORD_ERROR * region.perimeter <= region.area <= area


FIN = 400 * math.pi - 9 * math.pi


@pytest.mark.parametrize(
    ("block", "area", "mirrored"),
    [
        ({}, 1, False),
        ({"rotation": 90}, 1, False),
        ({"xscale": 2, "yscale": 2}, 4, False),
        ({"xscale": -1}, 1, True),
        ({"yscale": -1, "rotation": 180}, 1, True),
    ],
    ids=str,
)
def test_blocks(tmp_path: Path, block: dict[str, float], area: float, mirrored: bool) -> None:
    """Inserted turned, larger or mirrored; a mirrored outline has its weight on the other side."""

    def fin(space: Any) -> None:
        space.add_lwpolyline([(0, 0, 0), (40, 0, QUARTER), (0, 40, 0)], format="xyb", close=True)
        space.add_circle((10, 5), 3)

    plain, region = by_ezdxf(tmp_path, fin), by_ezdxf(tmp_path, fin, block)
    assert region.area == pytest.approx(FIN * area, rel=EXACT)
    if block.get("rotation") == 90 or area != 1:
        return
    y, z = plain.centroid
    assert region.centroid == pytest.approx((40 - y if mirrored else y, z))


@pytest.mark.parametrize("kind", ["lwpolyline", "polyline2d"])
def test_mirrored_entities(tmp_path: Path, kind: str) -> None:
    """An entity that a drawing program mirrored keeps axes of its own, seen from below."""

    def mirrored(space: Any) -> None:
        from_below = {"extrusion": (0, 0, -1)}
        points = [(0, 0, 0), (40, 0, QUARTER), (0, 40, 0)]
        getattr(space, f"add_{kind}")(points, format="xyb", close=True, dxfattribs=from_below)
        space.add_circle((10, 5), 3, dxfattribs=from_below)

    region = by_ezdxf(tmp_path, mirrored)
    quarter, hole = 400 * math.pi, 9 * math.pi
    off = 4 * 40 / (3 * math.pi)
    y = 40 - (quarter * off - hole * 10) / (quarter - hole)
    z = (quarter * off - hole * 5) / (quarter - hole)
    assert region.area == pytest.approx(FIN, rel=EXACT)
    assert region.centroid == pytest.approx((y, z))


# Layers and what lies beside


def test_layers(tmp_path: Path) -> None:
    drawn = [circle((0, 0), 10, "CUT"), circle((0, 0), 4, "CUT"), box(50, 0, 60, 10, "NOTES")]
    assert read(tmp_path, *drawn, layer="CUT").area == pytest.approx(84 * math.pi, rel=EXACT)
    assert read(tmp_path, *drawn, layer="NOTES").area == pytest.approx(100, rel=EXACT)


def test_words_do_not_count(tmp_path: Path) -> None:
    def draw(space: Any) -> None:
        space.add_circle((0, 0), 10)
        space.add_text("tube")
        space.add_point((500, 500))

    assert by_ezdxf(tmp_path, draw).area == pytest.approx(100 * math.pi, rel=EXACT)


def gap_in_a_square(apart: float) -> Iterator[str]:
    points = [(0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0), (0.0, apart)]
    return (line(a, b) for a, b in itertools.pairwise(points))


def test_ends_within_a_micrometre_meet(tmp_path: Path) -> None:
    assert read(tmp_path, *gap_in_a_square(0.0009)).area == pytest.approx(1200, abs=0.04)


def test_a_word_beside_it_may_say_what_the_file_says(tmp_path: Path) -> None:
    path = write(tmp_path / "drawn.dxf", box(0, 0, 40, 40))
    assert read_outline(path, "mm").area == pytest.approx(1600)


def test_an_outline_above_the_ground_is_read(tmp_path: Path) -> None:
    """All of it 250 high, with rests of four thousandths of a millimetre in its heights."""

    def draw(space: Any) -> None:
        corners = [(0, 0, 250), (40, 0, 250.004), (40, 30, 249.996), (0, 30, 250)]
        space.add_polyline3d(corners, close=True)
        space.add_circle((20, 15, 250), 5)

    assert by_ezdxf(tmp_path, draw).area == pytest.approx(1200 - 25 * math.pi, rel=EXACT)


@pytest.mark.parametrize("off", [(0.0009, 0), (-0.0009, 0), (0, 0.0009), (0, -0.0009)], ids=str)
def test_a_line_that_runs_too_far_or_beside(tmp_path: Path, off: tuple[float, float]) -> None:
    """By less than a micrometre, in any direction: it ends where the next one begins, whatever that is."""
    corner = (40 + off[0], off[1])
    rest = [line((40, 30), (0, 30)), line((0, 30), (0, 0))]
    square = read(tmp_path, line((0, 0), corner), line((40, 0), (40, 30)), *rest)
    assert square.area == pytest.approx(1200, abs=0.04)
    assert [len(loop) for loop in square.loops] == [4]
    rounded = read(tmp_path, line((0, 0), corner), arc((40, 15), 15, -90, 90), *rest)
    assert rounded.area == pytest.approx(1200 + 112.5 * math.pi, abs=0.04)
    assert [len(loop) for loop in rounded.loops] == [4]
