"""What the blade meets on its way: contact, walls, load, area cut and time, for level, canted and hinged blades.

Laws of geometry (the area cut over the travel is the face; an arm whose hinge is very far is a column), values worked
by hand, and for slanted blades lines cut through the outline by `tests.specimens.scanline` after turning the section,
which shares no code with the travel.
"""

from __future__ import annotations

import itertools
import math

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import mitertool as mt
from mitertool.cut.blade.arms import BladeArm, Column, HingedArm
from mitertool.cut.blade.passage import Passage
from mitertool.cut.blade.plane import BladePlane
from mitertool.cut.blade.walls import thinnest_wall
from mitertool.geometry import Arc, Line, Region
from tests.laws.bands import bands, chord, extremes
from tests.specimens import LAID, SPECIMENS, scanline

LAW = settings(deadline=None, derandomize=True, max_examples=150)


def canted(cant: float, below_bed: float) -> Column:
    return Column(below_bed, cant=cant)


def hinged(u: float, z: float, below_hinge: float) -> HingedArm:
    return HingedArm(u, z, below_hinge - z)


LEVEL = canted(0.0, 5.0)
ARM = hinged(-450.0, 70.0, 76.0)
ARMS = [LEVEL, canted(6.0, 5.0), canted(-11.0, 5.0), ARM, hinged(-300.0, 150.0, 150.0)]
IN = 25.4
COS30 = math.sqrt(3) / 2


def passage(
    section: mt.Section, arm: BladeArm = LEVEL, miter: float = 0.0, bevel: float = 0.0, axis: float = 30
) -> Passage:
    return Passage(section.region, BladePlane.of(miter, bevel, axis, 0.0), arm)


# the conservation law: what is cut on the way is the face


@LAW
@given(
    st.sampled_from(list(LAID.values())),
    st.floats(-60, 60),
    st.floats(-40, 40),
    st.sampled_from(ARMS) | st.builds(canted, st.floats(-30, 30), st.floats(0, 20)),
)
def test_area_cut_is_the_face(section: mt.Section, miter: float, bevel: float, arm: BladeArm) -> None:
    """Face area = section area * sqrt(1 + p^2 + q^2) (a cut stretches an area by the secant of its slope), to 1e-9.

    The arm stands far enough back for the widest bar at the steepest angle.
    """
    face = section.area * math.hypot(1, math.tan(math.radians(miter)), _q(miter, bevel))
    if isinstance(arm, HingedArm):
        arm = attrs.evolve(arm, hinge_u=arm.hinge_u - 3000)
    way = passage(section, arm, miter, bevel)
    assert way.cut_between(way.through, way.first_touch) == pytest.approx(face, rel=1e-9)


def _q(miter: float, bevel: float) -> float:
    return math.tan(math.radians(bevel)) / math.cos(math.radians(miter))


@pytest.mark.parametrize("arm", ARMS)
def test_the_area_cut_grows_step_by_step_to_the_face(arm: BladeArm) -> None:
    """A solid round of 50 mm: its area is pi/4 50^2 = 1963.495408 mm2; every step cuts some."""
    way = passage(SPECIMENS["round bar"], arm)
    at = [way.through + way.length * i / 40 for i in range(41)]
    steps = [way.cut_between(low, high) for low, high in itertools.pairwise(at)]
    assert min(steps) > 0
    assert sum(steps) == pytest.approx(1963.4954084936207, rel=1e-9)


@pytest.mark.parametrize("arm", ARMS)
def test_the_area_cut_in_a_step_is_what_lies_between_two_edges(arm: BladeArm) -> None:
    """A flat 80 x 12, parted by an edge from its lower left to some place: the area below the edge by the shoelace."""
    section = mt.flat(80, 12)
    way = passage(section, arm)
    position = way.through + 0.4 * way.length
    line = way.line(position)
    box = [(0.0, 0.0), (80.0, 0.0), (80.0, 12.0), (0.0, 12.0)]
    below = _clipped(box, line)
    assert way.cut_between(way.through, position) == pytest.approx(_shoelace(below), rel=1e-9)


def _clipped(corners: list[tuple[float, float]], line: object) -> list[tuple[float, float]]:
    """The part of a polygon below an edge (Sutherland and Hodgman)."""
    kept = []
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        fa, fb = line.above(a), line.above(b)  # type: ignore[attr-defined]
        if fa <= 0:
            kept.append(a)
        if fa * fb < 0:
            share = fa / (fa - fb)
            kept.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
    return kept


def _shoelace(points: list[tuple[float, float]]) -> float:
    pairs = zip(points, points[1:] + points[:1], strict=True)
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs) / 2


# a hinge very far away


@pytest.mark.parametrize("name", SPECIMENS)
@pytest.mark.parametrize("miter", [0, 40])
def test_an_arm_with_a_very_far_hinge_is_a_column(name: str, miter: float) -> None:
    """At a radius of R mm a degree is R pi/180 mm of lift; what is left differs by the bar's size over R, here 1e-7."""
    far, section = 1e9, SPECIMENS[name]
    if section.width > 500:
        far = 1e10
    arm, column = passage(section, hinged(-far, 0.0, 5.0), miter), passage(section, LEVEL, miter)
    mm = far * math.pi / 180
    assert arm.first_touch * mm == pytest.approx(column.first_touch, rel=1e-5)
    assert arm.through * mm == pytest.approx(column.through, rel=1e-5)
    assert arm.length * mm == pytest.approx(column.length, rel=1e-5)
    assert arm.mean == pytest.approx(column.mean, rel=1e-4)
    assert arm.arm.height(arm.first_touch, 20.0) == pytest.approx(column.arm.height(column.first_touch, 20.0), rel=1e-4)


# contact


@pytest.mark.parametrize(
    ("section", "mean"),
    [
        (mt.round_tube(4 * IN, IN / 2), math.pi / 4 * (4**2 - 3**2) / 4 * IN),
        (mt.flat(80, 12), 80.0),
        (mt.rect_tube(40, 80, 3, 0, 0), (40 * 80 - 34 * 74) / 80),
    ],
)
def test_mean_width_of_cut_is_area_over_passage(section: mt.Section, mean: float) -> None:
    """Definition; worked by hand, the value for the round tube of 4 in by 1/2 in is 1.374 in."""
    assert passage(section).mean == pytest.approx(mean, rel=1e-9)


def test_mean_width_of_a_4_inch_tube() -> None:
    assert passage(mt.round_tube(4 * IN, IN / 2)).mean / IN == pytest.approx(1.374, abs=5e-4)


@pytest.mark.parametrize("name", LAID)
def test_a_level_blade_meets_what_the_face_shows(name: str) -> None:
    """Horizontal bands of the section are another way to the same lengths, over cos(30) along the blade."""
    section = LAID[name]
    way, face, parts, slant = passage(section, miter=30), mt.Cut(30).face(section), bands(section.region), 1 / COS30
    largest = max(extremes(band.low, band.high, band.edges)[1] for band in parts) * slant
    assert (way.largest, face.largest_contact) == pytest.approx((largest, largest), rel=1e-12)
    assert (way.first_touch, way.through) == pytest.approx((section.height + 5, 5), abs=1e-9)
    for share in (0.137, 0.5123, 0.871):
        z = section.height * share
        met = chord(parts, z) * slant
        assert (way.contact(z + 5), face.contact(z)) == pytest.approx((met, met), rel=1e-11, abs=1e-11)


@pytest.mark.parametrize("name", SPECIMENS)
@pytest.mark.parametrize("arm", [ARM, canted(6.0, 5.0)])
def test_contact_and_walls_on_a_slanted_blade(name: str, arm: BladeArm) -> None:
    """The section is turned until the edge lies level, and a scanline is cut through it there."""
    section = SPECIMENS[name]
    way = passage(section, arm if section.width < 400 or arm is not ARM else hinged(-2000.0, 70.0, 76.0))
    for share in (0.123, 0.377, 0.618, 0.9):
        position = way.through + share * way.length
        edge = way.arm.edge(position)
        slant = math.degrees(math.atan2(-edge.nu, edge.nv))
        a = math.radians(-slant)
        y0, z0, _, _ = section.region.turned(a).bounds
        spans = scanline(section.lay(-slant), edge.c - edge.nu * way.plane.u0 - z0)
        assert way.walls(position) == len(spans)
        assert way.contact(position) == pytest.approx(sum(b - a for a, b in spans), rel=1e-7)
        assert y0 <= 1e-9 or slant != 0


def test_the_load_jumps_where_a_wall_lies_along_the_blade() -> None:
    """A sharp 40 x 80 x 3 tube, level: 40 mm at the top, two walls of 3 mm from z = 77 to z = 3, 40 mm at the bottom.

    Positions are heights above the bed plus the 5 mm by which the edge at rest stands below it.
    """
    jumps = passage(mt.rect_tube(40, 80, 3, 0, 0)).jumps
    assert [(j.position, j.before, j.after) for j in jumps] == [
        pytest.approx(row, abs=1e-9) for row in ((85, 0, 40), (82, 40, 6), (8, 6, 40), (5, 40, 0))
    ]


def test_no_load_jumps_in_a_round() -> None:
    assert passage(SPECIMENS["round bar"], ARM).jumps == ()


def test_largest_smallest_and_the_chart() -> None:
    """The same tube; the chart holds both limits at every jump, from the first touch down."""
    way = passage(mt.rect_tube(40, 80, 3, 0, 0))
    assert (way.largest, way.smallest) == pytest.approx((40, 6), abs=1e-9)
    assert len(way.samples()) == 3 * (8 + 1)
    samples = way.samples(4)
    assert [s.position for s in samples] == sorted((s.position for s in samples), reverse=True)
    assert [(s.contact, s.walls) for s in samples] == [
        *[(pytest.approx(40), 1)] * 5,
        *[(pytest.approx(6), 2)] * 5,
        *[(pytest.approx(40), 1)] * 5,
    ]


def test_a_hinged_blade_across_a_strip() -> None:
    """A flat of 100 x 10, hinge 200 mm before it and 0 above its lower side, edge through the hinge (d = 0).

    The edge at alpha crosses it where tan(alpha) is 0 to 10/200. At tan(alpha) = 10/300 it runs
    from the near side to the far upper edge: 100/cos(alpha) mm. Above that it leaves through the top.
    """
    way = Passage(mt.flat(100, 10).region, BladePlane.of(0, 0, 0, 0), hinged(-200.0, 0.0, 0.0))
    assert way.first_touch == pytest.approx(math.degrees(math.atan(10 / 200)), abs=1e-10)
    assert way.through == pytest.approx(0, abs=1e-10)
    alpha = math.atan(10 / 300)
    assert way.contact(math.degrees(alpha)) == pytest.approx(100 / math.cos(alpha), rel=1e-9)
    assert way.largest == pytest.approx(100 / math.cos(alpha), rel=1e-9)
    beta = math.atan(0.04)
    assert way.contact(math.degrees(beta)) == pytest.approx((10 / 0.04 - 200) / math.cos(beta), rel=1e-9)


# thinnest wall


WALLS = [
    ("square tube", 0, 3.0),
    ("round tube", 0, 3.6),
    ("round bar", 0, 50.0),
    ("equal angle", 0, 5.0),
    ("parallel channel", 0, 5.0),
    ("I section", 0, 4.1),
    ("flat bar", 0, 80.0),
    ("sharp channel", 5.8, 5 / math.cos(math.radians(5.8))),
    ("sharp channel", 45, 5 * math.sqrt(2)),
]


@pytest.mark.parametrize(("name", "rotation", "wall"), WALLS)
def test_thinnest_wall_on_a_level_blade(name: str, rotation: float, wall: float) -> None:
    """The web or the wall on a horizontal line; turned by r its web is as long as thickness over cos r.

    In the sharp channel at 45 degrees the web (5 mm) stands at 45 degrees to the line: 5 sqrt 2.
    """
    assert thinnest_wall(passage(SPECIMENS[name].lay(rotation))) == pytest.approx(wall, rel=1e-6)


@pytest.mark.parametrize("cant", [0, 4, -4, 12])
def test_thinnest_wall_of_a_tube_on_a_canted_blade(cant: float) -> None:
    """Upright walls of 3 mm are 3/cos(cant) on the edge; corners where it enters or leaves at nothing are no wall."""
    way = passage(mt.rect_tube(40, 80, 3, 0, 0), canted(cant, 5.0))
    assert thinnest_wall(way) == pytest.approx(3 / math.cos(math.radians(cant)), rel=1e-6)


@pytest.mark.parametrize("cant", [0, 2, -2, 7, -7, 11, -11])
def test_the_waist_of_a_wall_beside_a_round_hole(cant: float) -> None:
    """From a side to a hole of 15 whose middle is 20 off it: 20 / cos c + d tan c - sqrt(225 - d^2) where the edge
    passes the middle at a distance d, least where d = -15 sin c: (20 - 15) / cos c."""
    way = passage(mt.rect_tube(40, 40, 5, 0, 15), canted(cant, 5.0))
    assert thinnest_wall(way) == pytest.approx(5 / math.cos(math.radians(cant)), rel=1e-9)


@pytest.mark.parametrize("cant", [2, -2, 7, -7, 11, -11])
@pytest.mark.parametrize("off", [20.0, 28.0])
def test_the_waist_of_one_wall_alone(cant: float, off: float) -> None:
    """A plate of 48 x 40 with a hole of 15 that is 5 off one side and 13 off the other: the least is as above, wherever
    along the edge the wall lies."""
    corners = [(0.0, 0.0), (48.0, 0.0), (48.0, 40.0), (0.0, 40.0)]
    outer = tuple(Line(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True))
    region = Region((outer, (Arc((off, 20), 15, 0, -2 * math.pi),)))
    way = Passage(region, BladePlane.of(0.0, 0.0, 24.0, 0.0), canted(cant, 5.0))
    assert thinnest_wall(way) == pytest.approx(5 / math.cos(math.radians(cant)), rel=1e-9)


@pytest.mark.parametrize("arm", ARMS)
@pytest.mark.parametrize("section", [mt.round_bar(50), mt.flat(40, 40), mt.flat(80, 12)])
def test_a_solid_has_only_its_largest(section: mt.Section, arm: BladeArm) -> None:
    way = passage(section, arm)
    assert thinnest_wall(way) == pytest.approx(way.largest, rel=1e-6)


def test_thinnest_wall_of_a_tube_on_a_hinged_blade() -> None:
    """Upright walls of 3 mm are 3/cos(alpha) on the edge, least where the arm lies lowest while it has them alone.

    The wall by the hinge is parted from the floor last: there alpha is that of the inner lower edge next to the hinge.
    """
    way = passage(mt.rect_tube(40, 80, 3, 0, 0), ARM, axis=20)
    lows = [
        math.degrees(math.atan2(3 - 70, y - 20 + 450) + math.asin(76 / math.hypot(y - 20 + 450, 67))) for y in (3, 37)
    ]
    least = 3 / math.cos(math.radians(min(lows)))
    assert thinnest_wall(way) == pytest.approx(least, rel=1e-6)


@pytest.mark.parametrize("name", sorted(set(SPECIMENS) - {"wide strip"}))
def test_a_wall_hardly_changes_where_the_blade_hardly_leans(name: str) -> None:
    """A ten-thousandth of a degree of cant or a hinge 10 km away: less than a thousandth of the level blade's wall."""
    section = SPECIMENS[name]
    level = thinnest_wall(passage(section))
    for arm in (canted(1e-4, 5.0), canted(-1e-4, 5.0), hinged(-1e7, 60.0, 65.0)):
        assert thinnest_wall(passage(section, arm)) == pytest.approx(level, rel=1e-3)


@pytest.mark.parametrize(("lay", "wall"), [(0, 8.0), (90, 6.0)])
def test_the_thinner_end_of_a_tapered_wall_counts(lay: float, wall: float) -> None:
    """A sharp channel whose flanges taper from 10 mm at the web to 6 mm at the toes (8 per cent of 50), web 8 mm.

    Toes up the flanges are walls on the blade that begin at 6 mm; as made its web of 8 mm is, and no flange is.
    """
    section = mt.channel(58, 120, 8, 8, taper=8, flange_at="mid-overhang").lay(lay)
    assert thinnest_wall(passage(section)) == pytest.approx(wall, rel=1e-9)


# time


def test_no_rate_no_time() -> None:
    assert passage(mt.flat(80, 12)).minutes(None, None) is None


@pytest.mark.parametrize("arm", ARMS)
def test_time_by_the_area_rate(arm: BladeArm) -> None:
    """A flat 80 x 12 has 960 mm2: at 480 mm2/min two minutes, however the blade comes down."""
    assert passage(mt.flat(80, 12), arm).minutes(480, None) == pytest.approx(2, rel=1e-9)


@pytest.mark.parametrize("arm", ARMS)
def test_time_by_the_descent(arm: BladeArm) -> None:
    """The height of the edge over the axis from first touch to through, over the descent."""
    way = passage(mt.flat(80, 12), arm)
    lowered = arm.height(way.first_touch, 0.0) - arm.height(way.through, 0.0)
    assert way.minutes(None, 10) == pytest.approx(lowered / 10, rel=1e-9)


def test_time_where_both_bind_in_turn() -> None:
    """A sharp 40 x 80 x 3 tube, level: 6 mm of height at 40 mm, 74 mm at 6 mm. At 400 mm2/min and 20 mm/min the webs
    could go at 66 mm/min and are held to 20 (3.7 min); the flanges go at 10 (0.6 min).
    """
    assert passage(mt.rect_tube(40, 80, 3, 0, 0)).minutes(400, 20) == pytest.approx(3.7 + 0.6, rel=1e-9)


def test_time_where_the_binding_rate_changes_inside_a_round() -> None:
    """A solid round of 50 mm at 600 mm2/min and 20 mm/min: by area where the chord is over 30 mm, that is within 20 mm
    of its middle; the area there is 2 (20*15 + 25^2 asin(0.8)), and 2 x 5 mm are held to 20 mm/min.
    """
    middle = 2 * (20 * 15 + 625 * math.asin(0.8))
    assert passage(mt.round_bar(50)).minutes(600, 20) == pytest.approx(middle / 600 + 10 / 20, rel=1e-9)
