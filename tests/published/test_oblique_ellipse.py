"""The ellipse that an oblique cut makes of a round tube.

Source: a plane at the angle th from square cuts a cylinder of diameter D in an ellipse of axes D / cos th and D; area
pi D^2 / (4 cos th), the wall's area that of a square cut over cos th; perimeter 2 major E(m), m = 1 - (b/a)^2, with
Ramanujan's approximations as in Wikipedia, "Perimeter of an ellipse" (READ). `data/ellipse.csv` and
`data/ellipse_normalised.csv`: COMPUTED from these with mpmath at 30 digits.

Tolerance: half a unit of the last figure in the file; perimeters 1e-11 relative, the figures given for them. The
perimeter of the whole face has no printed value of its own: outer and inner ellipse are added.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.geometry.elliptic import second_kind

Row = dict[str, str]

DATA = Path(__file__).with_name("data")


def rows(name: str) -> list[Row]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


ROWS = rows("ellipse.csv")
SHAPES = rows("ellipse_normalised.csv")

every_row = pytest.mark.parametrize(
    "row", ROWS, ids=[f"{r['od_mm']}x{r['wall_mm']} at {r['cut_angle_from_square_deg']}" for r in ROWS]
)
by_miter_and_bevel = pytest.mark.parametrize("way", ["miter", "bevel"])


def half_unit(printed: str) -> float:
    return 0.5 * 10.0 ** -len(printed.partition(".")[2])


def is_as_printed(found: float, printed: str) -> bool:
    return abs(found - float(printed)) <= half_unit(printed) * (1 + 1e-9)


def cut(row: Row, way: str) -> mt.Cut:
    angle = float(row["cut_angle_from_square_deg"])
    return mt.Cut(angle) if way == "miter" else mt.Cut(0, angle)


def solid(row: Row) -> mt.Section:
    return mt.round_bar(float(row["od_mm"]))


@by_miter_and_bevel
@every_row
def test_axes_of_the_face(row: Row, way: str) -> None:
    """A miter lengthens the face along the blade, a bevel up the face."""
    tube = mt.round_tube(float(row["od_mm"]), float(row["wall_mm"]))
    face = cut(row, way).face(tube)
    major, minor = (face.width, face.height) if way == "miter" else (face.height, face.width)
    assert is_as_printed(major, row["major_axis_mm"])
    assert minor == pytest.approx(float(row["minor_axis_mm"]), rel=1e-12)
    assert math.sqrt(1 - (minor / major) ** 2) == pytest.approx(float(row["eccentricity"]), abs=5e-9)


@by_miter_and_bevel
@every_row
def test_areas_of_the_face(row: Row, way: str) -> None:
    tube = mt.round_tube(float(row["od_mm"]), float(row["wall_mm"]))
    assert is_as_printed(cut(row, way).face(tube).area, row["cut_wall_area_mm2"])
    assert is_as_printed(cut(row, way).face(solid(row)).area, row["outer_ellipse_area_mm2"])


@by_miter_and_bevel
@every_row
def test_perimeter_of_the_outer_ellipse(row: Row, way: str) -> None:
    found = cut(row, way).face(solid(row)).perimeter
    assert found == pytest.approx(float(row["perimeter_exact_mm"]), rel=1e-11)


@every_row
def test_perimeter_of_the_wall_is_both_ellipses(row: Row) -> None:
    outer, wall = float(row["od_mm"]), float(row["wall_mm"])
    tube, hole = mt.round_tube(outer, wall), mt.round_bar(outer - 2 * wall)
    whole = float(row["perimeter_exact_mm"]) * (1 + (outer - 2 * wall) / outer)
    assert cut(row, "miter").face(tube).perimeter == pytest.approx(whole, rel=1e-11)
    assert cut(row, "miter").face(hole).perimeter == pytest.approx(whole - float(row["perimeter_exact_mm"]), rel=1e-10)


@pytest.mark.parametrize("row", SHAPES, ids=[row["b_over_a"] for row in SHAPES])
def test_complete_integral_and_perimeter(row: Row) -> None:
    """E(m) to the 15 figures given; an ellipse of half axes 1 and b/a has the perimeter 4 E(m)."""
    ratio = float(row["b_over_a"])
    assert second_kind(math.pi / 2, 1 - ratio**2) == pytest.approx(float(row["E_of_m"]), rel=1e-14)
    face = mt.Cut.from_slopes(math.sqrt(1 / ratio**2 - 1), 0).face(mt.round_bar(2 * ratio))
    assert face.perimeter == pytest.approx(float(row["perimeter_over_a"]), rel=1e-13)


@pytest.mark.parametrize("row", SHAPES, ids=[row["b_over_a"] for row in SHAPES])
def test_ramanujan_bounds_the_perimeter(row: Row) -> None:
    """Ramanujan's approximations (1914) fall short of the perimeter, the second by less than 4e-5 from b/a = 0.1 up."""
    face = mt.Cut.from_slopes(math.sqrt(1 / float(row["b_over_a"]) ** 2 - 1), 0)
    found = face.face(mt.round_bar(2 * float(row["b_over_a"]))).perimeter
    assert float(row["ram1"]) - 5e-12 <= found
    assert float(row["ram2"]) - 5e-12 <= found <= float(row["ram2"]) * (1 + 4e-5)
