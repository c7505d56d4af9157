"""How far apart the guides are set: once for a bar, or in the row for which they are moved; where the lift is read.

By hand, of the hinged saw of the gallery: its fixed guide stands 93 from the swing axis, which is 28 from the fixed
jaw; a guide is half 11 thick and stays 4 clear. A bar w wide asks for 93 + (w - 28 + 4) / cos m + 11 tan m at a swing
m: 93 + w - 24 square, and 104 + 1.41421 (w - 24) at 45. Those lie 0.41421 (w - 24) + 11 apart, 21.8 at 50 and 25.9 at
60: on either side of an inch.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from math import hypot, sqrt
from pathlib import Path

import pytest

from mitertool.drawing import OUTLINE, Arc, Drawing, Line, Polygon, Text
from mitertool.job import Solution, load, solve
from mitertool.packet.floor.made import floor_of
from mitertool.packet.packet import Options, packet_files
from mitertool.packet.pages.card.card import card_pages
from mitertool.packet.pages.sheet.bar_plan import bar_plan
from mitertool.packet.pages.sheet.sheet import cut_sheet
from mitertool.packet.paper.clear import strokes
from tests.packet.jobs import ROOT, head, piece, stock


def solved(folder: Path, section: str, more: str = "") -> Solution:
    """Four pieces with a square end and one of 45, on a bar, on the hinged saw."""
    saw = (ROOT / "gallery" / "saws" / "hinged.toml").read_text(encoding="utf-8")
    (folder / "saw.toml").write_text(saw, encoding="utf-8")
    ends = "left = 0\nright = 45\nquantity = 4\nturn = ['as-drawn']"
    text = head(saw="saw.toml", more=more) + piece("A", section, "500", ends) + stock(section, "6000")
    (folder / "job.toml").write_text(text, encoding="utf-8")
    return solve(load(folder / "job.toml"))


def told(solution: Solution) -> tuple[str, str]:
    """What paper and browser say."""
    paper = " | ".join(box.says for page in cut_sheet(solution) for box in page.drawing.text_boxes())
    page = packet_files(solution, Options())["cut-sheet.html"]
    return paper, page if isinstance(page, str) else page.decode()


def test_settings_that_lie_close_are_told_once_and_the_widest(tmp_path: Path) -> None:
    """Of 50 the widest is 104 + 26 * 1.41421, 140.77, told up to its tenth."""
    for says in told(solved(tmp_path, "FLAT 50x10")):
        assert re.findall(r"guides ([\d.]+) apart", says) == ["140.8"]


def test_settings_that_lie_apart_are_told_where_they_change(tmp_path: Path) -> None:
    """Of 60 it is 129 square, and 104 + 36 * 1.41421 at 45: in the rows that set the arm, and nowhere else."""
    solution = solved(tmp_path, "FLAT 60x10")
    (bar,) = floor_of(solution).bars
    wanted = [129.0 if row.reading.arm == "square" else 104 + 36 * sqrt(2) for row in bar.rows if row.sets]
    assert [row.guides for row in bar.rows if row.sets] == pytest.approx(wanted)
    assert len({round(gap) for gap in wanted}) == 2
    for says in told(solution):
        assert re.findall(r"guides ([\d.]+) apart", says) == ["129" if gap == 129 else "155" for gap in wanted]


def test_the_plan_shows_the_guides_as_they_are_told(tmp_path: Path) -> None:
    """The first cut is square and asks for less than what is told, 140.77 against the 50 between the bar's sides."""
    solution = solved(tmp_path, "FLAT 50x10")
    (bar,) = floor_of(solution).bars
    assert solution.job.saw
    parts = list(bar_plan(bar, solution.job.saw, "mm", 90.0, 23.0).primitives())
    one, other = (list(part.points) for part in parts if isinstance(part, Polygon) and part.fill == 0.6)
    apart = min(hypot(a[0] - b[0], a[1] - b[1]) for a in one for b in other)
    sides = sorted(
        line.a[1] for line in parts if isinstance(line, Line) and line.layer == OUTLINE and line.a[1] == line.b[1]
    )
    assert apart / (sides[-1] - sides[0]) == pytest.approx((104 + 26 * sqrt(2)) / 50, rel=1e-6)


@pytest.mark.parametrize(
    ("stop", "sheet", "card"),
    [
        ("stop_u = 390", "390 from pivot", "390 from the pivot along the blade to the moving side"),
        ("stop_u = -150", "150 from pivot, fixed side", "150 from the pivot along the blade to the fixed side"),
        ("", "over pivot", "over the pivot, however the arm is swung"),
    ],
)
def test_the_lift_says_where_along_the_blade_it_is_read(tmp_path: Path, stop: str, sheet: str, card: str) -> None:
    """An edge that turns about a hinge is as high nowhere else: sheet and card name the place of the saw file."""
    solution = solved(tmp_path, "FLAT 50x10")
    path = tmp_path / "saw.toml"
    path.write_text(re.sub(r"stop_u = 390.*", stop, path.read_text(encoding="utf-8")), encoding="utf-8")
    solution = solve(load(tmp_path / "job.toml"))
    hangs = " ".join(
        box.says for page in card_pages(solution.job.saw, "saw.toml", "mm") for box in page.drawing.text_boxes()
    )
    for says in told(solution):
        assert re.search(r"lift: teeth [\d.]+ above bed, " + sheet, says.replace(" | ", " "))
    assert f"Lift: from the bed up to the teeth, {card}" in hangs
    assert ("418 from the fixed jaw in a square cut" in hangs) == ("390" in stop)


def test_a_level_blade_is_as_high_everywhere(solution_of: Callable[[str], Solution]) -> None:
    paper, page = told(solution_of("hatch-frame"))
    assert "from pivot" not in paper + page
    assert "over pivot" not in paper + page


def _between(one: Drawing, other: Drawing) -> float:
    """The least paper mm between the ends of the strokes of two drawings."""
    points = [[end for line in strokes(part) for end in line] for part in (one, other)]
    return min(hypot(a[0] - b[0], a[1] - b[1]) for a in points[0] for b in points[1])


@pytest.mark.parametrize("name", ["hatch-frame", "boathouse-gate", "engine-shed"])
def test_ring_and_guides_do_not_touch(name: str, solution_of: Callable[[str], Solution]) -> None:
    """The pivot has its ring only where it and the guides, and the line to their name, are told apart."""
    solution, rings = solution_of(name), 0
    assert solution.job.saw
    for bar in floor_of(solution).bars:
        parts = list(bar_plan(bar, solution.job.saw, solution.job.head.units, 94.0, 27.2).primitives())
        ring = Drawing(part for part in parts if isinstance(part, Arc))
        beside = [part for part in parts if isinstance(part, Polygon) and part.fill == 0.6]
        assert len([part for part in parts if isinstance(part, Text) and part.says == "guide"]) == 1
        if ring.entities:
            rings += 1
            assert _between(ring, Drawing(beside)) > 0.3
    assert rings >= 2


@pytest.mark.parametrize("name", ["boathouse-gate", "engine-shed"])
def test_guides_as_told_clear_every_cut_of_the_bar(name: str, solution_of: Callable[[str], Solution]) -> None:
    """What stands beside a bar, told once, is no less than any of its cuts asks for, and at most an inch more."""
    solution = solution_of(name)
    paper = told(solution)[0]
    for run in solution.runs:
        begin = paper.index(f"| Bar {run.number} |")
        (says,) = re.findall(r"guides ([\d.]+) apart", paper[begin:].split(f"| Bar {run.number + 1} |")[0])
        asked = [cut.reach.guide_setting or 0.0 for cut in run.cuts]
        assert max(asked) <= float(says) <= min(max(asked) + 0.1, min(asked) + 25.4 + 0.1)
