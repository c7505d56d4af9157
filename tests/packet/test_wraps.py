"""Templates to wrap: true to scale, put together from their sheets again, nothing lettered over a line."""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, pi, radians, tan
from pathlib import Path

import pytest

from mitertool import job as jobs
from mitertool.drawing import OUTLINE, Drawing, Line, Page, Polyline, dxf
from mitertool.job import Job
from mitertool.packet.pages.wraps import Wrapped, wrap_drawing, wrap_pages, wrapped_marks
from mitertool.packet.paper.layout import MARGIN
from mitertool.piece.skin import Template
from tests.packet.text_boxes import findings

SIZES = ("CHS 21.3x2.6", "CHS 60.3x3.2", "CHS 168.3x6.3", "CHS 323.9x8")


def job_of(folder: Path, section: str, units: str, ends: str) -> tuple[Wrapped, Job]:
    file = folder / "job.toml"
    file.write_text(
        f'[job]\nname = "Boiler flue"\nunits = "{units}"\n'
        f'[[piece]]\nmark = "F-1"\nsection = "{section}"\nlength = "1200 mm"\n{ends}\n'
    )
    solved = jobs.solve(jobs.load(file))
    return next(wrapped_marks(solved), ("", ())), solved.job


def thick(page: Page) -> list[Line]:
    return outline(page.drawing)


def outline(drawing: Drawing) -> list[Line]:
    """Every straight part of the outline."""
    drawn = [one for one in drawing.entities if isinstance(one, Line | Polyline) and one.layer is OUTLINE]
    ways = [one.points if isinstance(one, Polyline) else (one.a, one.b) for one in drawn]
    return [Line(a, b, OUTLINE) for way in ways for a, b in pairwise(way)]


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("section", SIZES)
def test_the_lettering_of_every_template(tmp_path: Path, section: str, units: str) -> None:
    solved, job = job_of(tmp_path, section, units, "left = 45\nright = { miter = 20, bevel = -35 }")
    for page in wrap_pages(solved, job):
        assert findings(page) == []


@pytest.mark.parametrize(("units", "long", "says"), [("mm", 100.0, "100 mm"), ("in", 101.6, '4"')])
def test_the_control_line_is_whole_on_the_tape_of_the_shop(tmp_path: Path, units: str, long: float, says: str) -> None:
    """100 mm, or four inches."""
    solved, job = job_of(tmp_path, "CHS 168.3x6.3", units, "left = 30")
    for page in wrap_pages(solved, job):
        level = [line for line in thick(page) if line.a[0] == MARGIN and line.a[1] == line.b[1] == MARGIN + 9]
        assert [abs(line.b[0] - line.a[0]) for line in level] == pytest.approx([long])
        assert any(box.says.startswith(f"this line is {says}:") for box in page.drawing.text_boxes())


def test_a_template_is_as_long_and_as_high_as_the_tube_asks(tmp_path: Path) -> None:
    """Once around is pi d; a cut of 30 degrees rises d tan 30 over it, the fixed side first from the right end."""
    solved, _ = job_of(tmp_path, "CHS 60.3x3.2", "mm", "right = 30")
    points = {point for line in outline(wrap_drawing(solved, "mm")) for point in (line.a, line.b)}
    assert max(x for x, _ in points) == pytest.approx(pi * 60.3, abs=1e-9)
    high = max(points, key=lambda p: p[1])
    low = min((p for p in points if p[1] > 0), key=lambda p: p[1])
    assert high[1] - low[1] == pytest.approx(60.3 * tan(radians(30)), abs=1e-9)
    assert (low[0], high[0]) == pytest.approx((pi * 60.3 / 4, 3 * pi * 60.3 / 4), abs=1e-9)


def test_the_edge_is_one_line_of_the_file(tmp_path: Path) -> None:
    """One LWPOLYLINE of an end with all its points; LINEs are the base, the sides, the flap, three lines, stations."""
    solved, _ = job_of(tmp_path, "CHS 60.3x3.2", "mm", "right = 45")
    content = dxf.write(wrap_drawing(solved, "mm")).decode()
    assert content.count("\nLWPOLYLINE\n") == 1
    (edge,) = (one for one in wrap_drawing(solved, "mm").entities if isinstance(one, Polyline))
    assert edge.points[0][0] == 0
    assert edge.points[-1][0] == pytest.approx(pi * 60.3, abs=1e-9)
    assert content.count("\n  0\nLINE\n") < 30 < len(edge.points)


def test_the_edge_is_as_long_as_the_rim_of_the_face(tmp_path: Path) -> None:
    """The edge wrapped around is the rim of the face: an ellipse of d by d / cos 45. Its perimeter by Ramanujan's
    second formula (Q. J. Math. 45 (1914), 350), exact to 1e-8 at so round an ellipse."""
    (_, (template,)), _ = job_of(tmp_path, "CHS 60.3x3.2", "mm", "right = 45")
    fine = Template(template.piece, "right").curve
    rim = sum(hypot(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in pairwise(fine))
    a, b = 60.3 / 2 / cos(radians(45)), 60.3 / 2
    h = ((a - b) / (a + b)) ** 2
    assert rim == pytest.approx(pi * (a + b) * (1 + 3 * h / (10 + (4 - 3 * h) ** 0.5)), rel=1e-5)


def test_sheets_put_together_show_the_whole_edge(tmp_path: Path) -> None:
    """What is drawn on the sheets, less what two of them share, is as long as the edge of the drawing."""
    solved, job = job_of(tmp_path, "CHS 323.9x8", "mm", "right = 50")
    pages = wrap_pages(solved, job)
    assert len(pages) > 2
    whole = {
        round(x, 6) for line in wrap_drawing(solved, "mm").entities if isinstance(line, Line) for x in (line.a[0],)
    }
    assert max(whole) >= pi * 323.9
    shown = 0.0
    for page in pages:
        body = [line for line in thick(page) if line.a[1] > MARGIN + 20]
        xs = sorted({x for line in body for x in (line.a[0], line.b[0])})
        shown += max(b for b in xs) - min(xs) if xs else 0.0
        assert all(b >= a for a, b in pairwise(xs))
    assert shown >= pi * 323.9


@pytest.mark.parametrize(
    ("section", "ends", "wrapped"),
    [
        ("CHS 60.3x3.2", "left = 0", ()),
        ("CHS 60.3x3.2", "left = 10", ("left",)),
        ("SHS 50x50x3", "left = 45\nright = 30", ()),
        ("SHS 50x50x3", "left = { miter = 45, bevel = 10 }", ("left",)),
        ("SHS 50x50x3", "right = [45, -45]", ("right",)),
        ("L 50x50x5", "left = { miter = 45, bevel = 10 }", ()),
        ("ROUND 20", "left = 45", ()),
    ],
)
def test_what_is_wrapped(tmp_path: Path, section: str, ends: str, wrapped: tuple[str, ...]) -> None:
    """Tube that a line across a face does not mark."""
    solved, _ = job_of(tmp_path, section, "mm", ends)
    assert tuple(template.end for template in solved[1]) == wrapped


def test_a_branch_is_marked_by_its_true_edge(tmp_path: Path) -> None:
    """A branch of 60.3 square on a run of 114.3: half round it stands sqrt(R2 - r2) from the run's middle at the sides
    of the run and R at the others, so the edge rises by R - sqrt(R2 - r2) twice around."""
    file = tmp_path / "job.toml"
    file.write_text(
        '[job]\nname = "Y"\nunits = "mm"\n[[frame]]\nmark = "B"\nshape = "branch"\nsection = "CHS 60.3x4"\n'
        'on = "CHS 114.3x5"\nlength = 300\n'
    )
    ((mark, (template,)),) = wrapped_marks(jobs.solve(jobs.load(file)))
    outs = [out for _, out in template.stations(4)]
    assert mark == "B-1"
    rise = 57.15 - (57.15**2 - 30.15**2) ** 0.5
    assert outs == pytest.approx([rise, 0, rise, 0, rise], abs=1e-9) or outs == pytest.approx(
        [0, rise, 0, rise, 0], abs=1e-9
    )
