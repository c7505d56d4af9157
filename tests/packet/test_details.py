"""Which piece runs through at a butted corner, and how an open section lies, drawn beside a frame's picture.

Where the heel, the web and the flange are is found in the drawing itself: the longest level and the longest upright
line of an angle are the backs of its legs and meet at the heel, a channel's longest is the back of its web, a tee's the
face of its flange.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import product
from math import dist
from pathlib import Path

import pytest

from mitertool.base.language import spoken
from mitertool.drawing import A4, LETTER, OUTLINE, THIN, Drawing, Line, Polygon, Text
from mitertool.job import Solution, load, solve
from mitertool.packet.pages.browser.frame_part import frames_part
from mitertool.packet.pages.fitter.details import Detail, details
from mitertool.packet.pages.fitter.frame_blocks import frame_blocks
from mitertool.packet.pages.fitter.seams import seam_drawing, seam_sign, seams
from mitertool.packet.paper.layout import Paper, pages
from tests.packet.jobs import head
from tests.packet.text_boxes import cut_short, findings

RECTANGLE = (
    '[[frame]]\nmark = "{mark}"\nshape = "rectangle"\nsection = "{section}"\nwidth = 1200\nheight = 700\n'
    'measured = "outside"\n{more}\n'
)
TEE = '[[section]]\nname = "TEE"\nshape = "tee"\nwidth = 60\nheight = 40\nweb = 6\nflange = 6\n'


def frame(section: str, more: str = "", mark: str = "F") -> str:
    return RECTANGLE.format(mark=mark, section=section, more=more)


def solved(folder: Path, *blocks: str) -> Solution:
    (folder / "job.toml").write_text("\n".join([head(), *blocks, TEE]), encoding="utf-8")
    return solve(load(folder / "job.toml"))


def shown(solution: Solution) -> list[Detail]:
    (order,) = solution.frames
    return list(details(order, "mm"))


def middle(line: Line) -> tuple[float, float]:
    return (line.a[0] + line.b[0]) / 2, (line.a[1] + line.b[1]) / 2


def longest(detail: Detail) -> list[Line]:
    outline = [part for part in detail.drawing.entities if isinstance(part, Line) and part.layer is OUTLINE]
    return sorted(outline, key=lambda line: dist(line.a, line.b), reverse=True)


def words(detail: Detail) -> dict[str, Text]:
    return {part.says: part for part in detail.drawing.entities if isinstance(part, Text)}


def pointed(detail: Detail) -> tuple[float, float]:
    """Where the one leader ends."""
    (leader,) = (part for part in detail.drawing.entities if isinstance(part, Line) and part.layer is THIN)
    return leader.b


@pytest.mark.parametrize(("heel", "leg"), [*product(("out", "in"), ("up", "down"))])
def test_an_angle_has_its_heel_and_its_upright_leg_where_they_are(heel: str, leg: str, tmp_path: Path) -> None:
    """Inside is at the left of the section and outside at its right; a leg that stands up has its heel below."""
    (detail,) = shown(solved(tmp_path, frame("L 80x60x7", f'heel = "{heel}"\nleg = "{leg}"')))
    level, upright = (
        next(line for line in longest(detail) if abs(line.a[i] - line.b[i]) < 1e-6) for i in (1, 0)
    )  # the back of either leg
    ends = [{(round(x, 6), round(y, 6)) for x, y in (line.a, line.b)} for line in (level, upright)]
    (corner,) = ends[0] & ends[1]
    assert pointed(detail) == pytest.approx(corner)
    said = words(detail)
    assert said["inside"].at[0] < -8 < 8 < said["outside"].at[0]
    assert (corner[0] > 0, corner[1] < 1) == (heel == "out", leg == "up")
    assert said["front"].at[1] > max(line.a[1] for line in longest(detail))
    assert detail.title == "Cut through F-1, F-2"


@pytest.mark.parametrize(("toes", "at"), [("out", (-1, 0)), ("in", (1, 0)), ("up", (0, -1)), ("down", (0, 1))])
def test_a_channel_has_its_web_where_its_toes_are_not(toes: str, at: tuple[int, int], tmp_path: Path) -> None:
    (detail,) = shown(solved(tmp_path, frame("UPN 100", f'toes = "{toes}"')))
    web = middle(longest(detail)[0])
    assert pointed(detail) == pytest.approx(web)
    x, y = at
    _, low, _, high = Drawing(longest(detail)).bounds()
    assert web[0] * x > 1 if x else web[1] == pytest.approx(high if y > 0 else low)
    assert "web" in words(detail)


@pytest.mark.parametrize("lay", [0, 90, 180, 270])
def test_a_tee_has_its_flange_named(lay: int, tmp_path: Path) -> None:
    (detail,) = shown(solved(tmp_path, frame("TEE", f"lay = {lay}")))
    assert pointed(detail) == pytest.approx(middle(longest(detail)[0]))
    assert "flange" in words(detail)


def test_an_upright_bar_inside_has_its_left_at_the_left(tmp_path: Path) -> None:
    """As made an angle has its heel on the fixed side: the right one of a bar that runs up."""
    inside = 'inside = [{ bars = "uprights", section = "L 50x50x5", count = 2 }]'
    (detail,) = shown(solved(tmp_path, frame("SHS 50x50x3", inside)))
    said = words(detail)
    assert said["left side"].at[0] < 0 < said["right side"].at[0]
    assert pointed(detail)[0] > 4
    assert detail.title == "Cut through F-3"


def test_closed_and_solid_sections_are_not_cut_through(tmp_path: Path) -> None:
    for section in ("RHS 80x40x3", "FLAT 50x10", "CHS 42.4x3.2"):
        assert shown(solved(tmp_path, frame(section))) == []


BUTTED = [("width", "F-1"), ("height", "F-2")]


def corner_of(stubs: list[Polygon], right: bool, upper: bool) -> list[bool]:
    """Which of two stubs has steel in a corner of the box about both."""
    xs, ys = zip(*(point for stub in stubs for point in stub.points), strict=True)
    corner = (max if right else min)(xs), (max if upper else min)(ys)
    return [any(dist(point, corner) < 1e-6 for point in stub.points) for stub in stubs]


@pytest.mark.parametrize(("through", "mark"), BUTTED)
def test_the_seam_of_a_butted_corner_shows_who_runs_through(through: str, mark: str, tmp_path: Path) -> None:
    """At the lower left corner of the frame the steel of the piece that runs through is the one in the very corner."""
    solution = solved(tmp_path, frame("SHS 50x50x3", f'corners = "butt"\nthrough = "{through}"'))
    (order,) = solution.frames
    (seam,) = seams(order.assembly, order.out)
    parts = seam_drawing(seam).entities
    marks = [part.says for part in parts if isinstance(part, Text)]
    there = corner_of([part for part in parts if isinstance(part, Polygon)], False, False)
    assert [name for name, in_it in zip(marks, there, strict=True) if in_it] == [mark]
    (piece,) = (one.piece for one in solution.pieces if one.mark == mark)
    assert (seam.title, piece.long_point) == ("Corner 1", 1200 if through == "width" else 700)


@pytest.mark.parametrize(("through", "mark"), BUTTED)
def test_in_its_row_what_runs_through_is_dark(through: str, mark: str, tmp_path: Path) -> None:
    """Corners 1 to 4 go clockwise from the lower left; the dark piece has the corner, and lies level by the width."""
    (order,) = solved(tmp_path, frame("SHS 50x50x3", f'corners = "butt"\nthrough = "{through}"')).frames
    for corner in order.corners:
        stubs = [part for part in seam_sign(order.assembly, corner).entities if isinstance(part, Polygon)]
        shades = [stub.fill or 0.0 for stub in stubs]
        in_corner = corner_of(stubs, corner.number in (3, 4), corner.number in (2, 3))
        assert [shade < 0.6 for shade in shades] == in_corner
        (dark,) = (stub for stub in stubs if (stub.fill or 0.0) < 0.6)
        xs, ys = zip(*dark.points, strict=True)
        assert (max(xs) - min(xs) > max(ys) - min(ys)) == (through == "width")
    (plain,) = solved(tmp_path, frame("SHS 50x50x3")).frames
    assert not any(seam_sign(plain.assembly, corner).entities for corner in plain.corners)


OPEN = (
    frame("L 80x60x7", 'heel = "out"\nleg = "up"\ncorners = "butt"', "W" * 14),
    frame("UPN 100", 'toes = "down"\ninside = [{ bars = "uprights", section = "L 50x50x5", count = 2 }]', "U"),
    '[[frame]]\nmark = "R"\nshape = "rail"\nsection = "L 50x50x5"\nnodes = [[0, 0, 0], [900, 0, 0], [1700, 0, 600]]\n',
)


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("paper", [A4, LETTER])
def test_the_lettering_of_details(paper: tuple[float, float], language: str, tmp_path: Path) -> None:
    solution, on = solved(tmp_path, *OPEN), Paper(*paper)
    with spoken(language):
        for page in pages(list(frame_blocks(solution, on.inner)), on, lambda *_: Drawing()):
            assert [*findings(page), *cut_short(page.drawing.text_boxes())] == []


def test_the_page_shows_the_same_details(solution_of: Callable[[str], Solution]) -> None:
    for name, title in (("hatch-frame", "Cut through RIM-1, RIM-2"), ("lantern-house", "Corner 1")):
        assert f"<figcaption>{title}</figcaption>" in "".join(map(str, frames_part(solution_of(name))))
