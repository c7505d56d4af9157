"""The values of the cut sheet, held against the gate's drawing and against every cut of the plan, one by one."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import atan2, degrees, sqrt

import attrs
import pytest

from mitertool.job import Solution
from mitertool.packet.floor.alike import together
from mitertool.packet.floor.made import floor_of
from mitertool.packet.floor.readings import beside_a_line
from mitertool.packet.floor.values import CutRow, FloorSheet, Loop, Reading
from mitertool.packet.pages.sheet import figures
from tests.packet.jobs import GALLERY, JOBS

SolutionOf = Callable[[str], Solution]


@pytest.mark.parametrize(
    ("reading", "division", "line", "tenths"),
    [
        (123.6, 0.5, 123.5, 2),  # 0.1 of 0.5 degrees past a line
        (123.69, 0.5, 123.5, 4),  # 0.19 / 0.5 = 0.38
        (126.87, 0.5, 127.0, -3),  # 0.13 / 0.5 = 0.26 short
        (135.0, 0.5, 135.0, 0),
        (22.4, 0.25, 22.5, -4),
        (-3.1, 1.0, -3.0, 1),  # further from zero than its line
        (-44.6, 0.5, -44.5, 2),
        (0.04, 1.0, 0.0, 0),
    ],
)
def test_a_reading_in_the_lines_of_the_scale(reading: float, division: float, line: float, tenths: int) -> None:
    assert beside_a_line(reading, division) == (pytest.approx(line), tenths)


@pytest.fixture(scope="module")
def gate(solution_of: SolutionOf) -> FloorSheet:
    return floor_of(solution_of("boathouse-gate"))


def test_the_gate_in_the_order_of_cutting(gate: FloorSheet) -> None:
    assert [row.mark for row in gate.pieces] == list(
        dict.fromkeys(row.mark for bar in gate.bars for row in bar.rows if row.mark)
    )
    assert {row.mark: row.solved.quantity for row in gate.pieces} == {
        **dict.fromkeys(("LEAF-1", "LEAF-2", "PANEL-1", "PANEL-2", "STAY", "STRAP"), 4)
    }


def test_the_stay_of_the_gate_by_hand(gate: FloorSheet) -> None:
    """A slope of 3:4 is 36.87 degrees from square, and 110 degrees of corner are 35: the scale is square at 90.

    Every other one lies end for end, so that its ends are cut in the other order.
    """
    stay = next(row for row in gate.pieces if row.mark == "STAY")
    one, other = stay.cut
    assert (one.left, one.right) == (other.right, other.left)
    left, right = sorted((one.left, one.right), key=lambda end: -end.degrees)
    assert left.square == pytest.approx(degrees(atan2(3, 4)))
    assert (left.line, left.tenths, left.arm) == (127.0, -3, "feed")
    assert (right.degrees, right.line, right.tenths) == (pytest.approx(125.0), 125.0, 0)


def test_the_strap_of_the_gate_is_keyed_by_its_side_and_one_kerf(gate: FloorSheet) -> None:
    """Parallel cuts at 45 degrees: 1060, and the kerf of 1.23 at the angle, less the kerf that the control adds."""
    row = next(row for bar in gate.bars for row in bar.rows if row.mark == "STRAP")
    assert row.key == pytest.approx(1060 + 1.23 * sqrt(2) - 1.23)
    assert (row.by_hand, row.turn, row.sets) == (False, None, False)
    assert len(row.numbers) == 4


def test_what_the_scale_cannot_hold_is_proved(gate: FloorSheet) -> None:
    """Both ends of a corner out by a division of 0.5: 1 degree, where ISO 13920-B allows 20 to 45 minutes.

    The rails of both frames are longer than 400 mm but the panel's, whose corners have 30 minutes; the stays and the
    straps are cut by themselves, within what the class allows a leg of their width.
    """
    assert set(gate.proved) == {"LEAF-1", "LEAF-2", "PANEL-1", "PANEL-2"}
    leaf = next(bar for bar in gate.bars if any(row.mark == "LEAF-1" for row in bar.rows))
    proof = next(row.proof for row in leaf.rows if row.proof)
    assert (proof.square, proof.allowed) == (pytest.approx(45.0), pytest.approx(20 / 60 / 2))


@pytest.mark.parametrize("name", JOBS)
def test_every_cut_stands_in_one_row(solution_of: SolutionOf, name: str) -> None:
    solution = solution_of(name)
    for work in floor_of(solution).bars:
        numbers = sorted(number for row in work.rows for number in row.numbers)
        if work.run is not None:
            assert numbers == [tape.number for tape in work.tapes] == list(range(1, len(work.run.bar.cuts) + 1))
            made = {number: row.mark for row in work.rows for number in row.numbers if row.mark}
            assert [made[number] for number in sorted(made)] == [placed.mark for placed in work.run.bar.pieces]


@pytest.mark.parametrize("name", GALLERY)
def test_the_first_piece_of_every_mark_is_measured_once(solution_of: SolutionOf, name: str) -> None:
    floor = floor_of(solution_of(name))
    marks = [row.first.mark for bar in floor.bars for row in bar.rows if row.first]
    assert sorted(marks) == sorted(row.mark for row in floor.pieces if row.bars)


@pytest.mark.parametrize("name", GALLERY)
def test_arm_and_blade_stand_as_the_rows_leave_them(solution_of: SolutionOf, name: str) -> None:
    """Rows worked off by their numbers: where nothing is set, the reading is the one before, over bars as well."""
    floor = floor_of(solution_of(name))
    if floor.saw is None:
        return
    stood: Reading | None = None
    for bar in floor.bars:
        by_number = {number: row for row in bar.rows for number in row.numbers}
        for number in sorted(by_number):
            row = by_number[number]
            if not row.sets:
                assert stood is not None
                assert (row.reading.degrees, row.reading.tilt) == (
                    pytest.approx(stood.degrees),
                    pytest.approx(stood.tilt),
                )
            stood = row.reading


@pytest.mark.parametrize("name", GALLERY)
def test_a_bar_says_as_another_only_of_the_same_settings_and_lay(solution_of: SolutionOf, name: str) -> None:
    bars = {bar.number: bar for bar in floor_of(solution_of(name)).bars}
    for bar in bars.values():
        if bar.told_in:
            assert bar.told_in < bar.number
            told = bars[bar.told_in].settings
            assert bars[bar.told_in].section.looks_like(bar.section)
            assert {setting.number for setting in bar.settings} <= {setting.number for setting in told}


def _row(number: int, mark: str) -> CutRow:
    return CutRow((number,), "piece", mark, Reading(90.0, 90.0, 0, "", "square", 0.0, 0.0), sets=False)


def test_alike_in_a_row_and_in_turn() -> None:
    """A trim, two pairs that alternate three times, then three alike: cut numbers by hand."""
    marks = ["", "A", "B", "A", "B", "A", "B", "C", "C", "C"]
    rows, loops = together([_row(number, mark) for number, mark in enumerate(marks, 1)])
    assert [(row.mark, row.numbers) for row in rows] == [
        ("", (1,)),
        ("A", (2, 4, 6)),
        ("B", (3, 5, 7)),
        ("C", (8, 9, 10)),
    ]
    assert loops == (Loop(1, 3, 3),)


def test_what_differs_stands_apart() -> None:
    one, two = _row(1, "A"), _row(2, "A")
    for other in (
        attrs.evolve(two, key=10.0),
        attrs.evolve(two, sets=True),
        attrs.evolve(two, mark="B"),
        attrs.evolve(two, reading=attrs.evolve(two.reading, degrees=91.0)),
    ):
        assert len(together([one, other])[0]) == 2
    assert len(together([one, two])[0]) == 1


def test_marks_that_are_refused_for_one_reason_stand_together(solution_of: SolutionOf) -> None:
    """Twelve marks that want 70 degrees of an arm that goes to 60."""
    refused = floor_of(solution_of("many not to be made")).refused
    swings = [one for one in refused if one.problem.code == "swing"]
    assert [len(one.marks) for one in swings] == [12]


@pytest.mark.parametrize("name", GALLERY)
def test_bars_to_fetch_are_those_of_the_plan(solution_of: SolutionOf, name: str) -> None:
    solution = solution_of(name)
    floor = floor_of(solution)
    assert solution.plan
    assert sum(one.count for one in floor.fetch) == sum(bar.count for bar in solution.plan.bars) == floor.totals.bars
    order = [(bar.section.name, bar.grade) for bar in solution.plan.bars]
    kinds = [(one.section, one.grade) for one in floor.fetch]
    assert all(order.index(a) <= order.index(b) for a, b in pairwise(kinds))


@pytest.mark.parametrize("name", JOBS)
def test_a_blade_that_was_tilted_is_told_to_stand_upright_again(name: str, solution_of: SolutionOf) -> None:
    """Every cut set upright behind a tilted one, and the first of a job, for nobody knows how the blade then stands."""
    solution = solution_of(name)
    can, floor = solution.job.saw is not None and solution.job.saw.tilt is not None, floor_of(solution)
    told, tilted = [], can
    for bar in floor.bars if solution.plan else ():
        for row in (*bar.rows, *(one.row for one in floor.second_ends if one.after == bar.number)):
            told.append((row.reading.comes_back, can and tilted and row.reading.tilt == 0))
            tilted = row.reading.tilt != 0
    assert [says for says, _ in told] == [due for _, due in told]


def test_the_hatch_comes_back_upright_once(solution_of: SolutionOf) -> None:
    """Its bearers are cut first, tilted by 15; the sills after them are not."""
    bars = floor_of(solution_of("hatch-frame")).bars
    assert [bar.number for bar in bars for row in bar.rows if row.reading.comes_back] == [2]
    assert figures.tilt_figure(bars[1].rows[0].reading)[0] == "tilt 0°"
