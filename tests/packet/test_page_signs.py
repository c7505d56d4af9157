"""What the page draws at a reading: a sign for the arm, and one for a tilted blade, as the paper has them."""

from __future__ import annotations

import math
import re

from mitertool.drawing import OUTLINE, Arc, Line, Point, TextBox
from mitertool.job import load, solve
from mitertool.packet.floor.made import floor_of
from mitertool.packet.packet import Options, packet_files
from mitertool.packet.pages.sheet.bar_plan import bar_plan
from mitertool.packet.pages.sheet.sheet import cut_sheet
from tests.packet.jobs import ROOT


def test_a_tilted_blade_is_drawn_at_its_words() -> None:
    """The hatch has bevels on a saw whose blade tilts: every tilt that the page tells stands behind its sign."""
    page = packet_files(solve(load(ROOT / "gallery" / "hatch-frame" / "job.toml")), Options())["cut-sheet.html"]
    told = re.findall(r'<div class="set">((?:(?!</div>).)*?)tilt [0-9.]+°</div>', page.decode("utf-8"), re.DOTALL)
    assert told
    assert all('class="sign"' in before and "<svg" in before for before in told)


def test_the_words_of_the_side_view_stand_once_below_it() -> None:
    page = packet_files(solve(load(ROOT / "gallery" / "hatch-frame" / "job.toml")), Options())["cut-sheet.html"]
    below = page.decode("utf-8").count("<figcaption>from the fixed jaw, top up</figcaption>")
    assert below > 0
    assert len(re.findall(r"<text[^>]*>from the fixed jaw, top up", page.decode("utf-8"))) == 0


def test_a_guide_stands_off_the_name_of_a_side() -> None:
    """Within a millimetre beside each other "moving side" and "guide 120.3" read as one."""
    for page in cut_sheet(solve(load(ROOT / "gallery" / "boathouse-gate" / "job.toml"))):
        boxes = list(page.drawing.text_boxes())
        for guide in (box for box in boxes if re.fullmatch(r"guide [\d.]+", box.says)):
            assert not any(_runs_on(guide, box) for box in boxes if box.says == "moving side")


def _runs_on(one: TextBox, other: TextBox) -> bool:
    (left, low), (right, high) = one.corners[0], one.corners[2]
    (x0, y0), (x1, y1) = other.corners[0], other.corners[2]
    return low < y1 and y0 < high and max(x0 - right, left - x1) < 1.0


def test_the_pivot_lies_on_the_blade_of_the_plan() -> None:
    """The column saw of the ramp rail turns beyond its bars: the thick blade reaches the circle of the pivot."""
    solution = solve(load(ROOT / "gallery" / "ramp-rail" / "job.toml"))
    plan = bar_plan(floor_of(solution).bars[0], solution.job.saw, "mm", 88.0, 23.5)
    (pivot,) = (part for part in plan.entities if isinstance(part, Arc))
    blades = [part for part in plan.entities if isinstance(part, Line) and part.layer == OUTLINE]
    assert any(_holds(blade, pivot.center) for blade in blades)


def _holds(line: Line, place: Point) -> bool:
    ends = math.dist(line.a, place) + math.dist(line.b, place)
    return math.isclose(ends, math.dist(line.a, line.b), abs_tol=1e-6)
