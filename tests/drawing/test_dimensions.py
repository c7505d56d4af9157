"""How dimensions are shown, against geometry worked out by hand; habits of ISO 129-1 as stated in each test."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mitertool.drawing import DIMENSION, AngleDimension, Arc, Dimension, Drawing, Line, Polygon, Text
from mitertool.drawing.explode import explode

EM = 1 / 0.718
"""Font size of lettering 1 mm high: CapHeight 718 in Helvetica.afm."""


def parts(entity, kind):
    return [part for part in explode(entity) if isinstance(part, kind)]


def the_text(entity):
    (text,) = parts(entity, Text)
    return text


def same_line(line, a, b):
    return line.a == pytest.approx(a) and line.b == pytest.approx(b)


def test_a_level_dimension_with_room_for_its_text():
    dimension = Dimension((10, 5), (60, 5), 12, "50")
    first, second, line = parts(dimension, Line)
    # Extension lines: gap 1 mm, overrun 2 mm; the dimension line 12 mm above the points.
    assert same_line(first, (10, 6), (10, 19))
    assert same_line(second, (60, 6), (60, 19))
    assert same_line(line, (10, 17), (60, 17))
    assert {part.layer for part in (first, second, line)} == {DIMENSION}
    left, right = parts(dimension, Polygon)
    # Arrowheads 3 mm long, 15 degrees, the tips on the extension lines.
    half = 3 * math.tan(math.radians(7.5))
    assert sorted(left.points) == [pytest.approx(p) for p in ((10, 17), (13, 17 - half), (13, 17 + half))]
    assert sorted(right.points) == [pytest.approx(p) for p in ((57, 17 - half), (57, 17 + half), (60, 17))]
    assert left.fill == right.fill == 0.0
    text = the_text(dimension)
    assert text.at == pytest.approx((35, 18))
    assert (text.anchor, text.sits, text.turn, text.height) == ("center", "baseline", 0, 2.5)


def test_points_at_two_heights_are_measured_in_the_asked_direction():
    dimension = Dimension((0, 0), (40, 30), 20, "40", along=0)
    first, second, line = parts(dimension, Line)
    assert same_line(line, (0, 20), (40, 20))
    assert same_line(first, (0, 1), (0, 22))
    # The line runs below the second point, so its extension line runs down.
    assert same_line(second, (40, 29), (40, 18))
    assert dimension.measured == 40
    assert Dimension((0, 0), (40, 30), 20, "30", along=90).measured == 30
    assert Dimension((0, 0), (40, 30), 20, "50").measured == 50


def test_an_aligned_dimension_runs_to_the_left_of_its_direction():
    # 3-4-5: direction (0.8, 0.6), left of it (-0.6, 0.8).
    line = parts(Dimension((0, 0), (40, 30), 10, "50"), Line)[-1]
    assert same_line(line, (-6, 8), (34, 38))
    line = parts(Dimension((40, 30), (0, 0), 10, "50"), Line)[-1]
    assert same_line(line, (46, 22), (6, -8))


def test_no_extension_line_where_the_dimension_line_passes_the_point():
    assert len(parts(Dimension((0, 0), (50, 0), 0, "50"), Line)) == 1
    assert len(parts(Dimension((0, 0), (50, 0), 1, "50"), Line)) == 1
    assert len(parts(Dimension((0, 0), (50, 0), 1.5, "50"), Line)) == 3


def test_where_the_text_has_no_room_it_goes_beyond_the_second_extension_line():
    # "12" is 2 * 0.556 font sizes wide: 3.87 mm, and 8 - 2 * 3 mm is less.
    dimension = Dimension((0, 0), (8, 0), 10, "12")
    width = 2 * 0.556 * 2.5 * EM
    line = parts(dimension, Line)[-1]
    assert same_line(line, (-6, 10), (8 + 4 + width, 10))
    left, right = parts(dimension, Polygon)
    assert min(x for x, _ in left.points) == pytest.approx(-3)
    assert max(x for x, _ in left.points) == pytest.approx(0)
    assert min(x for x, _ in right.points) == pytest.approx(8)
    assert max(x for x, _ in right.points) == pytest.approx(11)
    assert the_text(dimension).at == pytest.approx((8 + 4 + width / 2, 11))


@pytest.mark.parametrize(("length", "outside"), [(6 + 0.556 * 5 * EM - 0.01, True), (6 + 0.556 * 5 * EM + 0.01, False)])
def test_text_stays_inside_when_it_just_fits_between_the_arrowheads(length, outside):
    at = the_text(Dimension((0, 0), (length, 0), 10, "12")).at
    assert (at[0] > length) == outside


def test_the_second_extension_line_is_that_of_the_second_point():
    # From right to left: the text of a narrow dimension goes out on the left.
    assert the_text(Dimension((8, 0), (0, 0), -10, "12")).at[0] < 0
    assert the_text(Dimension((8, 0), (0, 0), 10, "12", along=0)).at[0] < 0


@pytest.mark.parametrize(
    ("b", "turn", "above"),
    [
        ((50, 0), 0, (0, 1)),
        ((-50, 0), 0, (0, 1)),
        ((0, 50), 90, (-1, 0)),
        ((0, -50), 90, (-1, 0)),
        ((40, 40), 45, (-math.sqrt(0.5), math.sqrt(0.5))),
        ((-40, -40), 45, (-math.sqrt(0.5), math.sqrt(0.5))),
        ((40, -40), -45, (math.sqrt(0.5), math.sqrt(0.5))),
        ((-40, 40), -45, (math.sqrt(0.5), math.sqrt(0.5))),
    ],
)
def test_text_reads_from_below_or_from_the_right(b, turn, above):
    # ISO 129-1: values are read from the bottom or from the right-hand side of the drawing, above their line.
    text = the_text(Dimension((0, 0), b, 0, "50"))
    assert text.turn == pytest.approx(turn)
    assert text.at == pytest.approx((b[0] / 2 + above[0], b[1] / 2 + above[1]))


def test_an_upright_text_reads_from_the_right_whichever_way_rounding_falls():
    for lean in (1e-12, -1e-12):
        for way in (50, -50):
            assert the_text(Dimension((0, 0), (lean, way), 10, "50")).turn == pytest.approx(90, abs=1e-6)


def test_large_lettering_keeps_its_descenders_off_the_line():
    # Descender 207 at 10 mm is 2.88 mm deep, more than the gap of 1 mm.
    assert the_text(Dimension((0, 0), (90, 0), 10, "g", 10)).at[1] == pytest.approx(10 + 2.07 / 0.718)


def test_an_angle_with_room_for_its_text():
    dimension = AngleDimension((10, 20), 0, 90, 30, "90°")
    (arc,) = parts(dimension, Arc)
    assert (arc.center, arc.radius, arc.start, arc.sweep) == ((10, 20), 30, 0, 90)
    low, high = parts(dimension, Polygon)
    assert low.points[0] == pytest.approx((40, 20))
    assert high.points[0] == pytest.approx((10, 50))
    # The heads lie along the arc, inside the angle.
    assert all(y > 20 for _, y in low.points[1:])
    assert all(x > 10 for x, _ in high.points[1:])
    text = the_text(dimension)
    assert text.turn == pytest.approx(-45)
    reach = 31 * math.sqrt(0.5)
    assert text.at == pytest.approx((10 + reach, 20 + reach))


def test_an_angle_below_its_apex_keeps_its_text_upright_and_outside():
    text = the_text(AngleDimension((0, 0), -45, -90, 30, "90°"))
    # Straight below: the top of the letters is 1 mm off the arc, the baseline one height further.
    assert text.turn == pytest.approx(0)
    assert text.at == pytest.approx((0, -33.5))


def test_a_narrow_angle_has_its_arrowheads_and_text_outside():
    dimension = AngleDimension((0, 0), 0, 5, 30, "5°")
    (arc,) = parts(dimension, Arc)
    assert arc.start == pytest.approx(-math.degrees(6 / 30))
    low, high = parts(dimension, Polygon)
    assert all(y < 0 for _, y in low.points[1:])
    assert all(math.atan2(y, x) > math.radians(5) for x, y in high.points[1:])
    half = (0.556 + 0.4) / 2 * 2.5 * EM
    # The side of the angle stays 4 mm off the text where this comes nearest to the apex, at its descenders.
    middle = math.radians(5) + math.atan((half + 4) / (31 - 0.207 * 2.5 * EM))
    assert the_text(dimension).at == pytest.approx((31 * math.cos(middle), 31 * math.sin(middle)))
    turned_back = the_text(AngleDimension((0, 0), 0, -5, 30, "5°"))
    assert turned_back.at[1] < -math.tan(math.radians(5)) * 30


def test_a_short_arc_keeps_its_text_inside_where_the_sides_leave_room():
    # At radius 3.5 a quarter is 5.5 mm long: too short for two heads of 3 mm. The descenders reach down to 3.78 mm
    # from the apex, where the sides are 7.56 mm apart; the text is 5.27 mm long.
    dimension = AngleDimension((0, 0), 0, 90, 3.5, "90°")
    assert the_text(dimension).at == pytest.approx((4.5 * math.sqrt(0.5), 4.5 * math.sqrt(0.5)))
    assert all(y < 0 for _, y in parts(dimension, Polygon)[0].points[1:])


def crosses(text, a, b):
    """Whether the segment from a to b meets the open box of the text (clipping by Liang and Barsky)."""
    (ox, oy), (rx, ry), _, (ux, uy) = text.corners
    wide, high = math.hypot(rx - ox, ry - oy), math.hypot(ux - ox, uy - oy)
    along, up = ((rx - ox) / wide, (ry - oy) / wide), ((ux - ox) / high, (uy - oy) / high)

    def local(p):
        x, y = p[0] - ox, p[1] - oy
        return x * along[0] + y * along[1], x * up[0] + y * up[1]

    (x0, y0), (x1, y1) = local(a), local(b)
    first, last = 0.0, 1.0
    for start, run, size in ((x0, x1 - x0, wide), (y0, y1 - y0, high)):
        low, top = 1e-6, size - 1e-6
        if abs(run) < 1e-12:
            if not low < start < top:
                return False
            continue
        enter, leave = sorted(((low - start) / run, (top - start) / run))
        first, last = max(first, enter), min(last, leave)
    return first < last


coordinates = st.floats(-100, 100)
points = st.tuples(coordinates, coordinates)
words = st.sampled_from(["7", "40", "1234.5", "12 ft 3 1/2 in", "gap (j)"])
heights = st.sampled_from([2.5, 3.5, 5.0, 10.0])


@settings(deadline=None)
@given(points, points, st.floats(-40, 40), words, heights, st.none() | st.floats(-360, 360))
def test_no_line_of_a_dimension_crosses_its_text(a, b, offset, says, height, along):
    if along is None and math.dist(a, b) < 1e-3:
        b = (a[0] + 1, a[1])
    dimension = Dimension(a, b, offset, says, height, along)
    text = the_text(dimension)
    for line in parts(dimension, Line):
        assert not crosses(text, line.a, line.b)
    for head in parts(dimension, Polygon):
        for k in range(3):
            assert not crosses(text, head.points[k], head.points[k - 1])


@settings(deadline=None)
@given(st.floats(-360, 360), st.floats(1, 359) | st.floats(-359, -1), st.floats(2, 60), words, heights)
def test_no_line_of_an_angle_nor_its_sides_cross_its_text(start, sweep, radius, says, height):
    dimension = AngleDimension((0, 0), start, sweep, radius, says, height)
    text = the_text(dimension)
    (arc,) = parts(dimension, Arc)
    turns = [math.radians(arc.start + arc.sweep * k / 400) for k in range(401)]
    run = [(radius * math.cos(t), radius * math.sin(t)) for t in turns]
    for a, b in pairwise(run):
        assert not crosses(text, a, b)
    for side in (start, start + sweep):
        far = 300 * math.cos(math.radians(side)), 300 * math.sin(math.radians(side))
        assert not crosses(text, (0, 0), far)


def test_a_drawing_shows_its_dimensions_exploded(every_kind):
    kinds = {type(part) for part in every_kind.primitives()}
    assert Dimension not in kinds
    assert AngleDimension not in kinds
    assert Drawing((Dimension((0, 0), (50, 0), 9, "50"),)).primitives() == explode(Dimension((0, 0), (50, 0), 9, "50"))
