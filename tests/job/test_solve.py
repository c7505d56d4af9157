"""A job solved: hands, settings, bars, and everything that stands in the way.

Expected values are worked by hand: an opposite hand has its two cuts changed over; at square 90,
feed-side, a right +45 reads 135 and a left +45 reads 45.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.job import Solution, load, solve
from mitertool.packet.records import of_solution

SAW = """\
[saw]
name = "bench saw"
kind = "hinged"
kerf = 2
[scale]
square = 90
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 45
[vise]
fixed_jaw = "left"
grip = 50
"""

HEAD = '[job]\nname = "gate"\n'
WITH_SAW = HEAD + 'saw = "saw.toml"\n'


BY_BAR = '[nest]\nway = "bar by bar"\n'
"""Every cut on the bar, for what is asked of bars alone."""


def solved(folder: Path, text: str, saw: str = SAW) -> Solution:
    (folder / "saw.toml").write_text(saw, encoding="utf-8")
    (folder / "job.toml").write_text(text, encoding="utf-8")
    return solve(load(folder / "job.toml"))


def piece(mark: str = "A", section: str = "RHS 80x40x3", more: str = "", length: float = 1000) -> str:
    return f'[[piece]]\nmark = "{mark}"\nsection = "{section}"\nlength = {length}\n{more}\n'


def stock(section: str = "RHS 80x40x3", length: float = 6000, more: str = "") -> str:
    return f'[[stock]]\nsection = "{section}"\nlength = {length}\n{more}\n'


def test_a_tube_is_its_own_opposite_hand(tmp_path: Path) -> None:
    """Turned end for end and over, its ends change places: six of one mark."""
    solution = solved(tmp_path, HEAD + piece(more="left = 45\nright = 30\nquantity = 4\nopposite = 2"))
    assert [(one.mark, one.hand, one.quantity) for one in solution.pieces] == [("A", "as drawn", 6)]


def test_an_angle_is_not(tmp_path: Path) -> None:
    text = HEAD + piece(section="L 50x50x5", more="left = 45\nright = 30\nquantity = 4\nopposite = 2")
    drawn, other = solved(tmp_path, text).pieces
    assert (drawn.mark, drawn.hand, drawn.quantity) == ("A", "as drawn", 4)
    assert (other.mark, other.hand, other.quantity) == ("A-OH", "opposite", 2)
    assert (drawn.piece.left.miter, drawn.piece.right.miter) == (45, 30)
    assert (other.piece.left.miter, other.piece.right.miter) == (30, 45)
    assert other.piece.long_point == pytest.approx(1000, abs=1e-9)


def test_only_the_opposite_hand_may_be_wanted(tmp_path: Path) -> None:
    text = HEAD + piece(section="L 50x50x5", more="left = 45\nquantity = 0\nopposite = 2")
    assert [(one.mark, one.quantity) for one in solved(tmp_path, text).pieces] == [("A-OH", 2)]


def test_an_angle_with_equal_ends_is_its_own_opposite_hand(tmp_path: Path) -> None:
    text = HEAD + piece(section="L 50x50x5", more="left = 45\nright = 45\nquantity = 4\nopposite = 2")
    assert [(one.mark, one.quantity) for one in solved(tmp_path, text).pieces] == [("A", 6)]


def test_without_a_saw_nothing_is_set(tmp_path: Path) -> None:
    (one,) = solved(tmp_path, HEAD + piece(more="left = 45")).pieces
    assert (one.left, one.right, one.problems) == (None, None, ())


def test_each_end_has_its_reading(tmp_path: Path) -> None:
    (one,) = solved(tmp_path, WITH_SAW + piece(more="left = 45\nright = 45")).pieces
    assert one.left is not None
    assert one.right is not None
    assert (one.left.scale, one.left.side, one.right.scale, one.right.side) == (45, "discharge", 135, "feed")


def test_without_stock_there_is_no_plan(tmp_path: Path) -> None:
    solution = solved(tmp_path, HEAD + piece())
    assert (solution.plan, solution.problems) == (None, ())


@pytest.mark.parametrize("on_rack", ["RHS 80x40x3", "RHS 40x80x3", "rhs 40 x 80 x 3"])
@pytest.mark.parametrize("wanted", ["RHS 80x40x3", "RHS 40x80x3"])
def test_a_bar_is_the_same_whichever_number_comes_first(tmp_path: Path, on_rack: str, wanted: str) -> None:
    """Two square pieces of 1000 and two kerfs of 2."""
    text = HEAD + piece(section=wanted, more="quantity = 2") + stock(on_rack, 2004) + "[nest]\nkerf = 2\n"
    plan = solved(tmp_path, text).plan
    assert plan is not None
    assert [(bar.stock_length, bar.count, len(bar.pieces)) for bar in plan.bars] == [(2004, 1, 2)]
    assert plan.bars[0].drop == pytest.approx(0, abs=1e-9)


def test_both_lays_are_cut_from_one_rack(tmp_path: Path) -> None:
    text = HEAD + piece("A") + piece("B", "RHS 40x80x3") + stock(more="quantity = 1") + "[nest]\nkerf = 2\n"
    solution = solved(tmp_path, text)
    assert solution.plan is not None
    assert [[placed.mark for placed in bar.pieces] for bar in solution.plan.bars] == [["A", "B"]]
    assert (solution.problems, solution.plan.rolls) == ((), 0)


def test_kerf_and_grip_of_the_saw_count(tmp_path: Path) -> None:
    """1000 + 2 + 50 to the millimetre, and a millimetre less."""
    assert solved(tmp_path, WITH_SAW + piece() + stock(length=1052)).problems == ()
    assert solved(tmp_path, WITH_SAW + piece() + stock(length=1051)).problems == (
        "A: needs a bar of 1052 mm, the longest of RHS 80x40x3 is 1051 mm",
    )


def test_the_pieces_of_frames_are_nested_too(tmp_path: Path) -> None:
    """Two frames of 800 x 600, 45 degrees all round, tube 40 wide: eight sides share kerfs of 2 sqrt 2 all along the
    bar, 4 * (760 + 560) + 8 * 2.83 + 20 + 20 mm on the centerline."""
    frame = (
        '[[frame]]\nmark = "F"\nshape = "rectangle"\nsection = "RHS 80x40x3"\n'
        'width = 800\nheight = 600\nmeasured = "outside"\nquantity = 2\n'
    )
    need = 4 * (760 + 560) + 8 * 2 * 2**0.5 + 20 + 20
    plan = solved(tmp_path, HEAD + frame + stock(length=need + 0.01) + "[nest]\nkerf = 2\n").plan
    assert plan is not None
    (bar,) = plan.bars
    assert sorted(placed.mark for placed in bar.pieces) == ["F-1"] * 4 + ["F-2"] * 4
    assert bar.drop == pytest.approx(20.01, abs=1e-6)


def test_a_turn_of_the_job_reaches_the_plan(tmp_path: Path) -> None:
    more = 'left = 45\nright = 45\nquantity = 3\nturn = ["as-drawn"]'
    plan = solved(tmp_path, HEAD + piece(more=more) + stock() + "[nest]\nkerf = 2\n").plan
    assert plan is not None
    assert {placed.pose for placed in plan.bars[0].pieces} == {"as-drawn"}


def test_everything_in_the_way_is_told_at_once(tmp_path: Path) -> None:
    """The angle's left +70 asks for 70 to the discharge side, where the arm goes to 45, or with the bar laid over to
    the feed side, where it goes to 60; 9000 is longer than the bar.
    """
    text = (
        WITH_SAW
        + piece("A", "L 50x50x5", "left = 70\nright = -70")
        + piece("B", length=9000)
        + stock()
        + stock("L 50x50x5")
    )
    says = "needs a swing of 70.00 degrees to the discharge side, where the arm goes to 45"
    lays = "no lay in which it lies safely makes this cut"
    assert solved(tmp_path, text).problems == (
        f"A, left end: {says}",
        f"A, left end: {lays}",
        f"A, right end: {says}",
        f"A, right end: {lays}",
        "B: needs a bar of 9052 mm, the longest of RHS 80x40x3 is 6000 mm",
    )


def test_what_is_in_the_way_is_told_by_code_and_number(tmp_path: Path) -> None:
    """The same job as one more program reads it: 9000 and the grip of 50 and the kerf of 2 on a bar of 6000."""
    text = WITH_SAW + piece("A", "L 50x50x5", "left = 70") + piece("B", length=9000) + stock() + stock("L 50x50x5")
    swing, lay, long = of_solution(solved(tmp_path, text))["found"]
    where = {"mark": "A", "end": "left", "cut": 1, "more": []}
    assert swing == {**where, "code": "swing", "numbers": {"have_deg": 45.0, "need_deg": 70.0}}
    assert lay == {**where, "code": "no-lay", "numbers": {}}
    assert long == {
        "mark": "B",
        "end": "",
        "cut": 0,
        "more": [],
        "code": "too-long",
        "numbers": {"have_mm": 6000.0, "need_mm": pytest.approx(9052.0)},
    }


ALIKE = (
    (piece("A", length=5000) + piece("A, B", length=9000), ("A, B",)),
    (piece("A", length=9000) + piece("A, B", length=5000), ("A",)),
    (piece("A", length=5000) + piece("A: B", length=9000) + piece("AB", length=5000), ("A: B",)),
)
"""Pieces on bars of 6000, and the marks of those that are longer."""


@pytest.mark.parametrize(("pieces", "marks"), ALIKE)
def test_a_mark_is_not_blamed_for_another_that_begins_like_it(
    tmp_path: Path, pieces: str, marks: tuple[str, ...]
) -> None:
    solution = solved(tmp_path, HEAD + pieces + stock() + "[nest]\nkerf = 2\n")
    assert solution.problem_marks == marks
    assert of_solution(solution)["problem_marks"] == list(marks)


def test_a_bar_that_is_too_short_is_told_in_the_units_of_the_job(tmp_path: Path) -> None:
    """100 inches and the kerf of 1/8 that parts it, no trim before it, on a bar of 96."""
    inches = HEAD + 'units = "in"\n' + piece(length=100) + stock(length=96) + "[nest]\nkerf = 0.125\n"
    assert solved(tmp_path, inches).problems == ('A: needs a bar of 100.125", the longest of RHS 80x40x3 is 96.000"',)
