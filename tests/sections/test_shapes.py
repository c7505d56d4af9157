"""The shapes: areas and perimeters of plates and quarter circles added up by hand, and what is refused."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

import mitertool as mt

PI = math.pi
INF, NAN = math.inf, math.nan

AREAS: list[tuple[mt.Section, float, float]] = [
    (mt.flat(80, 12), 960, 184),
    (mt.round_bar(50), PI * 625, PI * 50),
    (mt.round_tube(60, 5), PI * (900 - 625), PI * (60 + 50)),
    (mt.rect_tube(40, 30, 2, 0, 0), 1200 - 36 * 26, 140 + 124),
    (mt.rect_tube(50, 50, 3), 2500 - 44**2 - (4 - PI) * (36 - 9), 200 - (8 - 2 * PI) * 6 + 176 - (8 - 2 * PI) * 3),
    (mt.rect_tube(80, 40, 3, 20, 17), 40 * 40 + PI * 400 - 40 * 34 - PI * 289, 2 * 40 + 40 * PI + 2 * 40 + 34 * PI),
    (mt.angle(60, 40, 6), 60 * 6 + 34 * 6, 200),
    (
        mt.angle(50, 50, 5, 7, 3.5),
        95 * 5 + (1 - PI / 4) * (49 - 2 * 3.5**2),
        200 - (2 - PI / 2) * (7 + 2 * 3.5),
    ),
    (mt.channel(40, 80, 5, 6), 80 * 5 + 2 * 35 * 6, 2 * 80 + 2 * 40 + 2 * 35),
    (mt.channel(50, 100, 5, 8.5, 9), 100 * 5 + 2 * 45 * 8.5 + (2 - PI / 2) * 81, 390 - (4 - PI) * 9),
    (mt.i_section(55, 100, 4.1, 5.7), 2 * 55 * 5.7 + 88.6 * 4.1, 2 * 100 + 4 * 55 - 2 * 4.1),
    (
        mt.i_section(55, 100, 4.1, 5.7, 7),
        2 * 55 * 5.7 + 88.6 * 4.1 + (4 - PI) * 49,
        2 * 100 + 4 * 55 - 2 * 4.1 - (8 - 2 * PI) * 7,
    ),
    (mt.tee(50, 70, 6, 9), 50 * 9 + 61 * 6, 240),
    (mt.tee(60, 60, 7, 7, 8), 60 * 7 + 53 * 7 + (2 - PI / 2) * 64, 240 - (4 - PI) * 8),
]


@pytest.mark.parametrize(("section", "area", "perimeter"), AREAS, ids=[row[0].name for row in AREAS])
def test_area_and_perimeter(section: mt.Section, area: float, perimeter: float) -> None:
    assert section.area == pytest.approx(area, rel=1e-12)
    assert section.perimeter == pytest.approx(perimeter, rel=1e-12)


def test_area_of_tapered_flanges() -> None:
    """The mean thickness is that at the middle of the overhang, which is slope x shift from where it is measured: for a
    beam at a quarter of the width from the edge, 20, where the overhang's middle is at 18."""
    overhang = mt.channel(60, 150, 8, 10, taper=10, flange_at="mid-overhang")
    assert overhang.area == pytest.approx(150 * 8 + 2 * 52 * 10)
    half_width = mt.channel(60, 150, 8, 10, taper=10, flange_at="half-width")
    assert half_width.area == pytest.approx(150 * 8 + 2 * 52 * (10 - 0.1 * 4))
    beam = mt.i_section(80, 160, 8, 10, taper=10)
    assert beam.area == pytest.approx(160 * 8 + 4 * 36 * (10 + 0.1 * (18 - 20)))


@pytest.mark.parametrize(
    ("section", "width", "height", "centroid"),
    [
        (mt.flat(80, 12), 80, 12, (40, 6)),
        (mt.round_tube(60.3, 3.6), 60.3, 60.3, (30.15, 30.15)),
        (mt.rect_tube(40, 80, 3), 40, 80, (20, 40)),
        (mt.angle(60, 40, 6), 60, 40, ((360 * 30 + 204 * 3) / 564, (360 * 3 + 204 * 23) / 564)),
        (mt.channel(40, 80, 5, 6), 40, 80, ((400 * 2.5 + 420 * 22.5) / 820, 40)),
        (mt.i_section(55, 100, 4.1, 5.7, 7), 55, 100, (27.5, 50)),
        (mt.tee(50, 70, 6, 9), 50, 70, (25, (450 * 4.5 + 366 * 39.5) / 816)),
    ],
    ids=lambda value: value.name if isinstance(value, mt.Section) else "",
)
def test_size_and_centroid(section: mt.Section, width: float, height: float, centroid: tuple[float, float]) -> None:
    assert (section.width, section.height) == pytest.approx((width, height), rel=1e-12)
    assert section.centroid == pytest.approx(centroid, rel=1e-12)


def test_mass_per_metre() -> None:
    """7.85 kg a metre for every 1000 mm2; aluminium at 2700."""
    bar = mt.flat(100, 10)
    assert bar.mass_per_metre == pytest.approx(7.85)
    assert bar.of_density(2700).mass_per_metre == pytest.approx(2.7)


def test_radii_that_are_not_given() -> None:
    """2 x wall outside, 1 x wall inside; 0 is a sharp corner, not "not given"."""
    assert mt.rect_tube(60, 40, 4).area == mt.rect_tube(60, 40, 4, 8, 4).area
    assert mt.rect_tube(60, 40, 4, 0, 0).area == pytest.approx(2400 - 52 * 32)


REFUSED: list[tuple[str, Callable[[], object], str]] = [
    ("wall half the tube", lambda: mt.rect_tube(50, 40, 20), r"wall: found '20 mm'; must be less than half the"),
    ("wall past half", lambda: mt.rect_tube(50, 40, 21), r"half the smaller side, 20 mm"),
    ("wall half the pipe", lambda: mt.round_tube(60, 30), r"wall: found '30 mm'; .* half the diameter, 30 mm"),
    ("no wall", lambda: mt.rect_tube(50, 40, 0), r"wall: found 0; must be more than 0"),
    ("negative wall", lambda: mt.round_tube(60, -2), r"wall: found -2; must be more than 0"),
    ("no width", lambda: mt.flat(0, 10), r"width: found 0; must be more than 0"),
    ("negative height", lambda: mt.flat(10, -10), r"height: found -10"),
    ("no number", lambda: mt.flat(NAN, 10), r"width: found nan"),
    ("no end", lambda: mt.round_bar(INF), r"diameter: found inf; .* at most 5000 mm"),
    ("slipped point", lambda: mt.flat(50000, 10), r"width: found 50000; .* at most 5000 mm"),
    ("outer radius past half", lambda: mt.rect_tube(50, 40, 3, 20.1), r"outer radius: found '20.1 mm'; .* 0 to 20 mm"),
    ("inner radius past half", lambda: mt.rect_tube(50, 40, 3, 6, 17.5), r"inner radius: .* 0 to 17 mm"),
    ("negative radius", lambda: mt.rect_tube(50, 40, 3, -1), r"outer radius: found '-1 mm'"),
    ("radius no number", lambda: mt.rect_tube(50, 40, 3, NAN), r"outer radius: found 'nan mm'"),
    (
        "corner cut through",
        lambda: mt.rect_tube(100, 100, 5, 50, 0),
        r"outer radius less inner radius: found '50 mm'; must be less than what leaves a wall at the corners, 17.07",
    ),
    ("leg as thick as long", lambda: mt.angle(60, 40, 40), r"thickness: found '40 mm'; .* the shorter leg, 40 mm"),
    ("toe past thickness", lambda: mt.angle(60, 40, 6, 5, 7), r"toe radius: found '7 mm'; must be from 0 to 6 mm"),
    ("root past leg", lambda: mt.angle(60, 40, 6, 32, 3), r"root radius: found '32 mm'; must be from 0 to 31 mm"),
    ("negative root", lambda: mt.angle(60, 40, 6, -5), r"root radius: found '-5 mm'"),
    ("web as wide as channel", lambda: mt.channel(40, 80, 40, 6), r"web: found '40 mm'; .* the width, 40 mm"),
    ("flanges meet", lambda: mt.channel(40, 80, 5, 40), r"flange at the web: found '40 mm'; .* half the height, 40 mm"),
    ("flanges meet by taper", lambda: mt.channel(40, 30, 5, 12, taper=20), r"flange at the web: found '15 mm'"),
    (
        "flange runs out",
        lambda: mt.channel(100, 200, 5, 3, taper=8),
        r"taper: found '-1 mm left at the toe'; the flange must not run out before its toe",
    ),
    ("negative taper", lambda: mt.channel(40, 80, 5, 6, taper=-8), r"taper: found -8; must be 0 or more"),
    ("taper no number", lambda: mt.channel(40, 80, 5, 6, taper=NAN), r"taper: found nan"),
    (
        "flange measured elsewhere",
        lambda: mt.channel(40, 80, 5, 6, taper=8, flange_at="the toe"),
        r"flange_at: found 'the toe'; allowed: half-width or mid-overhang",
    ),
    ("root radius past web", lambda: mt.channel(40, 80, 5, 6, 35), r"corner radii: .* the side between has only"),
    ("toe radius past flange", lambda: mt.channel(40, 80, 5, 6, 0, 7), r"corner radii: found '0 and 7'"),
    ("web as wide as beam", lambda: mt.i_section(55, 100, 55, 6), r"web: found '55 mm'; .* the width, 55 mm"),
    ("beam flanges meet", lambda: mt.i_section(55, 100, 5, 50), r"flange at the web: found '50 mm'"),
    ("beam root too large", lambda: mt.i_section(55, 100, 5, 6, 30), r"corner radii: .* has only 25 mm"),
    ("beam flange runs out", lambda: mt.i_section(100, 100, 5, 2, taper=14), r"taper: .* left at the toe"),
    ("tee flange", lambda: mt.tee(60, 60, 7, 60), r"flange: found '60 mm'; .* the height, 60 mm"),
    ("tee web", lambda: mt.tee(60, 60, 60, 7), r"web: found '60 mm'"),
    ("tee root", lambda: mt.tee(60, 60, 7, 7, -1), r"root radius: found -1"),
    ("roll by no number", lambda: mt.flat(80, 12).lay(NAN), r"rotation: found nan; must be a number of degrees"),
    ("roll without end", lambda: mt.flat(80, 12).lay(INF), r"rotation: found inf"),
]


@pytest.mark.parametrize(("make", "says"), [row[1:] for row in REFUSED], ids=[row[0] for row in REFUSED])
def test_refused(make: Callable[[], object], says: str) -> None:
    with pytest.raises(mt.BadInput, match=says):
        make()


def test_the_facts_stay_on_the_refusal() -> None:
    with pytest.raises(mt.MitertoolError) as caught:
        mt.rect_tube(50, 40, 20)
    assert isinstance(caught.value, mt.BadInput)
    assert (caught.value.what, caught.value.found, caught.value.exit_code) == ("wall", "20 mm", 2)


@pytest.mark.parametrize(
    "make",
    [
        lambda: mt.rect_tube(50, 40, 19.99, 20, 0),
        lambda: mt.rect_tube(100, 100, 15, 50, 0),
        lambda: mt.round_tube(60, 29.99),
        lambda: mt.angle(60, 40, 6, 31, 3),
        lambda: mt.angle(40, 40, 4, 5, 4),
        lambda: mt.channel(40, 80, 5, 39.9),
        lambda: mt.flat(5000, 0.001),
    ],
)
def test_just_inside_the_limits(make: Callable[[], mt.Section]) -> None:
    section = make()
    assert 0 < section.area <= section.width * section.height


def test_values_are_frozen() -> None:
    section = mt.flat(80, 12)
    with pytest.raises(AttributeError):
        section.name = "another"  # type: ignore[misc]
    assert section == mt.flat(80, 12)
    assert hash(section) == hash(mt.flat(80, 12))
    assert section != mt.flat(80, 13)
