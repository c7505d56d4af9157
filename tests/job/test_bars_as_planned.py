"""Bars are worked off as the plan sets them: the same swings, tilts and rolls, and no cut that cannot be made unsaid.

The plan's own cuts are held by tests/nest; here the settings, rolls and counts at the saw follow from them alone.
"""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from mitertool.job import Solution, load, solve
from tests.job.test_solve import HEAD, piece, solved, stock

GALLERY = Path(__file__).resolve().parents[2] / "gallery"
SAWN = ("boathouse-gate", "hatch-frame", "jetty-stand", "ramp-rail", "slip-trolley")

ONE_WAY = """\
[saw]
name = "one way"
kind = "hinged"
kerf = 2
[scale]
square = 90
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 0
[vise]
fixed_jaw = "left"
"""
TILTING = ONE_WAY.replace("discharge_side_most = 0", "discharge_side_most = 60") + "[tilt]\nlowest = 0\nhighest = 45\n"
BLOCKED = ONE_WAY.replace("discharge_side_most = 0", "discharge_side_most = 60") + (
    '[bed]\nswing_axis = 30\n[[obstacle]]\nname = "post"\nside = "discharge"\nstands = "across"\n'
    "depth = 300\nedge = 20\n"
)


@pytest.fixture(scope="module", params=SAWN)
def solution(request: pytest.FixtureRequest) -> Solution:
    return solve(load(GALLERY / request.param / "job.toml"))


def turned(roll: float) -> float:
    return (roll + 180) % 360 - 180


def test_every_cut_is_set_as_planned(solution: Solution) -> None:
    for run in solution.runs:
        assert len(run.cuts) == len(run.bar.cuts)
        for cut, planned in zip(run.cuts, run.bar.cuts, strict=True):
            assert cut.reach.swing == pytest.approx(planned.swing, abs=1e-9)
            assert cut.reach.tilt == pytest.approx(planned.tilt, abs=1e-9)
            assert abs(turned(cut.reach.roll - planned.roll)) == pytest.approx(0, abs=1e-9)


def test_swings_and_rolls_are_those_of_the_plan(solution: Solution) -> None:
    """Between the cuts of one bar, and the roll it is laid in with; the plan counts the arm from bar to bar besides."""
    for run in solution.runs:
        swings = sum(any(one.code in ("set.swing", "set.tilt") for one in b.changes(a)) for a, b in pairwise(run.cuts))
        rolls = sum(any(one.code == "set.roll" for one in b.changes(a)) for a, b in pairwise(run.cuts))
        assert (swings, rolls + bool(run.cuts[0].rolled(None))) == (run.bar.swings, run.bar.rolls)


@pytest.mark.parametrize("saw", [ONE_WAY, TILTING], ids=["one way", "tilting one way"])
def test_no_bar_asks_for_what_the_arm_does_not_do(tmp_path: Path, saw: str) -> None:
    text = HEAD + 'saw = "saw.toml"\n' + piece(more="left = 30\nright = { miter = 22.5, bevel = 20 }\nquantity = 5")
    made = solved(tmp_path, text + stock(), saw)
    assert made.problems == ()
    for run in made.runs:
        for cut in run.cuts:
            assert cut.reach.ok
            assert saw is TILTING or cut.reach.swing >= 0
            assert 0 <= cut.reach.tilt <= 45


def test_a_cut_that_a_post_stands_in_the_way_of_is_told(tmp_path: Path) -> None:
    """Left 45 swings to the discharge side: over y = 0 to 300 the blade reaches back 270; the post stands at 20."""
    text = HEAD + 'saw = "saw.toml"\n' + piece(section="L 50x50x5", more="left = 45\nright = 45") + stock("L 50x50x5")
    made = solved(tmp_path, text, BLOCKED)
    assert any(problem.startswith("A, ") and "post" in problem for problem in made.problems)
    for run in made.runs:
        for cut in run.cuts:
            assert cut.reach.ok or made.problem_marks == ("A",)
