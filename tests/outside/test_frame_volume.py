"""Frames of tube put together as solids with a general mesh library: no two pieces share any room.

manifold3d (Apache-2.0) unites the solids. Each piece is built from its corners as `tests.laws.reassembly` lays them, a
sharp-cornered tube of the section's walls, so that its volume is also held against the sheet's. Where pieces only
touch, the volume of the union is the sum of the volumes. Tolerance 1e-6 relative: the library joins faces that lie in
one plane within a tolerance of its own.
"""

from __future__ import annotations

import itertools
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.frame.runs import checked, frame, tube
from tests.laws.reassembly import Bar, Placed, bars, put_together

pytestmark = pytest.mark.outside

RELATIVE = 1e-6
HEIGHT, WALL = 40.0, 3.0
L_SHAPE = [[0, 0], [0, 1000], [500, 1000], [500, 500], [1000, 500], [1000, 0]]
MIXED = ["first-through", "miter", "miter", "second-through", "miter", "first-through"]
WIDTHS = {"A": 30.0, "B": 50.0, "C": 80.0, "D": 40.0}

FRAMES: dict[str, str] = {
    "mitered": frame("rectangle", "B", width=1000, height=600, measured="outside"),
    "unequal": frame("rectangle", ["A", "C"], width=1000, height=600, measured="inside"),
    "four widths": frame("rectangle", ["A", "B", "C", "D"], width=1000, height=600, measured="centerline"),
    "butted": frame("rectangle", ["A", "C"], width=1000, height=600, measured="outside", corners="butt"),
    "hexagon": frame("polygon", "B", sides=6, across_flats=900, measured="outside"),
    "triangle": frame("polygon", ["A", "B", "C"], sides=3, side=1200, measured="outside", corners="second-through"),
    "L": frame("polygon", "B", points=L_SHAPE, measured="inside"),
    "L of all joints": frame("polygon", list("ABCDAB"), points=L_SHAPE, measured="outside", corners=MIXED),
}


def record_of(folder: Path, name: str) -> dict[str, Any]:
    return checked(folder, *(tube(key, width, HEIGHT, WALL) for key, width in WIDTHS.items()), FRAMES[name])


def sides_of(record: dict[str, Any]) -> list[Bar]:
    width = {piece["mark"]: WIDTHS[piece["section"]] for piece in record["pieces"]}
    return bars(record["pieces"], record["assemblies"][0], width)


def placed(record: dict[str, Any]) -> list[Placed]:
    return put_together(sides_of(record), record["assemblies"][0]["joints"])


def solid(stands: Placed) -> Any:
    """A tube between its two cuts: the plan stood up, less the hollow, which runs out past both ends."""
    from manifold3d import CrossSection, Manifold

    def prism(low: float, high: float, beyond: float, height: float) -> Any:
        bar = stands.bar
        left = [_at(bar.inner_left, bar.outer_left, y / bar.width) - beyond for y in (low, high)]
        right = [_at(bar.inner_right, bar.outer_right, y / bar.width) + beyond for y in (high, low)]
        points = [stands(point) for point in (left[0], right[1], right[0], left[1])]
        return Manifold.extrude(CrossSection([[(point.real, point.imag) for point in points]]), height)

    outer = prism(0, stands.bar.width, 0, HEIGHT)
    hollow = prism(WALL, stands.bar.width - WALL, 10, HEIGHT - 2 * WALL)
    return outer - hollow.translate((0, 0, WALL))


def _at(inner: complex, outer: complex, share: float) -> complex:
    return inner + share * (outer - inner)


def volumes(stands: list[Placed]) -> tuple[float, float]:
    """Of the union, and of the pieces added."""
    from manifold3d import Manifold, OpType

    solids = [solid(one) for one in stands]
    return Manifold.batch_boolean(solids, OpType.Add).volume(), sum(one.volume() for one in solids)


@pytest.mark.parametrize("name", FRAMES)
def test_no_room_is_shared(tmp_path: Path, name: str) -> None:
    union, total = volumes(placed(record_of(tmp_path, name)))
    assert union == pytest.approx(total, rel=RELATIVE)


@pytest.mark.parametrize("name", FRAMES)
def test_the_sheet_has_these_volumes(tmp_path: Path, name: str) -> None:
    record = record_of(tmp_path, name)
    pieces = {piece["mark"]: piece for piece in record["pieces"]}
    for mark, stands in zip(record["assemblies"][0]["order"], placed(record), strict=True):
        assert solid(stands).volume() == pytest.approx(pieces[mark]["volume_mm3"], rel=RELATIVE)


@pytest.mark.parametrize("name", FRAMES)
def test_a_piece_a_millimetre_off_is_seen(tmp_path: Path, name: str) -> None:
    """Longer or shorter, one piece of the frame brings another into the room of a third."""
    record = record_of(tmp_path, name)
    sides, joints = sides_of(record), record["assemblies"][0]["joints"]
    found = []
    for i, by in itertools.product(range(len(sides)), (1.0, -1.0)):
        wrong = [*sides[:i], replace(sides[i], outer=sides[i].outer + by), *sides[i + 1 :]]
        union, total = volumes(put_together(wrong, joints))
        found.append(1 - union / total)
    assert max(found) > 10 * RELATIVE
