"""What the page draws at a reading: a sign for the arm, and one for a tilted blade, as the paper has them."""

from __future__ import annotations

import math
import re

import pytest

from mitertool.drawing import OUTLINE, Arc, Line, Point, Text, TextBox
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
    """Within a millimetre beside each other "moving side" and "guide" read as one."""
    for page in cut_sheet(solve(load(ROOT / "gallery" / "boathouse-gate" / "job.toml"))):
        boxes = list(page.drawing.text_boxes())
        for guide in (box for box in boxes if box.says == "guide"):
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


def test_each_thing_of_a_plan_is_named_and_says_whether_it_is_set() -> None:
    """The jaw and the support of the hinged saw slide; its fixed jaw stands 33 off the pivot line in every picture.

    By the saw file the jaw stands at 38 and the support at 64: bold is what asks for more. Of the support that is the
    65.9 of bar 1 alone; at 38.8 and 35.9 it is clear as it stands.
    """
    stand, moved = {"moving jaw": 38.0, "support": 64.0, "fixed jaw": 33.0}, []
    solution = solve(load(ROOT / "gallery" / "boathouse-gate" / "job.toml"))
    for bar in floor_of(solution).bars:
        texts = [part for part in bar_plan(bar, solution.job.saw, "mm", 88.0, 23.5).entities if isinstance(part, Text)]
        rows: dict[float, list[Text]] = {}
        for text in texts:
            rows.setdefault(round(text.at[1], 3), []).append(text)
        figures = [text for text in texts if re.fullmatch(r"[\d.]+", text.says)]
        for figure in figures:
            level = [one for one in rows[round(figure.at[1], 3)] if one.says in stand]
            name = min(level, key=lambda one, at=figure.at[0]: abs(one.at[0] - at)).says
            assert figure.bold == (float(figure.says) > stand[name])
            moved += [(bar.number, figure.says)] if figure.bold and name == "support" else []
        assert len(figures) == 3
        assert sum(text.says.startswith("clear of the pivot line by at least; bold: move") for text in texts) == 1
    assert moved == [(1, "65.9")]


def test_how_a_bar_lies_stands_in_its_title() -> None:
    """Bars 2 and 3 of the gate are of one section, 60 by 40: one stands, the other lies."""
    solution = solve(load(ROOT / "gallery" / "boathouse-gate" / "job.toml"))
    titles: dict[str, str] = {}
    for page in cut_sheet(solution):
        boxes = list(page.drawing.text_boxes())
        for bar in (box for box in boxes if re.fullmatch(r"Bar \d", box.says)):
            level = [box.says for box in boxes if abs(box.corners[0][1] - bar.corners[0][1]) < 1.0]
            titles[bar.says] = next((says for says in level if says.endswith("side")), "")
    assert titles["Bar 2"] == "stands on its narrow side"
    assert titles["Bar 3"] == "lies on its wide side"


@pytest.mark.parametrize(("name", "bars"), [("boathouse-gate", 4), ("hatch-frame", 1)])
def test_the_wedge_on_a_bar_that_is_rolled_says_what_it_is(name: str, bars: int) -> None:
    """Bars 1, 2, 3 and 5 of the gate are rolled, its flat is not; of the hatch the first one is.

    The hatch's pipe, which lies in no bed by itself, has slants at both ends: its top is kept up, and nothing rolled.
    """
    said = [
        box.says
        for page in cut_sheet(solve(load(ROOT / "gallery" / name / "job.toml")))
        for box in page.drawing.text_boxes()
    ]
    assert said.count("chalk the top") == bars
    assert said.count("keep top up") == (name == "hatch-frame")


@pytest.mark.parametrize(
    ("name", "rest", "never"),
    [("boathouse-gate", "support", "support behind the cut"), ("hatch-frame", "front rest", "support")],
)
def test_what_stands_in_the_way_has_one_name_on_paper_and_page(name: str, rest: str, never: str) -> None:
    """As the saw file names it; "support behind the cut" has no room beside a figure, and is a support everywhere."""
    solution = solve(load(ROOT / "gallery" / name / "job.toml"))
    files = packet_files(solution, Options())
    plans = sum(1 for work in floor_of(solution).bars if not work.told_in)
    paper = [box.says for page in cut_sheet(solution) for box in page.drawing.text_boxes()]
    assert [paper.count(says) for says in ("fixed jaw", "moving jaw", rest)] == [plans] * 3
    assert not {"jaw", never} & set(paper)
    page = files["cut-sheet.html"].decode("utf-8")
    names = set(re.findall(r"<dt>((?:(?!</dt>).)*)</dt><dd>[0-9]", page)) & {
        "jaw",
        "fixed jaw",
        "moving jaw",
        rest,
        never,
    }
    assert names <= {"fixed jaw", "moving jaw", rest}
    assert {"moving jaw", rest} <= names
    assert set(re.findall(r"<text[^>]*>([^<]*(?:jaw|rest|support))<", page)) == {"fixed jaw", "moving jaw", rest}


def test_where_everything_is_clear_as_it_stands_no_figure_is_bold() -> None:
    """Jaws of the hatch's saw stand 3.6" back, its rest 2.1": bar 1 asks for 1 3/4", 1 1/2" and 5/8"."""
    solution = solve(load(ROOT / "gallery" / "hatch-frame" / "job.toml"))
    bar = floor_of(solution).bars[0]
    texts = [part for part in bar_plan(bar, solution.job.saw, "ft-in", 88.0, 23.5).entities if isinstance(part, Text)]
    assert sorted(text.says for text in texts if text.says.endswith('"')) == ['1 1/2"', '1 3/4"', '5/8"']
    assert not any(text.bold for text in texts)
    page = packet_files(solution, Options())["cut-sheet.html"].decode()
    assert page.split("Bar 2")[0].count("clear as it stands") == 3
