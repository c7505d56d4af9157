"""Strip, page one and plan of every setting show one bar from one side: no picture is the mirror image of another.

Expected by hand, with the moving jaw up on paper and nothing mirrored: a positive miter has its long point at the
moving side, so a left end leans like a backslash and a right end like a slash, whatever the saw. Half a turn about the
vertical keeps every lean and half a turn about the bar's own axis turns each over. Looking with the feed, who has the
fixed jaw at his left and then looks across it to the moving jaw has the bar come from his right.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from mitertool.drawing import OUTLINE, Drawing, Line, Polygon, Text
from mitertool.job import Solution, load, solve
from mitertool.job.runs import Run
from mitertool.nest import Placed
from mitertool.packet.floor.made import floor_of
from mitertool.packet.floor.rows import ends_of
from mitertool.packet.floor.values import PieceRow
from mitertool.packet.pages.setting.plan_view import plan_view
from mitertool.packet.pages.setting.tilt_view import tilt_view
from mitertool.packet.pages.sheet.bar_plan import bar_plan
from mitertool.packet.pages.sheet.bar_strip import strip_block
from mitertool.packet.pages.sheet.piece_rows import in_order, shapes
from tests.packet.jobs import ROOT, SAWS, head, piece, stock

WIDTH = 186.0
ONE_WAY = "feed_side_most = 0\ndischarge_side_most = 60"
BOTH_WAYS = "feed_side_most = 60\ndischarge_side_most = 60"

JOB = (
    head(saw="saw.toml")
    + piece("A", "FLAT 50x10", "400", "left = 40\nright = 20\nquantity = 3\nopposite = 2")
    + piece("B", "RHS 80x40x3", "700", "left = 30\nright = 0\nquantity = 2\nopposite = 1")
    + piece("C", "FLAT 50x10", "300", "left = -15\nright = 45\nquantity = 2\nturn = ['as-drawn']")
    + stock("FLAT 50x10", "3 m")
    + stock("RHS 80x40x3", "3 m")
)
BEVELED = head(saw="saw.toml") + piece(
    "T", "RHS 80x40x3", "700", "left = { miter = 10, bevel = 25 }\nright = { miter = 0, bevel = -12 }"
)

MADE = [f"{jaw}, {swings}" for jaw in ("left", "right") for swings in ("one way", "both ways")]
GALLERY = ("boathouse-gate", "hatch-frame", "ramp-rail")


def with_saw(folder: Path, jaw: str, swings: str, text: str, tilts: bool = False) -> Solution:
    saw = SAWS["tilting" if tilts else "both ways"]
    saw = saw.replace('fixed_jaw = "left"', f'fixed_jaw = "{jaw}"').replace(
        'fixed_jaw = "right"', f'fixed_jaw = "{jaw}"'
    )
    (folder / "saw.toml").write_text(saw.replace(BOTH_WAYS, swings), encoding="utf-8")
    (folder / "job.toml").write_text(text, encoding="utf-8")
    return solve(load(folder / "job.toml"))


@cache
def made(name: str, folder: Path) -> Solution:
    if name in GALLERY:
        return solve(load(ROOT / "gallery" / name / "job.toml"))
    jaw, swings = name.split(", ")
    return with_saw(folder, jaw, ONE_WAY if swings == "one way" else BOTH_WAYS, JOB)


@pytest.fixture(params=[*MADE, *GALLERY])
def solution(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Solution:
    return made(request.param, tmp_path_factory.getbasetemp())


def lean(line: Line) -> int:
    """1 like a slash, -1 like a backslash, 0 upright."""
    (x0, y0), (x1, y1) = sorted((line.a, line.b), key=lambda point: point[1])
    return 0 if math.isclose(x0, x1, abs_tol=1e-6) else int(math.copysign(1, (x1 - x0) * (y1 - y0)))


def strip(run: Run) -> Drawing:
    return strip_block(run.bar, run.saw, WIDTH, run.bar.stock_length).drawing


def cuts(drawing: Drawing) -> list[Line]:
    return [part for part in drawing.entities if isinstance(part, Line) and part.layer == OUTLINE]


def middle(line: Line) -> float:
    return (line.a[0] + line.b[0]) / 2


def ends_on_strip(run: Run) -> Iterator[tuple[Placed, Line, Line]]:
    """Each piece with its two cuts as drawn on the strip, that at the left of the paper first."""
    of = dict(zip(run.bar.cuts, cuts(strip(run)), strict=True))
    for placed, (lead, trail) in zip(run.bar.pieces, ends_of(run.bar), strict=True):
        left, right = sorted((of[lead], of[trail]), key=middle)
        yield placed, left, right


def ends_on_page_one(row: PieceRow) -> tuple[int, int]:
    """How the left and the right end of a mark's sign on page one lean, seen from above."""
    outline = next(part for part in shapes(row).entities if isinstance(part, Polygon))
    sides = [Line(a, b, OUTLINE) for a, b in zip(outline.points[::2], outline.points[1::2], strict=True)]
    left, right = sorted(sides, key=middle)
    return lean(left), lean(right)


def blade(drawing: Drawing) -> Line:
    return max(cuts(drawing), key=lambda line: math.dist(line.a, line.b))


def word(drawing: Drawing, says: str) -> tuple[float, float]:
    return next(part.at for part in drawing.entities if isinstance(part, Text) and part.says == says)


def slant(miter: float, end: str) -> int:
    """How the end of a piece leans as it is drawn, by hand: see the top of this file."""
    return 0 if miter == 0 else int(math.copysign(1, miter)) * (-1 if end == "left" else 1)


def test_page_one_shows_a_piece_as_it_lies_on_its_bar(solution: Solution) -> None:
    """The first one that is cut: so the sign of a mark and the strip of its bar show the same ends at the same side."""
    rows = {row.mark: row for row in floor_of(solution).pieces}
    for run in solution.runs:
        for placed, left, right in ends_on_strip(run):
            row = rows.pop(placed.mark, None)
            assert row is None or ends_on_page_one(row) == (lean(left), lean(right)), placed
    assert all(row.refused for row in rows.values())


def test_page_one_names_the_end_that_is_cut_first(solution: Solution) -> None:
    """The leading end of the bar, which lies at the side that the strip's arrow points to; with what is set for it."""
    floor = floor_of(solution)
    leading = 0 if floor.saw is None or floor.saw.fixed_jaw == "left" else 1
    codes = in_order(floor.saw)
    assert codes[leading] == "sheet.first-cut"
    assert codes[1 - leading] == "sheet.second-cut"
    rows = {row.mark: row for row in floor.pieces}
    for run in solution.runs:
        lead = None
        for cut in run.cuts:
            row = rows.pop(cut.mark, None) if cut.mark else None
            if row and lead:
                ends = (row.cut[0].left, row.cut[0].right)
                assert ends[leading].degrees == pytest.approx(lead.reach.scale)
                assert ends[1 - leading].degrees == pytest.approx(cut.reach.scale)
            lead = cut


def test_the_sign_of_a_bevel_shows_which_edge_is_long(tmp_path: Path) -> None:
    """Long at the top where the bevel is positive, by hand: from the fixed jaw a left end leans like a backslash."""
    (row,) = floor_of(with_saw(tmp_path, "left", BOTH_WAYS, BEVELED, tilts=True)).pieces
    _, side = [part for part in shapes(row).entities if isinstance(part, Polygon)]
    edges = [Line(a, b, OUTLINE) for a, b in zip(side.points[::2], side.points[1::2], strict=True)]
    left, right = sorted(edges, key=middle)
    assert (lean(left), lean(right)) == (-1, -1)


def test_a_piece_on_the_strip_leans_as_it_is_drawn(solution: Solution) -> None:
    """Turned end for end the ends change places; rolled, each lean is turned over."""
    assert_pieces_lean_as_drawn(solution)


def assert_pieces_lean_as_drawn(solution: Solution) -> None:
    for run in solution.runs:
        for placed, left, right in ends_on_strip(run):
            piece = next(one.piece for one in solution.pieces if one.mark == placed.mark)
            drawn = [slant(piece.left.miter, "left"), slant(piece.right.miter, "right")]
            turned = drawn[::-1] if placed.pose.startswith("end-for-end") else drawn
            over = -1 if placed.pose.endswith("rolled") else 1
            assert [lean(left), lean(right)] == [over * one for one in turned], placed


def test_the_blade_in_the_plan_leans_as_its_cut_on_the_strip(solution: Solution) -> None:
    """As drawn on the strip the bar is not rolled; rolled half a turn for the cut, the lean is turned over."""
    seen = 0
    for run in solution.runs:
        for cut, line in zip(run.cuts, cuts(strip(run)), strict=True):
            plan = plan_view(cut.reach, 86, 56)
            over = -1 if cut.reach.roll else 1
            assert cut.reach.roll in (0, 180, -180)
            assert lean(blade(plan)) == over * lean(line)
            seen += lean(line) != 0
    assert seen


def test_feed_and_discharge_lie_alike_in_strip_and_plan(solution: Solution) -> None:
    """The bar comes from the right where the fixed jaw is on the left; its arrow points away from where it comes."""
    saw = solution.job.saw
    assert saw is not None
    comes = 1 if saw.fixed_jaw == "left" else -1
    for run in solution.runs:
        drawing = strip(run)
        low, _, high, _ = Drawing(cuts(drawing)).bounds()
        bar, arrow = [part for part in drawing.entities if isinstance(part, Polygon)]
        assert arrow.fill == 0.0
        begin, end = min(x for x, _ in bar.points), max(x for x, _ in bar.points)
        assert (end - high > low - begin) == (comes == 1)
        tip, *tail = (x for x, _ in arrow.points)
        assert tip < min(tail) < begin if comes == 1 else tip > max(tail) > end
        for cut in run.cuts:
            plan = plan_view(cut.reach, 86, 56)
            assert (word(plan, "feed")[0] - word(plan, "discharge")[0]) * comes > 0
            sides = {part.says: part.at[1] for part in plan.entities if isinstance(part, Text) and "side" in part.says}
            (steel,) = [part for part in plan.entities if isinstance(part, Polygon) and part.layer == OUTLINE]
            bottom, top = min(y for _, y in steel.points), max(y for _, y in steel.points)
            assert sides.pop("moving side") > top
            assert all(height < bottom for height in sides.values())


def test_the_plan_of_a_bar_leans_as_its_first_cut_on_the_strip(solution: Solution) -> None:
    """With the sides named in every picture at the same places, the feed on the side that the bar comes from."""
    saw = solution.job.saw
    assert saw is not None
    comes = 1 if saw.fixed_jaw == "left" else -1
    for work in floor_of(solution).bars:
        assert work.run
        plan, first = bar_plan(work, saw, "mm", 90, 40), cuts(strip(work.run))[0]
        over = -1 if work.run.cuts[0].reach.roll else 1
        blades = [line for line in cuts(plan) if abs(line.a[1] - line.b[1]) > 1e-9]
        assert lean(max(blades, key=lambda line: math.dist(line.a, line.b))) == over * lean(first)
        named = {part.says: part.at for part in plan.entities if isinstance(part, Text) and "side" in part.says}
        fixed, moving = sorted(line.a[1] for line in cuts(plan) if abs(line.a[1] - line.b[1]) < 1e-9)
        left, right = ("discharge side", "feed side") if comes == 1 else ("feed side", "discharge side")
        places = {left: (0, (fixed + moving) / 2), right: (90, (fixed + moving) / 2)}
        assert {says: named[says] for says in places} == {says: pytest.approx(at) for says, at in places.items()}
        assert named["moving side"][0] == named["fixed side"][0] == 0
        texts = [part.at[1] for part in plan.entities if isinstance(part, Text)]
        assert named["moving side"][1] == max(texts) > moving
        assert named["fixed side"][1] == min(texts) < fixed


@pytest.mark.parametrize("jaw", ["left", "right"])
def test_a_tilted_blade_leans_as_the_bevel_seen_from_the_fixed_jaw(jaw: str, tmp_path: Path) -> None:
    """A positive bevel has its long point at the top: a left end leans like a backslash, a right end like a slash."""
    made = with_saw(tmp_path, jaw, BOTH_WAYS, BEVELED, tilts=True)
    (solved,) = made.pieces
    for end, reach in (("left", solved.left), ("right", solved.right)):
        assert reach is not None
        assert reach.tilt
        assert reach.roll == 0
        tilted = tilt_view(reach, 43, 33)
        assert lean(blade(tilted)) == slant(getattr(solved.piece, end).bevel, end)
        assert (word(tilted, "feed")[0] > word(tilted, "discharge")[0]) == (jaw == "left")


def test_a_job_without_a_saw_keeps_the_drawings_way() -> None:
    """The left end leads, and with it the strip begins at the left."""
    made = solve(load(ROOT / "gallery" / "lantern-house" / "job.toml"))
    assert made.job.saw is None
    for run in made.runs:
        low, _, high, _ = Drawing(cuts(strip(run))).bounds()
        bar, _ = [part for part in strip(run).entities if isinstance(part, Polygon)]
        assert max(x for x, _ in bar.points) - high > low - min(x for x, _ in bar.points)
    assert_pieces_lean_as_drawn(made)
