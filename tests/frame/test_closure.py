"""How well a frame closes by its own account: nothing before rounding, and by hand what tape and protractor leave.

Without a saw file the tape reads half a millimetre and the protractor a quarter of a degree; in inches the tape reads a
sixteenth. A saw's own division goes before the quarter.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

import mitertool as mt
from mitertool.frame import Assembly, Joint, Resolution, planar
from mitertool.frame.assembly import rounded
from tests.frame.runs import HEAD, checked, frame, tube

SAW = """\
[saw]
name = "made up"
kind = "hinged"
kerf = 1
invented = true
[scale]
square = 0
two_sided = true
division = 1
feed_side_most = 80
discharge_side_most = 80
[vise]
fixed_jaw = "left"
"""


def closure(folder: Path, *tables: str, head: str = HEAD) -> dict[str, Any]:
    found: dict[str, Any] = checked(folder, *tables, head=head)["assemblies"][0]["closure"]
    assert max(found["gap_mm"], found["overlap_mm"]) <= 1e-6
    return found


def seam(width: float, miter: float) -> float:
    return width / math.cos(math.radians(miter))


UNEQUAL = (tube("N", 40), tube("W", 80), frame("rectangle", ["W", "N"], width=1000, height=600, measured="outside"))
"""Miters of atan 1/2 = 26.565 and atan 2 = 63.435."""


def test_unequal_seams(tmp_path: Path) -> None:
    """To a quarter they are cut at 26.5 and 63.5: the turn is still right, but the seams are 89.393 and 89.648 long."""
    found = closure(tmp_path, *UNEQUAL)["rounded_gap_mm"]
    assert found == pytest.approx(seam(40, 63.5) - seam(80, 26.5), abs=1e-6)


def test_the_division_of_the_saw(tmp_path: Path) -> None:
    """To whole degrees: 27 and 63."""
    (tmp_path / "saw.toml").write_text(SAW, encoding="utf-8")
    found = closure(tmp_path, *UNEQUAL, head=HEAD + 'saw = "saw.toml"\n')["rounded_gap_mm"]
    assert found == pytest.approx(seam(80, 27) - seam(40, 63), abs=1e-6)


@pytest.mark.parametrize(
    ("units", "half", "odd", "apart"), [("mm", 500, 0.2, 0.5), ("in", 20, 0.02, 25.4 / 16)], ids=["mm", "in"]
)
def test_lengths_on_the_tape(tmp_path: Path, units: str, half: float, odd: float, apart: float) -> None:
    """An L whose bottom is as long as its top and its step together: 500.2 twice reads 500, 1000.4 reads 1000.5. The
    last seam, at 45 degrees, then opens by that over sqrt 2. In inches 20.02 reads 20 and 40.04 reads 40-1/16."""
    wide, whole = half + odd, 2 * half
    points = [[0, 0], [0, whole], [wide, whole], [wide, half], [2 * wide, half], [2 * wide, 0]]
    section = tube("T", half / 10, wall=half / 100)
    shape = frame("polygon", points=points, measured="outside")
    found = closure(tmp_path, section, shape, head=HEAD + f'units = "{units}"\n')
    assert found["rounded_gap_mm"] == pytest.approx(apart / math.sqrt(2))


def test_round_sizes_leave_nothing(tmp_path: Path) -> None:
    hexagon = frame("polygon", sides=6, side=700, measured="outside")
    assert closure(tmp_path, tube("T", 50), hexagon)["rounded_gap_mm"] == pytest.approx(0, abs=1e-9)


def triangle(resolution: Resolution) -> Assembly:
    tip = 500 / math.tan(math.radians(0.6))
    points = [0j, complex(500, tip), 1000 + 0j]
    return planar("p", points, [mt.flat(10, 10)] * 3, "outside", [Joint()] * 3, resolution=resolution)


def test_a_needle_rounded_to_the_last_reading_below_90() -> None:
    """A corner of 1.2 degrees has miters of 89.4: to whole degrees 89, as a blade along the bar cuts nothing."""
    needle = triangle(Resolution(0.5, 1.0))
    assert rounded(needle.pieces[0].piece, Resolution(0.5, 1.0)).right.miter == pytest.approx(89)
    assert needle.closure.gap <= 1e-6
    assert needle.closure.rounded_gap > 1


@pytest.mark.parametrize(
    ("miter", "division", "expected"), [(33.3, 0.25, 33.25), (-33.3, 0.5, -33.5), (89.9, 0.25, 89.75)]
)
def test_a_miter_as_the_scale_shows_it(miter: float, division: float, expected: float) -> None:
    piece = mt.Piece(mt.flat(1, 10), 5000, right=mt.Cut(miter, 12.34))
    found = rounded(piece, Resolution(0.5, division))
    assert (found.right.miter, found.right.bevel) == pytest.approx((expected, 12.34))
    assert found.long_point == pytest.approx(5000)


def test_a_pointed_piece_stays_one() -> None:
    """Two cuts of 33.3 on a width of 50 need 65.69 to a point; the tape says 65.5, and cuts of 33.25 need 65.56."""
    piece = mt.Piece(mt.flat(50, 10), 0, mt.Cut(33.3), mt.Cut(33.3), at="fixed-bottom")
    found = rounded(piece, Resolution(0.5, 0.25))
    assert found.short_point == pytest.approx(0, abs=1e-9)
    assert found.long_point == pytest.approx(100 * math.tan(math.radians(33.25)))
