"""Z sections: their area by the midline rule, how they lie and are laid, and a shop's own table of them.

A sheet that is bent keeps its thickness, so that its section is the thickness times the length of its midline, and a
bend of inner radius r through an angle has a midline of (r + t/2) times that angle: exact, as an annulus is the mean
of its circles times its wall.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.frame import laid, rectangle
from mitertool.frame.measured import outward
from mitertool.sections import laid_by, lies_safely
from mitertool.sections.lay import base
from tests.specimens import scanline

PLAIN = mt.z_section(200, 65, 2, 3)
LIPPED = mt.z_section(200, 65, 2, 3, 18)
NESTING = mt.z_section(200, 65, 2, 3, 18, 90, 59)

RIGHT = math.pi / 2


def midline(height: float, flanges: tuple[float, float], t: float, r: float, lip: float = 0, bend: float = 90) -> float:
    """Straights between tangent points, and bends at r + t/2; a bend takes (r + t) tan(angle/2) of either side."""
    back = r + t
    web = height - 2 * back
    angle = math.radians(bend)
    bite = back * math.tan(angle / 2)
    straights = sum(width - back - (bite if lip else 0) + (lip - bite if lip else 0) for width in flanges)
    bends = 2 * RIGHT + (2 * angle if lip else 0)
    return web + straights + bends * (r + t / 2)


@pytest.mark.parametrize("t", [1.5, 3.0])
@pytest.mark.parametrize("r", [0.0, 2.0, 4.5])
@pytest.mark.parametrize("lip, bend", [(0, 90), (20, 90), (20, 50), (25, 45)])
@pytest.mark.parametrize("top", [None, 58.0])
def test_the_area_is_thickness_times_midline(t: float, r: float, lip: float, bend: float, top: float | None) -> None:
    section = mt.z_section(200, 65, t, r, lip, bend, top)
    assert section.area == pytest.approx(t * midline(200, (65, top or 65), t, r, lip, bend), rel=1e-12)


def test_the_area_of_a_published_section() -> None:
    """8ZS2.25x059 of the AISI Cold-Formed Steel Design Manual: D = 8, B = 2.25, t = 0.059, lip 0.910 at 50 degrees,
    R = 0.1875, A = 0.822 in2 (all from memory, edition not seen)."""
    section = mt.z_section(8 * 25.4, 2.25 * 25.4, 0.059 * 25.4, 0.1875 * 25.4, 0.910 * 25.4, 50)
    assert section.area / 25.4**2 == pytest.approx(0.822, abs=0.0005)


@pytest.mark.parametrize(
    ("section", "width"),
    [
        (PLAIN, 2 * 65 - 2),
        (NESTING, 65 + 59 - 2),
        (mt.z_section(200, 65, 2, 3, 20, 50), 2 * (65 + 20 * math.cos(math.radians(50))) - 2),
    ],
    ids=["plain", "nesting", "leaning lips"],
)
def test_the_box(section: mt.Section, width: float) -> None:
    assert (section.width, section.height) == pytest.approx((width, 200))


def test_where_the_steel_is() -> None:
    """Lower flange toward y = 128, upper toward y = 0, the web from 63 to 65."""
    assert scanline(PLAIN, 1)[0][1] == pytest.approx(128)
    assert scanline(PLAIN, 1)[0][0] > 63
    assert scanline(PLAIN, 100) == [pytest.approx((63, 65))]
    assert scanline(PLAIN, 199)[0][0] == pytest.approx(0)
    assert scanline(LIPPED, 17) == [pytest.approx((63, 65)), pytest.approx((126, 128))]
    assert scanline(LIPPED, 183) == [pytest.approx((0, 2)), pytest.approx((63, 65))]


def test_a_z_has_a_half_turn_and_no_mirror() -> None:
    """So its pieces may be rolled, and never turned end for end; one that nests may not even be rolled."""
    assert PLAIN.symmetry == LIPPED.symmetry == {"half-turn"}
    assert NESTING.symmetry == frozenset()
    cuts = (mt.Cut(30, 10), mt.Cut(45))
    assert mt.Piece(LIPPED, 1000, *cuts).poses == ("as-drawn", "rolled")
    assert mt.Piece(NESTING, 1000, *cuts).poses == ("as-drawn",)


@pytest.mark.parametrize("section", [PLAIN, LIPPED, NESTING, mt.z_section(120, 55, 3, 4.5, 25, 50)], ids=str)
def test_leaning_it_rests_on_a_toe_and_a_bend(section: mt.Section) -> None:
    """On the web's end it has no base under its weight, and on its flat web only a toe."""
    lying = laid_by(section, "web leaning")
    left, right = base(lying)
    assert right - left > 0.9 * math.hypot(section.height, 55)
    assert lies_safely(lying)
    assert not lies_safely(section)
    assert not lies_safely(laid_by(section, "web flat"))


@pytest.mark.parametrize(
    ("section", "rotation", "turned", "says"),
    [
        (LIPPED, 0, False, "web up, flange low toward the moving jaw"),
        (LIPPED, 180, False, "web up, flange low toward the moving jaw"),
        (LIPPED, 0, True, "web up, flange low toward the fixed jaw"),
        (LIPPED, 90, False, "web flat, flange up at the moving jaw"),
        (LIPPED, 270, True, "web flat, flange up at the fixed jaw"),
        (NESTING, 0, False, "web up, wide flange low toward the moving jaw"),
        (NESTING, 180, False, "web up, narrow flange low toward the moving jaw"),
        (NESTING, 90, False, "web flat, wide flange up at the moving jaw"),
        (NESTING, 270, False, "web flat, narrow flange up at the moving jaw"),
        (NESTING, 90, True, "web flat, narrow flange up at the fixed jaw"),
        (NESTING, 270, True, "web flat, wide flange up at the fixed jaw"),
        (LIPPED, 30, False, "rolled 30°, its top to the fixed jaw"),
    ],
)
def test_how_it_lies_in_words(section: mt.Section, rotation: float, turned: bool, says: str) -> None:
    lying = section.lay(rotation, turned)
    assert lying.shape.lies(lying) == says
    if rotation in (90, 270):
        side = lying.width - 1 if says.endswith("moving jaw") else 1
        spans = [z for z in range(1, int(lying.height)) if any(a < side < b for a, b in scanline(lying, z + 0.5))]
        assert min(spans) + max(spans) > lying.height
    elif rotation in (0, 180):
        a, b = scanline(lying, 1)[0][0], scanline(lying, 1)[-1][1]
        assert (a + b > lying.width) == says.endswith("moving jaw")


@pytest.mark.parametrize(
    ("flange", "place"), [("out", (120, 1)), ("in", (8, 1)), ("up", (199, 100)), ("down", (199, 30))]
)
def test_in_a_frame(flange: str, place: tuple[float, float]) -> None:
    """The outside is the moving side: steel is where the flange points."""
    section = laid(PLAIN, flange=flange)
    assert any(a < place[0] < b for a, b in scanline(section, place[1]))


def test_a_frame_asks_how_a_z_lies() -> None:
    with pytest.raises(BadInput, match="flange = out or in or up or down"):
        rectangle([laid(PLAIN)] * 4, 2000, 1000, "outside")
    with pytest.raises(BadInput, match="has no heel"):
        laid(PLAIN, heel="out", flange="out")


@pytest.mark.parametrize(
    ("section", "rotation", "turned", "over"),
    [
        (PLAIN, 0, False, 63),
        (PLAIN, 0, True, 63),
        (NESTING, 0, False, 63),
        (NESTING, 0, True, 57),
        (NESTING, 180, False, 57),
        (NESTING, 180, True, 63),
    ],
)
def test_over_the_webs(section: mt.Section, rotation: float, turned: bool, over: float) -> None:
    """From the edge of the flange that points out to the outer face of the web, as a line across the web finds it."""
    lying = section.lay(rotation, turned)
    face = scanline(lying, 100)[-1][1]
    assert lying.width - face == pytest.approx(over)
    assert outward(lying, "over webs") == pytest.approx(over)


@pytest.mark.parametrize(
    ("sizes", "says"),
    [
        ((10, 65, 2, 3), "both bends of the web"),
        ((200, 2, 2, 3), "thickness"),
        ((200, 65, 2, 3, 300), "lip"),
        ((200, 65, 2, 3, 18, 95), "lip angle: found 95; must be more than 0 and at most 90 degrees"),
        ((200, 65, 2, 3, 4), "corner radii"),
        ((200, 65, 2, -1), "inner radius"),
        ((float("nan"), 65, 2, 1), "height"),
    ],
)
def test_sizes_that_cannot_be_bent(sizes: tuple[float, ...], says: str) -> None:
    with pytest.raises(BadInput, match=says):
        mt.z_section(*sizes)


TABLE = """\
format = 1
family = "Z"
title = "Z purlins of the shop"
standard = "works standard"
shape = "z"
units = "mm"
columns = ["name", "height", "flange_width", "thickness", "inner_radius", "lip"]
rows = [["Z 200x65x2", 200, 65, 2, 3, 18]]
"""


def test_a_table_is_all_that_the_catalogue_needs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "Z-WORKS.toml").write_text(TABLE)
    monkeypatch.setenv("MITERTOOL_PROFILES", str(tmp_path))
    found = mt.section("z 200 x 65 x 2")
    assert (found.name, found.area) == ("Z 200x65x2", LIPPED.area)
