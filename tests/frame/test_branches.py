"""Branches on runs: the true edge against the meeting of two cylinders, straight cuts and the gap that they leave."""

from __future__ import annotations

from math import cos, degrees, hypot, pi, radians, sin, sqrt
from pathlib import Path

import numpy as np
import pytest

import mitertool as mt
from mitertool.drawing import Text
from mitertool.frame.branches import OnRun, branch
from mitertool.geometry.saddle import Saddle
from mitertool.job import load, solve
from mitertool.packet.pages.fitter.frame_blocks import frame_blocks
from mitertool.packet.pages.labels import label_pages
from tests.frame.runs import command

RUN, SMALL = mt.round_tube(114.3, 5), mt.round_tube(60.3, 4)


@pytest.mark.parametrize(("angle", "offset"), [(90, 0), (60, 0), (120, 15), (45, -20), (75, 26)])
def test_the_true_edge_lies_on_both_tubes(angle: float, offset: float) -> None:
    """Places of the edge in space, built here from the directions of both middles: as far from the run's middle as its
    radius, and from the branch's as its own."""
    saddle = Saddle(30.15, 57.15, angle, offset)
    lean = radians(angle)
    along = np.array([cos(lean), 0, sin(lean)])
    u_way, v_way = np.array([-sin(lean), 0, cos(lean)]), np.array([0, 1, 0])
    for at in np.linspace(0, 2 * pi, 73):
        u, v = 30.15 * cos(at), 30.15 * sin(at)
        place = offset * v_way + u * u_way + v * v_way + saddle.down(u, v) * along
        assert hypot(place[1], place[2]) == pytest.approx(57.15, abs=1e-9)
        assert place[2] > 0


def test_equal_tubes_meet_in_two_planes() -> None:
    """Square to each other, of one diameter: two cuts of 45 degrees from square, no gap, tip on the run's middle."""
    made = branch(RUN, RUN, OnRun(400))
    piece = made.pieces[0].piece
    assert sorted(cut.miter for cut in piece.cuts("left")) == pytest.approx([-45, 45], abs=1e-9)
    assert piece.centerline == pytest.approx(400, abs=1e-9)
    assert made.closure.gap == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("angle", [90, 70, 50])
def test_no_line_comes_closer_than_the_chord(angle: float) -> None:
    """The gap by trying 4,000 slopes: each pushed on until it touches, the worst place between counted.

    The best of them is off the chord by half a step of 1/4000 at most, which is 30.15 / 8000 at the side.
    """
    saddle = Saddle(30.15, 57.15, angle)
    u = np.linspace(0, 30.15, 2001)
    edge = np.sqrt(57.15**2 - 30.15**2 + u**2)
    best = min(float((d := edge - m * u).max() - d.min()) for m in np.linspace(0, 1, 4001))
    assert best - 30.15 / 8000 <= saddle.gap * sin(radians(angle)) <= best + 1e-9


def test_straight_cuts_do_not_cut_into_the_run() -> None:
    """Of a thousand places of the skin the cut end stands on the run or over it, and by the gap at most."""
    saddle = Saddle(30.15, 57.15, 60)
    made = branch(SMALL, RUN, OnRun(400, 60))
    piece = made.pieces[0].piece
    start = 400 - piece.centerline
    over = []
    for at in np.linspace(0, 2 * pi, 1001):
        u, v = 30.15 * cos(at), 30.15 * sin(at)
        out = min(cut.p * u for cut in piece.cuts("left"))
        over.append(start - out - saddle.down(u, v))
    assert min(over) == pytest.approx(0, abs=1e-6)
    assert max(over) == pytest.approx(saddle.gap, abs=1e-3)


def test_a_branch_that_passes_the_middle_is_a_blank() -> None:
    """Its longest line reaches down to where the run is lowest under it: 20 + 30.15 off the middle."""
    made = branch(SMALL, RUN, OnRun(400, 90, 20))
    piece = made.pieces[0].piece
    assert (piece.left, piece.left_further) == (mt.Cut(), ())
    assert piece.long_point == pytest.approx(400 - sqrt(57.15**2 - 50.15**2), abs=1e-3)
    assert [mark for mark, _ in made.saddles] == ["BRANCH-1"]


def test_angles_of_a_leaning_branch_by_hand() -> None:
    """Slopes (cos b -+ m) / sin b with the chord m = (R - sqrt(R2 - r2)) / r."""
    piece = branch(SMALL, RUN, OnRun(400, 60)).pieces[0].piece
    m = (57.15 - sqrt(57.15**2 - 30.15**2)) / 30.15
    wanted = sorted(degrees(np.arctan((0.5 + way * m) / sin(radians(60)))) for way in (-1, 1))
    assert sorted(cut.miter for cut in piece.cuts("left")) == pytest.approx(wanted, abs=1e-9)


@pytest.mark.parametrize(
    ("section", "run", "on", "says"),
    [
        (RUN, SMALL, OnRun(400), "section: found.*at most as wide as its run"),
        (SMALL, RUN, OnRun(400, 90, 40), "passes: found '40 mm'; the branch must stand on the run all around"),
        (SMALL, RUN, OnRun(400, 10), "between: found 10; a branch leans 15 to 165 degrees"),
        (mt.rect_tube(50, 50, 3), RUN, OnRun(400), "section: found"),
        (SMALL, mt.rect_tube(50, 50, 3), OnRun(400), "on: found"),
        (SMALL, RUN, OnRun(0), "length: found 0"),
        (SMALL, RUN, OnRun(20), "length: found '20 mm'; must be more than 48"),
    ],
)
def test_what_is_no_branch(section: mt.Section, run: mt.Section, on: OnRun, says: str) -> None:
    with pytest.raises(mt.BadInput, match=says):
        branch(section, run, on)


@pytest.mark.parametrize(("angle", "offset"), [(60, 10), (90, 0), (120, -12)])
def test_where_the_outline_is_marked_on_the_run(angle: float, offset: float) -> None:
    """Along the run, by the directions of both middles, of 20,000 places of the branch's skin; around it the branch is
    as wide as its diameter, off the line over the run's middle by the offset."""
    turns = np.linspace(0, 2 * pi, 20001)
    u, v, lean = 30.15 * np.sin(turns), 30.15 * np.cos(turns), radians(angle)
    down = (np.sqrt(57.15**2 - (offset + v) ** 2) - u * cos(lean)) / sin(lean)
    xs = down * cos(lean) - u * sin(lean)
    made = branch(SMALL, RUN, OnRun(400, angle, offset))
    assert made.seat
    assert made.seat.along == pytest.approx((xs.max(), -xs.min()), abs=1e-3)
    around = [57.15 * np.arcsin((30.15 + way * offset) / 57.15) for way in (1, -1)]
    assert made.seat.around == pytest.approx(around, abs=1e-9)


def test_the_run_is_named_with_what_a_fitter_marks_on_it() -> None:
    """60 degrees, offset 10: 67.4 to the acute and 2.5 to the obtuse side as above; R asin(40.15 / 57.15) = 44.5 and
    R asin(20.15 / 57.15) = 20.6 around."""
    made = branch(SMALL, mt.section("CHS 114.3x4"), OnRun(400, 60, 10))
    says = " ".join(note.in_units("mm") for note in made.notes)
    assert "the run is CHS 114.3x4: 114.3 mm outside, wall 4 mm" in says
    assert "at 60.00 degrees and passes the run's middle by 10 mm to the side of its own top" in says
    assert "67.4 mm along it on the acute side and 2.5 mm on the obtuse side" in says
    assert "44.5 mm around on the side of the branch's top and 20.6 mm on that of its bottom" in says


def test_a_branch_alone_says_nothing_of_pieces_that_close(tmp_path: Path) -> None:
    said = command("frame", "branch", "--section", "CHS 60.3x4", "--on", "CHS 114.3x5", "--length", "400")[1]
    assert "the pieces" not in said
    assert 'shape = "branch" and run `mitertool packet JOB --out DIR`' in said
    (tmp_path / "job.toml").write_text(
        '[job]\nname = "B"\nunits = "mm"\n[[frame]]\nmark = "B"\nshape = "branch"\nsection = "CHS 60.3x4"\n'
        'on = "CHS 114.3x5"\nlength = 400\nbetween = 60\npasses = 10\n'
    )
    solved = solve(load(tmp_path / "job.toml"))
    paper = " ".join(
        one.says for block in frame_blocks(solved, 186) for one in block.drawing.entities if isinstance(one, Text)
    )
    assert "the pieces" not in paper
    for word in ("from the side, 60°", "along the run", "acute side", "obtuse side"):
        assert word in paper
    (page,) = label_pages(solved)
    assert any("L by its template" in one.says for one in page.drawing.entities if isinstance(one, Text))
