"""Templates to wrap: true to scale, put together from their sheets again, nothing lettered over a line."""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, pi, radians, sin, sqrt, tan
from pathlib import Path

import pytest

from mitertool import job as jobs
from mitertool.drawing import OUTLINE, THIN, Drawing, Line, Page, Polyline, dxf
from mitertool.frame import SpaceAssembly
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


BRANCHES = (
    '[job]\nname = "Y"\nunits = "mm"\n[[frame]]\nmark = "B"\nshape = "branch"\nsection = "CHS 60.3x3.2"\n'
    'on = "CHS 114.3x5"\nlength = 400\nbetween = {between}\npasses = {passes}\n'
)


def page_of(folder: Path, text: str, mark: str) -> str:
    """What stands on the sheets of a mark's templates."""
    (folder / "job.toml").write_text(text, encoding="utf-8")
    solved = jobs.solve(jobs.load(folder / "job.toml"))
    wrapped = next(one for one in wrapped_marks(solved) if one[0] == mark)
    return " ".join(box.says for page in wrap_pages(wrapped, solved.job) for box in page.drawing.text_boxes())


def reached(at: float, radius: float, between: float, passes: float) -> float:
    """From the run's middle to where a line of the branch meets it, at an angle from its top toward the obtuse side."""
    u, v, lean = radius * sin(at), radius * cos(at), radians(between)
    return (sqrt(57.15**2 - (passes + v) ** 2) - u * cos(lean)) / sin(lean)


@pytest.mark.parametrize("passes", [0, 10])
def test_where_the_template_of_a_branch_lies_and_what_it_does_not_show(passes: float, tmp_path: Path) -> None:
    """Its base line is 45 below the shortest line of the skin, where that reaches least far down. The wall is 3.2:
    where its inside would reach further than the skin does, a cut square to the skin stands it off the run."""
    said = page_of(tmp_path, BRANCHES.format(between=60, passes=passes), "B-1")
    round_about = [2 * pi * i / 7200 for i in range(7200)]
    out, inside = ([reached(at, r, 60, passes) for at in round_about] for r in (30.15, 26.95))
    assert f"lies {400 - max(out) - 45:.1f} from the right end, all round" in said
    assert f"by up to {max(b - a for a, b in zip(out, inside, strict=True)):.1f}:" in said
    peak = round_about[out.index(min(out))]
    nearest = [30.15 * one for one in (peak, 2 * pi - peak, pi - peak, pi + peak)]
    assert any(f"The peak, {round(one, 1):g} round from the top" in said for one in nearest)


def test_the_sides_of_a_branch_by_the_run(tmp_path: Path) -> None:
    """The branch leans 60 degrees from the run's way X: who stands at +X looks at its acute side. By its own
    directions: across is square to it and goes away from X, up goes away from the run's middle where it passes."""
    lean = radians(60)
    across = (-sin(lean), 0.0, cos(lean))
    assert across[0] < 0
    said = page_of(tmp_path, BRANCHES.format(between=60, passes=10), "B-1")
    for line in ("moving side, obtuse side", "fixed side, acute side", "top, offset side", "bottom, inner side"):
        assert line in said
    made = jobs.solve(jobs.load(tmp_path / "job.toml")).frames[0].assembly
    assert isinstance(made, SpaceAssembly)
    (stand,) = made.stands
    assert stand.across == pytest.approx(across, abs=1e-9)
    assert sum(a * b for a, b in zip(stand.place(0, 0, 0), stand.up, strict=True)) == pytest.approx(10, abs=1e-9)
    other = page_of(tmp_path, BRANCHES.format(between=120, passes=0), "B-1")
    assert "moving side, acute side" in other
    assert "offset" not in other
    assert page_of(tmp_path, BRANCHES.format(between=90, passes=0), "B-1").count("along the run") == 2


def test_where_a_template_lies_along_a_slanted_piece(tmp_path: Path) -> None:
    """1200 from the long point of 30 to a square end on CHS 60.3: the short line is 1200 - 60.3 tan 30, the base line
    30 less. With the other end at 20 it is measured along the top, in the middle of the width."""
    job = (
        '[job]\nname = "F"\nunits = "mm"\n[[piece]]\nmark = "F"\nsection = "CHS 60.3x3.2"\nlength = 1200\nright = 30\n'
    )
    rise, other = 60.3 * tan(radians(30)), 60.3 * tan(radians(20))
    assert f"lies {1200 - rise - 30:.1f} from the left end, all round" in page_of(tmp_path, job, "F")
    both = 1200 - rise / 2 - other / 2 - rise / 2 - 30
    assert f"lies {both:.1f} from the left end along the top" in page_of(tmp_path, job + "left = 20\n", "F")


def test_the_corners_of_a_square_tube_are_folded(tmp_path: Path) -> None:
    """SHS 50x50x3 has corners of 6: from the middle of a side 19 to the rounding and half of its quarter arc, then a
    whole side on."""
    solved, _ = job_of(tmp_path, "SHS 50x50x3", "mm", "right = { miter = 45, bevel = 10 }")
    side = 38 + pi * 6 / 2
    folds = solved[1][0].skin.folds
    assert folds == pytest.approx([19 + pi * 6 / 4 + side * i for i in range(4)], abs=1e-9)
    upright = {
        line.a[0] for line in wrap_drawing(solved, "mm").entities if isinstance(line, Line) and line.layer is THIN
    }
    assert all(any(abs(x - fold) < 1e-9 for x in upright) for fold in folds)
    round_tube, _ = job_of(tmp_path, "CHS 60.3x3.2", "mm", "right = 30")
    assert round_tube[1][0].skin.folds == ()


def test_a_name_stands_on_one_sheet_only(tmp_path: Path) -> None:
    solved, job = job_of(tmp_path, "CHS 114.3x4", "mm", "right = 30")
    said = [box.says for page in wrap_pages(solved, job) for box in page.drawing.text_boxes()]
    assert [said.count(name) for name in ("top", "bottom", "fixed side", "moving side")] == [1, 1, 1, 1]
