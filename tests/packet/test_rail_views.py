"""A rail from above and from the side, and its nodes as a table; figures by hand from the flights of a stair."""

from __future__ import annotations

from itertools import pairwise
from math import dist, hypot
from pathlib import Path

import pytest

from mitertool.base.language import spoken
from mitertool.drawing import A4, LETTER, OUTLINE, Drawing, Line, Text
from mitertool.job import Solution, load, solve
from mitertool.packet.pages.browser.frame_part import frames_part
from mitertool.packet.pages.fitter.frame_blocks import frame_blocks
from mitertool.packet.pages.fitter.held import held_tables
from mitertool.packet.pages.fitter.rail_views import rail_views
from mitertool.packet.paper.layout import Paper, pages
from tests.packet.jobs import head
from tests.packet.text_boxes import cut_short, findings

RAIL = '[[frame]]\nmark = "R"\nshape = "rail"\nsection = "CHS 42.4x3.2"\n{more}\n'
STAIR = RAIL.format(more="flights = [[1500, 1100], [700, 0], [900, 650, 90], [400, 100, -45]]")
LOOP = RAIL.format(more="closed = true\nnodes = [[0, 0, 0], [900, 0, 0], [900, 600, 300], [0, 600, 300]]")
POST = RAIL.format(more="nodes = [[0, 0, 0], [0, 0, 950], [1200, 0, 950]]")


def solved(folder: Path, *blocks: str) -> Solution:
    (folder / "job.toml").write_text("\n".join([head(), *blocks]), encoding="utf-8")
    return solve(load(folder / "job.toml"))


def rows(folder: Path, block: str) -> tuple[tuple[str, ...], ...]:
    (order,) = solved(folder, block).frames
    return held_tables(order.assembly, "mm")[0].rows


def views(folder: Path, block: str) -> list[tuple[list[Line], list[Text]]]:
    """The lines and the numbers of the plan and of the view from the side."""
    (order,) = solved(folder, block).frames
    drawn = [drawing.entities for _, drawing in rail_views(order.assembly)]
    return [
        (
            [one for one in parts if isinstance(one, Line) and one.layer is OUTLINE],
            [one for one in parts if isinstance(one, Text)],
        )
        for parts in drawn
    ]


def test_where_the_nodes_are_and_how_far_it_is_to_the_next(tmp_path: Path) -> None:
    """After 2200 the third flight goes off square to the left, the last at 45: 400 / sqrt 2 = 282.8 each way."""
    assert rows(tmp_path, STAIR) == (
        ("1", "0", "0", "0", "1500", "1100", ""),
        ("2", "1500", "0", "1100", "700", "0", ""),
        ("3", "2200", "0", "1100", "900", "650", "90° left"),
        ("4", "2200", "900", "1750", "400", "100", "45° right"),
        ("5", "2482.8", "1182.8", "1850", "", "", ""),
    )


def test_a_closed_rail_goes_on_to_its_first_node(tmp_path: Path) -> None:
    """From (0, 600, 300) it is 600 level and 300 down."""
    assert rows(tmp_path, LOOP)[-1] == ("4", "0", "600", "300", "600", "-300", "90° left")
    assert rows(tmp_path, LOOP)[0][-1] == "90° left"


def test_a_post_has_a_rise_and_no_going(tmp_path: Path) -> None:
    assert rows(tmp_path, POST)[:2] == (("1", "0", "0", "0", "0", "950", ""), ("2", "0", "0", "950", "1200", "0", ""))
    plan, side = views(tmp_path, POST)
    assert (len(plan[0]), len(side[0])) == (1, 2)
    assert [sorted(one.says for one in texts) for _, texts in (plan, side)] == [["1", "2", "3"]] * 2


def test_both_views_are_to_one_scale_and_true(tmp_path: Path) -> None:
    """Along a member the plan shows its going and the view from the side its going and rise, both at once."""
    goings, rises = (1500, 700, 900, 400), (1100, 0, 650, 100)
    (plan, _), (side, _) = views(tmp_path, STAIR)
    k = dist(plan[0].a, plan[0].b) / 1500
    assert [dist(line.a, line.b) / k for line in plan] == pytest.approx(goings)
    lengths = [hypot(*both) for both in zip(goings, rises, strict=True)]
    assert [dist(line.a, line.b) / k for line in side] == pytest.approx(lengths)
    assert [(line.b[1] - line.a[1]) / k for line in side] == pytest.approx(rises)
    assert all(before.b == after.a for lines in (plan, side) for before, after in pairwise(lines))


@pytest.mark.parametrize(("block", "plan", "side"), [(STAIR, "12345", "12345"), (LOOP, "1234", "11234")])
def test_nodes_are_numbered_in_both_views(block: str, plan: str, side: str, tmp_path: Path) -> None:
    """Each number beside its node; laid out along the run a closed rail comes back to its first."""
    found = views(tmp_path, block)
    assert ["".join(sorted(one.says for one in texts)) for _, texts in found] == [plan, side]
    for lines, texts in found:
        ends = [point for line in lines for point in (line.a, line.b)]
        assert all(min(dist(text.at, end) for end in ends) < 9 for text in texts)


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("paper", [A4, LETTER])
def test_the_lettering_of_rails(paper: tuple[float, float], language: str, tmp_path: Path) -> None:
    solution, on = solved(tmp_path, STAIR, LOOP.replace('"R"', '"L"'), POST.replace('"R"', '"P"')), Paper(*paper)
    with spoken(language):
        found = pages(list(frame_blocks(solution, on.inner)), on, lambda *_: Drawing())
    assert [one for page in found for one in (*findings(page), *cut_short(page.drawing.text_boxes()))] == []


def test_the_page_shows_both_views_and_the_table(tmp_path: Path) -> None:
    shown = "".join(map(str, frames_part(solved(tmp_path, STAIR))))
    assert "<figcaption>Seen from above</figcaption>" in shown
    assert "<figcaption>From the side, laid out along the run</figcaption>" in shown
    assert "45° right" in shown
