"""Bounds, text boxes and moves, against values worked out by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mitertool.base.errors import BadInput
from mitertool.drawing import (
    CENTER,
    FILL,
    HIDDEN,
    OUTLINE,
    THIN,
    AngleDimension,
    Arc,
    Dimension,
    Drawing,
    EllipseArc,
    Layer,
    Line,
    Page,
    Polygon,
    Text,
)

EM = 1 / 0.718
"""Font size of lettering 1 mm high: CapHeight 718 in Helvetica.afm."""

HALF_ROOT = math.sqrt(0.5)

BY_HAND = [
    (Line((3, -1), (-2, 4), OUTLINE), (-2, -1, 3, 4)),
    (Arc((10, 20), 5, 0, 360, OUTLINE), (5, 15, 15, 25)),
    (Arc((0, 0), 10, 0, 90, OUTLINE), (0, 0, 10, 10)),
    (Arc((0, 0), 10, 45, 90, OUTLINE), (-10 * HALF_ROOT, 10 * HALF_ROOT, 10 * HALF_ROOT, 10)),
    (Arc((0, 0), 10, 45, -90, OUTLINE), (10 * HALF_ROOT, -10 * HALF_ROOT, 10, 10 * HALF_ROOT)),
    (Arc((0, 0), 10, 350, 20, OUTLINE), (10 * math.cos(math.radians(10)), -1.7364817766693, 10, 1.7364817766693)),
    # An ellipse with half axes a, b turned by t reaches sqrt(a2 cos2 t + b2 sin2 t) in x, here a2 = 50, b2 = 12.5.
    (
        EllipseArc((0, 0), (5, 5), 0.5, 0, 360, OUTLINE),
        (-math.sqrt(31.25), -math.sqrt(31.25), 5.5901699437495, 5.5901699437495),
    ),
    (EllipseArc((1, 2), (6, 0), 0.5, 0, 90, OUTLINE), (1, 2, 7, 5)),
    (EllipseArc((1, 2), (6, 0), 0.5, 0, -90, OUTLINE), (1, -1, 7, 2)),
    (EllipseArc((0, 0), (0, 4), 0.25, 0, 180, OUTLINE), (-1, -4, 0, 4)),
    (Polygon([(0, 0), (4, 1), (2, 7)], FILL, 0.0), (0, 0, 4, 7)),
    # AFM widths: H 722, Descender -207.
    (Text((0, 0), "HH", 7.18), (0, -2.07, 14.44, 7.18)),
    (Text((0, 0), "HH", 7.18, "center", "middle"), (-7.22, -3.59 - 2.07, 7.22, 3.59)),
    (Text((0, 0), "HH", 7.18, "right", "top"), (-14.44, -7.18 - 2.07, 0, 0)),
    (Text((0, 0), "HH", 7.18, turn=90), (-7.18, 0, 2.07, 14.44)),
    # Dimension line 10 mm above, extension lines 2 mm further; the text is 1 mm above the line: 10 + 1 + 2.5.
    (Dimension((0, 0), (50, 0), 10, "50"), (0, 1, 50, 13.5)),
    (Dimension((0, 0), (50, 0), -10, "50"), (0, -12, 50, -1)),
    (Dimension((0, 0), (0, 50), 10, "50"), (-13.5, 0, -1, 50)),
]


@pytest.mark.parametrize(("entity", "expected"), BY_HAND)
def test_bounds_are_those_worked_out_by_hand(entity, expected):
    assert Drawing((entity,)).bounds() == pytest.approx(expected, abs=1e-9)


def test_an_empty_drawing_is_a_point_at_the_origin():
    assert Drawing().bounds() == (0, 0, 0, 0)
    assert Drawing((Text((5, 5), "  ", 3),)).bounds() == (0, 0, 0, 0)


angles = st.floats(-720, 720)
sizes = st.floats(0.1, 100)


@settings(deadline=None)
@given(angles, st.floats(-360, 360), sizes, angles, st.floats(0.05, 1))
def test_bounds_of_an_arc_hold_it_and_touch_it(start, sweep, size, turn, ratio):
    major = (size * math.cos(math.radians(turn)), size * math.sin(math.radians(turn)))
    x0, y0, x1, y1 = Drawing((EllipseArc((3, 4), major, ratio, start, sweep, OUTLINE),)).bounds()
    places = [math.radians(start + sweep * k / 2000) for k in range(2001)]
    xs = [3 + major[0] * math.cos(t) - ratio * major[1] * math.sin(t) for t in places]
    ys = [4 + major[1] * math.cos(t) + ratio * major[0] * math.sin(t) for t in places]
    # Between two samples 0.18 degrees apart a curve leaves its chord by at most size * (0.18 degrees)^2 / 8.
    slack = size * math.radians(0.18) ** 2 / 8 + 1e-9
    for bound, sampled, side in ((x0, min(xs), -1), (y0, min(ys), -1), (x1, max(xs), 1), (y1, max(ys), 1)):
        assert -1e-9 <= side * (bound - sampled) <= slack


def test_a_move_shifts_every_bound(every_kind):
    x0, y0, x1, y1 = every_kind.bounds()
    assert every_kind.moved(7, -3).bounds() == pytest.approx((x0 + 7, y0 - 3, x1 + 7, y1 - 3))


def test_a_quarter_turn_swaps_width_and_height():
    plain = Drawing((Line((0, 0), (10, 0), THIN), EllipseArc((5, 3), (2, 0), 0.5, 0, 360, CENTER)))
    assert plain.bounds() == (0, 0, 10, 4)
    assert plain.turned(90).bounds() == (-4, 0, 0, 10)


def test_scaling_enlarges_geometry_and_leaves_what_is_on_paper():
    drawing = Drawing((Text((10, 0), "H", 5), Dimension((0, 0), (10, 0), 8, "10", 3.5), Arc((1, 0), 2, 0, 90, THIN)))
    text, dimension, arc = drawing.scaled(3).entities
    assert text == Text((30, 0), "H", 5)
    assert dimension == Dimension((0, 0), (30, 0), 8, "10", 3.5)
    assert arc == Arc((3, 0), 6, 0, 90, THIN)
    angle = AngleDimension((1, 2), 10, 50, 15, "50°")
    assert Drawing((angle,)).scaled(3).entities == (AngleDimension((3, 6), 10, 50, 15, "50°"),)


def test_turning_takes_text_and_measured_directions_along():
    drawing = Drawing((Text((10, 0), "H", 5, turn=15), Dimension((0, 0), (10, 5), 8, "10", along=0)))
    text, dimension = drawing.turned(90).entities
    assert text == Text((0, 10), "H", 5, turn=105)
    assert dimension == Dimension((0, 0), (-5, 10), 8, "10", along=90)


def test_two_drawings_add_up_in_order():
    one, two = Line((0, 0), (1, 0), THIN), Line((0, 0), (0, 1), HIDDEN)
    assert (Drawing((one,)) + Drawing((two,))).entities == (one, two)


def test_text_boxes_hold_every_text_also_of_dimensions():
    drawing = Drawing((Text((0, 0), "HH", 7.18, turn=90), Dimension((0, 0), (50, 0), 10, "50")))
    first, second = drawing.text_boxes()
    assert (first.says, first.height) == ("HH", 7.18)
    # Descender 207, CapHeight 718, H 722 in Helvetica.afm; turned a quarter turn to the left.
    for corner, expected in zip(first.corners, ((2.07, 0), (2.07, 14.44), (-7.18, 14.44), (-7.18, 0)), strict=True):
        assert corner == pytest.approx(expected)
    half = 0.556 * 2.5 * EM
    low, high = 11 - 0.207 * 2.5 * EM, 13.5
    assert (second.says, second.height) == ("50", 2.5)
    assert second.corners[0] == pytest.approx((25 - half, low))
    assert second.corners[2] == pytest.approx((25 + half, high))


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize(
    "make",
    [
        lambda n: Line((0, 0), (n, 0), THIN),
        lambda n: Arc((0, n), 1, 0, 90, THIN),
        lambda n: Arc((0, 0), n, 0, 90, THIN),
        lambda n: EllipseArc((0, 0), (1, n), 0.5, 0, 90, THIN),
        lambda n: Polygon([(0, 0), (1, 0), (n, 1)], THIN),
        lambda n: Text((n, 0), "text", 3),
        lambda n: Text((0, 0), "text", n),
        lambda n: Dimension((0, 0), (1, 0), n, "1"),
        lambda n: Dimension((0, 0), (1, 0), 1, "1", along=n),
        lambda n: AngleDimension((0, 0), n, 90, 1, "90"),
    ],
)
def test_a_number_that_is_not_finite_is_refused(make, bad):
    entity = make(bad)
    with pytest.raises(BadInput, match="finite numbers"):
        Drawing((entity,))


@pytest.mark.parametrize(
    ("entity", "says"),
    [
        (Arc((0, 0), 0, 0, 90, THIN), "radius: found 0; it is more than 0"),
        (Arc((0, 0), 1, 0, 400, THIN), "sweep: found 400"),
        (EllipseArc((0, 0), (1, 0), 1.5, 0, 90, THIN), "ratio: found 1.5"),
        (EllipseArc((0, 0), (0, 0), 0.5, 0, 90, THIN), "major axis"),
        (Polygon([(0, 0), (1, 1)], THIN), "corners: found 2"),
        (Text((0, 0), "x", 0), "height: found 0"),
        (Dimension((1, 1), (1, 1), 5, "0"), "need a direction"),
        (AngleDimension((0, 0), 0, 90, -1, "90"), "radius: found -1"),
    ],
)
def test_a_size_that_cannot_be_drawn_is_refused(entity, says):
    with pytest.raises(BadInput, match=says):
        Drawing((entity,))


@pytest.mark.parametrize("factor", [0, -1, math.nan, math.inf])
def test_a_scale_is_a_number_above_zero(factor):
    with pytest.raises(BadInput, match="above 0"):
        Drawing().scaled(factor)


@pytest.mark.parametrize("size", [0, -5, math.nan, math.inf])
def test_a_page_has_a_size(size):
    with pytest.raises(BadInput, match="page, width"):
        Page(size, 100, Drawing())


def test_moving_beyond_all_numbers_is_refused():
    with pytest.raises(BadInput, match="finite numbers"):
        Drawing((Line((1e308, 0), (0, 0), THIN),)).scaled(1e10)


def test_dashes_are_those_of_iso_128_2():
    # ISO 128-2: dash 12, long dash 24, short dash 6, gap 3 line widths (from memory of its table of line elements).
    assert Layer("any", 0.5).dashes == ()
    assert Layer("any", 0.25, "dashed").dashes == pytest.approx((3, 0.75))
    assert Layer("any", 0.5, "center").dashes == pytest.approx((12, 1.5, 3, 1.5))


def test_what_is_put_together_is_as_large_as_its_entities_drawn_at_once(every_kind):
    """Moved, put together, moved again, with nothing beside: its box is that of all its entities, to their rounding."""
    twice = every_kind.moved(13.7, -250.1) + Drawing() + Drawing([Text((400, 1), " ", 3)]) + every_kind
    assert every_kind.bounds() == Drawing(every_kind.entities).bounds()
    for whole in (twice, twice.moved(0.3, 0.1), twice.turned(30).moved(1, 2) + every_kind, twice.scaled(0.1)):
        assert whole.bounds() == pytest.approx(Drawing(whole.entities).bounds(), abs=1e-9)
    assert (Drawing() + Drawing().moved(5, 5)).bounds() == (0, 0, 0, 0)
