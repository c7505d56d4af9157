"""The edge at a place of its way, and what a saw has in the way of it, as they are drawn; figures by hand."""

from __future__ import annotations

import pytest

from mitertool.cut import Cut
from mitertool.cut.blade.arms import Column
from mitertool.drawing import MARKED, MOVED, WRONG, Drawing, Layer, Line, Polygon, Text
from mitertool.packet.pages.setting.blade_view import moving_view
from mitertool.packet.pages.setting.plan_view import plan_view
from mitertool.saw import Reach, Saw
from mitertool.saw.file.machine import Bed, Guides, Obstacle
from mitertool.sections import section


def drawn(drawing: Drawing, kind: type[Line] | type[Polygon], layer: Layer) -> list[Line | Polygon]:
    return [part for part in drawing.entities if isinstance(part, kind) and part.layer == layer]


def wide(parts: list[Line | Polygon]) -> float:
    xs = [x for part in parts for x, _ in part.extremes()]
    return max(xs) - min(xs)


def on_a_column(name: str) -> Reach:
    saw = Saw("column saw", "column", 1.0, arm=Column(lift_highest=400.0), bed=Bed(swing_axis=0.0))
    return saw.reach(section(name), Cut(0))


def test_the_steel_on_the_edge_is_drawn_where_the_edge_is() -> None:
    """Half way down a tube 40 wide both walls of 3 are on the edge; it is drawn 25 past the tube on either side."""
    reach = on_a_column("RHS 80x40x3")
    picture = moving_view(reach, 40.0, 90.0, 200.0)
    walls, (edge,) = drawn(picture, Line, MARKED), drawn(picture, Line, MOVED)
    assert [wide([wall]) for wall in walls] == pytest.approx([3, 3], abs=1e-9)
    assert wide(walls) == pytest.approx(40, abs=1e-9)
    assert wide([edge]) == pytest.approx(90, abs=1e-9)
    assert {y for wall in walls for _, y in wall.extremes()} == {edge.extremes()[0][1]}


def test_nothing_but_the_edge_moves() -> None:
    reach = on_a_column("RHS 80x40x3")
    here, there = (moving_view(reach, position, 90.0, 60.0) for position in (10.0, 70.0))
    still = [[part for part in one.entities if part.layer not in (MARKED, MOVED)] for one in (here, there)]
    assert still[0] == still[1]
    assert drawn(here, Line, MOVED) != drawn(there, Line, MOVED)


def test_what_is_in_the_way_is_drawn_as_far_as_it_is() -> None:
    """At 45 the blade passes the far corner of the post 100 from the square line; it stands at 60 and is 60 deep."""
    post = Obstacle("post", "feed", "moving-jaw", 60.0, 60.0)
    free = Obstacle("rest", "discharge", "moving-jaw", 60.0, 5.0)
    saw = Saw("bench saw", bed=Bed(swing_axis=0.0), obstacles=(post, free))
    reach = saw.reach(section("RHS 80x40x3"), Cut(45))
    picture = plan_view(reach, 120.0, 80.0)
    (part,) = drawn(picture, Polygon, WRONG)
    (x0, y0), (x1, y1) = part.extremes()[0], part.extremes()[2]
    assert abs(x1 - x0) / abs(y1 - y0) == pytest.approx(40 / 60)
    told = [part for part in plan_view(reach, 120.0, 80.0, "mm").entities if isinstance(part, Text)]
    assert [part.says for part in told if part.layer == WRONG] == ["40"]


def test_a_swing_past_the_scale_is_drawn_as_wrong() -> None:
    saw = Saw("bench saw", bed=Bed(swing_axis=0.0))
    for miter, count in ((60, 0), (62, 1)):
        picture = plan_view(saw.reach(section("RHS 80x40x3"), Cut(miter)), 120.0, 80.0)
        assert len(drawn(picture, Line, WRONG)) == count


def test_a_guide_that_does_not_open_so_far_is_drawn_as_wrong() -> None:
    """At 60 the bar lies 80 along the blade; the fixed guide stands 5 out, the other opens to 70 from it."""
    saw = Saw("bench saw", bed=Bed(swing_axis=0.0), guides=Guides(fixed_u=-5.0, opening_most=70.0))
    reach = saw.reach(section("RHS 80x40x3"), Cut(60))
    picture = plan_view(reach, 120.0, 80.0)
    assert len(drawn(picture, Polygon, WRONG)) == 1
    told = [part for part in plan_view(reach, 120.0, 80.0, "mm").entities if isinstance(part, Text)]
    assert [part.says for part in told if part.layer == WRONG] == ["15"]  # 80 and 5 are 85
