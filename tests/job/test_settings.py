"""The settings of a job: each told once, in the order in which the bars call for them, and every end has its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.job import Solution, load, solve
from mitertool.saw.setting.reach import same_setting
from tests.job.test_solve import BY_BAR, WITH_SAW, piece, solved, stock

GALLERY = Path(__file__).resolve().parents[2] / "gallery"
SAWN = ("boathouse-gate", "hatch-frame", "jetty-stand", "ramp-rail", "slip-trolley")


@pytest.fixture(scope="module", params=SAWN)
def solution(request: pytest.FixtureRequest) -> Solution:
    return solve(load(GALLERY / request.param / "job.toml"))


def test_every_cut_of_every_bar_has_one_setting(solution: Solution) -> None:
    for run in solution.runs:
        assert run.cuts
        for cut in run.cuts:
            found = [s for s in solution.settings if s.grade == run.bar.grade and same_setting(s.reach, cut.reach)]
            assert len(found) == 1


def test_every_end_of_every_mark_has_a_setting(solution: Solution) -> None:
    for solved_piece in solution.pieces:
        for end in ("left", "right"):
            assert any(one.makes(solved_piece.mark, end) for one in solution.settings)


def test_settings_are_numbered_in_the_order_of_the_bars(solution: Solution) -> None:
    assert [one.number for one in solution.settings] == list(range(1, len(solution.settings) + 1))
    firsts = []
    for run in solution.runs:
        for cut in run.cuts:
            number = next(
                s.number for s in solution.settings if s.grade == run.bar.grade and same_setting(s.reach, cut.reach)
            )
            firsts += [number] if number not in firsts else []
    assert firsts == sorted(firsts)


ENDS = "left = 45\nright = 45"


def test_marks_that_are_set_alike_share_a_setting(tmp_path: Path) -> None:
    """A saw that swings both ways: left 45 reads 45, right 45 reads 135, for both marks."""
    solution = solved(tmp_path, WITH_SAW + piece("A", more=ENDS) + piece("B", more=ENDS, length=700))
    assert [(s.number, s.reach.scale) for s in solution.settings] == [(1, 45), (2, 135)]
    assert [(use.mark, use.end) for use in solution.settings[0].uses] == [("A", "left"), ("B", "left")]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (piece("A", more=ENDS), piece("B", "RHS 60x40x3", more=ENDS)),
        (piece("A", more=ENDS), piece("B", more=f'{ENDS}\ngrade = "S355"')),
        (piece("A", more=ENDS), piece("B", more=f"{ENDS}\nlay = 90")),
    ],
    ids=["section", "grade", "lay"],
)
def test_another_section_grade_or_lay_is_set_anew(tmp_path: Path, one: str, other: str) -> None:
    assert len(solved(tmp_path, WITH_SAW + one + other).settings) == 4


def test_a_piece_turned_end_for_end_is_still_told_by_its_ends_as_drawn(tmp_path: Path) -> None:
    """Two tubes of left 0, right 45: nested with their slants together, the second lies end for end."""
    text = WITH_SAW + piece("A", more="left = 0\nright = 45\nquantity = 2") + stock(length=2200) + BY_BAR
    solution = solved(tmp_path, text)
    poses = [placed.pose for placed in solution.runs[0].bar.pieces]
    assert len(set(poses)) == 2
    slanted = [s for s in solution.settings if s.reach.swing]
    square = [s for s in solution.settings if not s.reach.swing]
    assert {use.end for s in slanted for use in s.uses} == {"right"}
    assert {use.end for s in square for use in s.uses} == {"left"}


def test_no_saw_no_settings(tmp_path: Path) -> None:
    assert solved(tmp_path, '[job]\nname = "gate"\n' + piece()).settings == ()
