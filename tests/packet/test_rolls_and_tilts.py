"""Pictures of a roll and of a tilt, as they stand before whoever looks from the fixed jaw's side or along the bar.

Expected by hand: in the vise the fixed jaw is at the left, so a bar that is rolled with its top toward the moving jaw
goes clockwise, and its wedge, which stands on its top as drawn, goes with it.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from mitertool.drawing import OUTLINE, Arc, Drawing, Line, Polygon
from mitertool.job import Solution
from mitertool.packet.floor.rows import turn_between
from mitertool.packet.floor.values import Turn
from mitertool.packet.pages.sheet.arrows import from_side, tilt_arrow
from mitertool.packet.pages.sheet.bar_strip import side_block
from mitertool.packet.pages.sheet.rolls import roll_picture
from mitertool.sections import section

SIZE, NEAR = 6.6, 1e-6
RHS = section("RHS 80x40x3")


def wedge_at(drawing: Drawing) -> float:
    """Degrees clockwise from straight up at which the wedge stands."""
    wedges = [part for part in drawing.entities if isinstance(part, Polygon) and len(part.points) == 3]
    corners = min((one.points for one in wedges), key=lambda points: math.dist(points[0], (0, 0)))
    x, y = (sum(values) / 3 for values in zip(*corners, strict=True))
    return math.degrees(math.atan2(x, y))


@pytest.mark.parametrize(("before", "after", "forward"), [(0, 30, True), (0, -35.8, False), (-35.8, -90, False)])
def test_the_wedge_stands_where_the_top_goes(before: float, after: float, forward: bool) -> None:
    turn = turn_between(before, after)
    assert turn
    assert turn.forward == forward
    drawing = roll_picture(RHS, turn, SIZE)
    assert wedge_at(drawing) == pytest.approx(after, abs=NEAR)
    around = max((part for part in drawing.entities if isinstance(part, Arc)), key=lambda arc: arc.radius)
    assert (around.sweep < 0) == forward


def test_over_and_back_by_half_a_turn() -> None:
    over, back = turn_between(0, 180), turn_between(180, 0)
    assert over
    assert back
    assert (over.half, back.half) == (True, True)
    assert abs(wedge_at(roll_picture(RHS, over, SIZE))) == pytest.approx(180, abs=NEAR)
    assert wedge_at(roll_picture(RHS, back, SIZE)) == pytest.approx(0, abs=NEAR)


def test_half_turns_before_several_cuts_show_no_top() -> None:
    """Before the first of them it goes down, before the second up again: a picture of one of both would be wrong."""
    over, part = Turn(True, 180), Turn(False, 90)
    bare = roll_picture(RHS, over, SIZE, often=True).entities
    assert len(roll_picture(RHS, over, SIZE).entities) == len(bare) + 1
    assert roll_picture(RHS, part, SIZE, often=True) == roll_picture(RHS, part, SIZE)


@pytest.mark.parametrize("name", ["RHS 80x40x3", "FLAT 150x6", "L 50x50x5", "CHS 60.3x4"])
@pytest.mark.parametrize("to", [0.0, 45.0, 180.0, -131.8])
def test_the_section_stays_within_its_arrow(name: str, to: float) -> None:
    drawing = roll_picture(section(name), Turn(False, to), SIZE)
    arrow = max((part for part in drawing.entities if isinstance(part, Arc)), key=lambda arc: arc.radius)
    lines = [part for part in drawing.entities if isinstance(part, Line)]
    assert all(math.dist(point, (0, 0)) < arrow.radius for line in lines for point in (line.a, line.b))


@pytest.mark.parametrize("way", [1.0, -1.0])
def test_a_tilt_leans_its_way_over_the_bed(way: float) -> None:
    for drawing in (tilt_arrow(way * 15, 5), from_side(way * 15, 5)):
        lines = [part for part in drawing.entities if isinstance(part, Line) and part.layer == OUTLINE]
        (bed,) = [line for line in lines if line.a[1] == line.b[1]]
        (leaning,) = [line for line in lines if line is not bed]
        low, high = sorted((leaning.a, leaning.b), key=lambda point: point[1])
        assert (high[0] - low[0]) * way > 0
        assert bed.a[1] == low[1] == 0


@pytest.mark.parametrize("name", ["hatch-frame", "keel-jig", "engine-shed", "lantern-house"])
def test_a_bar_is_drawn_from_the_side_where_a_cut_is_slanted_so(
    name: str, solution_of: Callable[[str], Solution]
) -> None:
    """Of each cut its slope q in plan.json's own words: so many mm along the bar for 1 up, to the tail; by hand."""
    for run in solution_of(name).runs:
        block = side_block(run.bar, run.saw, 186.0, 6000.0)
        slopes = [cut.cut.q for cut in run.bar.cuts]
        assert (block is not None) == any(abs(q) > NEAR for q in slopes)
        if block:
            tail = -1 if run.saw and run.saw.fixed_jaw == "right" else 1
            drawn = [part for part in block.drawing.entities if isinstance(part, Line) and part.layer == OUTLINE]
            cuts = [line for line in drawn if line.a[1] != line.b[1]]
            k = (186.0 - 5.0) / 6000.0
            for line, q in zip(cuts, slopes, strict=True):
                (x0, y0), (x1, y1) = line.a, line.b
                assert y1 > y0
                assert x1 - x0 == pytest.approx(tail * q * run.bar.section.height * k, abs=NEAR)
