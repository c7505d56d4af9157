"""Paper triangles at 1:1: every set-back of a job once, true to size, nothing lettered over another."""

from __future__ import annotations

from math import cos, hypot, pi, radians, tan
from pathlib import Path

import pytest

from mitertool.drawing import Drawing, Polygon, Text
from mitertool.job import Solution, load, solve
from mitertool.packet.pages.triangles import triangle_pages, triangles
from tests.frame.runs import HEAD, table
from tests.packet.text_boxes import findings


def solution_of(folder: Path, *ends: dict[str, object], section: str = "SHS 60x60x4") -> Solution:
    text = HEAD + "".join(
        table("piece", mark=f"A{i}", section=section, length=900, **one) for i, one in enumerate(ends)
    )
    (folder / "job.toml").write_text(text, encoding="utf-8")
    return solve(load(folder / "job.toml"))


def test_each_once(tmp_path: Path) -> None:
    """45 at three ends is 60 over 60; 30 is 60 / sqrt 3; a square end and one of a hundredth of a mm are none."""
    solution = solution_of(tmp_path, {"left": 45, "right": -45}, {"left": 45, "right": 30}, {"left": 0.009})
    found = [(one.back, one.over, one.ends) for one in triangles(solution)]
    assert found == [(60, 60, ("A0 left", "A0 right", "A1 left")), (34.64, 60, ("A1 right",))]
    (page,) = triangle_pages(solution)
    sizes = [Drawing([one]).bounds() for one in page.drawing.entities if isinstance(one, Polygon)]
    legs = [(x1 - x0, y1 - y0) for x0, y0, x1, y1 in sizes]
    assert legs == [pytest.approx((60, 60)), pytest.approx((60, 34.64))]
    assert findings(page) == []


def test_a_solid_round_bar_has_a_strip(tmp_path: Path) -> None:
    """Once around 14 thick, 14 tan 30 from its highest to its lowest place, half way around, to a hundredth of a mm; a
    cut that leans up as well is as steep as both together."""
    solution = solution_of(tmp_path, {"right": 30}, {"right": -30}, section="ROUND 14")
    (page,) = triangle_pages(solution)
    (strip,) = (one for one in page.drawing.entities if isinstance(one, Polygon))
    x0, low, x1, high = Drawing([strip]).bounds()
    assert x1 - x0 == pytest.approx(14 * pi)
    edge = sorted(point for point in strip.points if point[1] > low + 1e-9)
    assert (edge[0][1], edge[-1][1]) == pytest.approx((high, high))
    assert min(edge, key=lambda point: point[1]) == pytest.approx(
        (x0 + 7 * pi, high - 14 * tan(radians(30))), abs=0.005
    )
    quarter = min(edge, key=lambda point: abs(point[0] - x0 - 3.5 * pi))
    assert quarter == pytest.approx((x0 + 3.5 * pi, high - 7 * tan(radians(30))), abs=0.005)
    said = " ".join(part.says for part in page.drawing.entities if isinstance(part, Text))
    assert "around the bar, both its ends on the longest line: A0 right, A1 right" in said
    assert findings(page) == []
    both = table("piece", mark="A", section="ROUND 14", length=900) + "right = { miter = 30, bevel = 20 }\n"
    (tmp_path / "job.toml").write_text(HEAD + both, encoding="utf-8")
    (one,) = triangles(solve(load(tmp_path / "job.toml")))
    lean = hypot(tan(radians(30)), tan(radians(20)) / cos(radians(30)))
    assert (one.back, one.around) == (pytest.approx(14 * lean, abs=0.01), True)


def test_which_side_lies_along_the_bar(tmp_path: Path) -> None:
    """60 back over 60 either side; of 60 degrees 103.92 lies along the bar, drawn level; of 30 34.64, drawn upright."""
    (page,) = triangle_pages(solution_of(tmp_path, {"left": 45, "right": 30}, {"left": 60}))
    said = [part.says for part in page.drawing.entities if isinstance(part, Text) and "back over" in part.says]
    found = {line.partition(" back")[0]: line.partition("side that is ")[2].partition(" ")[0] for line in said}
    assert found == {"103.9": "level", "60": "level", "34.6": "upright"}


def test_none_where_no_end_leans(tmp_path: Path) -> None:
    assert triangle_pages(solution_of(tmp_path, {})) == ()
    assert triangle_pages(solution_of(tmp_path, {"left": 45}, section="CHS 60.3x4")) == ()


@pytest.mark.parametrize("section", ["SHS 250x250x8", "FLAT 120x10"])
def test_large_ones_go_on_over_sheets(tmp_path: Path, section: str) -> None:
    """A face that no sheet holds has its figure alone."""
    ends = [{"left": miter, "right": miter + 1} for miter in range(10, 60, 5)]
    pages = triangle_pages(solution_of(tmp_path, *ends, section=section))
    assert [found for page in pages for found in findings(page)] == []
    assert all(x <= page.width and y <= page.height for page in pages for x, y in [page.drawing.bounds()[2:]])


def test_a_line_of_a_pointed_end_stops_at_the_tip(tmp_path: Path) -> None:
    """Two cuts of 45 over 60, crossing 20 from the fixed side: each is a line of its own that goes so far."""
    right = "right = [45, { miter = -45, meets = 20 }]\n"
    (tmp_path / "job.toml").write_text(HEAD + table("piece", mark="A", section="SHS 60x60x4", length=900) + right)
    (found,) = triangles(solve(load(tmp_path / "job.toml")))
    assert found.ends == tuple(f"A right cut {cut} to the tip, 20 from the fixed side" for cut in (1, 2))
