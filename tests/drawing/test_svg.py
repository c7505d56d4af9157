"""The SVG writer, read back as XML."""

from __future__ import annotations

import math
from xml.etree import ElementTree

import pytest

from mitertool.drawing import FILL, HIDDEN, OUTLINE, Arc, Drawing, EllipseArc, Line, Polygon, Text, svg

NAME = "{http://www.w3.org/2000/svg}"


def read(*entities, margin=5):
    return ElementTree.fromstring(svg.write(Drawing(entities), margin))


def only(tree, tag):
    (element,) = tree.iter(NAME + tag)
    return element


def test_one_unit_is_one_mm_and_the_margin_is_around():
    tree = read(Line((10, 20), (40, 60), OUTLINE), margin=3)
    assert (tree.get("width"), tree.get("height")) == ("36mm", "46mm")
    # y runs down in SVG: the top of the picture is at -(60 + 3).
    assert tree.get("viewBox") == "7 -63 36 46"
    line = only(tree, "line")
    assert [line.get(key) for key in ("x1", "y1", "x2", "y2")] == ["10", "-20", "40", "-60"]


def test_a_layer_is_a_group_with_its_pen():
    tree = read(Line((0, 0), (10, 0), HIDDEN), Polygon([(0, 0), (1, 0), (1, 1)], FILL, 0.0))
    hidden, fill = tree.iter(NAME + "g")
    assert (hidden.get("class"), hidden.get("stroke-width"), hidden.get("stroke-dasharray")) == (
        "hidden-edge",
        "0.25",
        "3 0.75",
    )
    assert (fill.get("stroke"), only(tree, "polygon").get("fill")) == ("none", "#000000")


def test_a_text_states_its_length_and_is_escaped():
    text = only(read(Text((10, 20), "H<&>H", 7.18, bold=True)), "text")
    assert text.text == "H<&>H"
    # Helvetica-Bold.afm: H 722, less and greater 584, ampersand 722; font size 10.
    assert float(text.get("textLength")) == pytest.approx(7.22 * 2 + 5.84 * 2 + 7.22)
    assert (text.get("font-size"), text.get("font-weight"), text.get("x"), text.get("y")) == ("10", "bold", "10", "-20")


def test_a_text_is_set_from_the_left_end_of_its_baseline():
    text = only(read(Text((10, 20), "HH", 7.18, "right", "top", 90)), "text")
    # 14.44 mm long and 7.18 mm high; turned to the left, its end is at the point and its top to the left.
    assert (float(text.get("x")), float(text.get("y"))) == pytest.approx((17.18, -5.56))
    assert text.get("transform") == "rotate(-90 17.18 -5.56)"


def test_whole_circles_and_ellipses_are_ellipses():
    tree = read(Arc((1, 2), 5, 30, -360, OUTLINE), EllipseArc((3, 4), (0, 6), 0.5, 0, 360, OUTLINE))
    circle, ellipse = tree.iter(NAME + "ellipse")
    assert [circle.get(key) for key in ("cx", "cy", "rx", "ry", "transform")] == ["1", "-2", "5", "5", None]
    assert [ellipse.get(key) for key in ("cx", "cy", "rx", "ry")] == ["3", "-4", "6", "3"]
    assert ellipse.get("transform") == "rotate(-90 3 -4)"


@pytest.mark.parametrize(
    ("start", "sweep", "path"),
    [
        # In SVG, y down, a counter-clockwise arc has the sweep flag 0; more than half a turn is the large one.
        (0, 90, "M 10 0 A 10 10 0 0 0 0 -10"),
        (0, 270, "M 10 0 A 10 10 0 1 0 0 10"),
        (90, -90, "M 0 -10 A 10 10 0 0 1 10 0"),
        (90, -270, "M 0 -10 A 10 10 0 1 1 -10 0"),
    ],
)
def test_arcs_run_the_right_way_round(start, sweep, path):
    assert only(read(Arc((0, 0), 10, start, sweep, OUTLINE)), "path").get("d") == path


def test_an_arc_of_an_ellipse_is_turned_with_its_axis():
    path = only(read(EllipseArc((0, 0), (6, 6), 0.5, 0, 90, OUTLINE)), "path").get("d")
    numbers = [float(word) for word in path.split() if word not in "MA"]
    long = math.hypot(6, 6)
    assert numbers == pytest.approx([6, -6, long, long / 2, -45, 0, 0, -3, -3], abs=1e-4)


def test_every_text_is_there(every_kind):
    tree = ElementTree.fromstring(svg.write(every_kind))
    assert sorted(text.text for text in tree.iter(NAME + "text")) == sorted(b.says for b in every_kind.text_boxes())


def test_an_empty_drawing_is_an_empty_picture():
    tree = ElementTree.fromstring(svg.write(Drawing()))
    assert tree.get("viewBox") == "-5 -5 10 10"
    assert list(tree) == []
