"""Plans worked by hand, and every reason why there is none.

A tube 40 wide, slopes of 3/4 (sec = 5/4), kerf 2, trim 10, grip 50: a piece's first cut stands at 10 + 15, a shared
kerf takes 2.5, the last cut 15 + 2.5 (the first cut clears the raw end, the last kerf lies on the bar). 1e-9 mm is left
for the rounding of angles made from slopes.
"""

from __future__ import annotations

import pytest

import mitertool as mt
from mitertool.base.errors import BadInput, CannotMake
from mitertool.nest import Allowance, Item, Plan, Stock
from tests.nest.bar_by_bar import solve

TUBE = mt.rect_tube(40, 80, 3).named("tube", "made up")
LEG = mt.angle(40, 40, 4).named("leg", "made up")
ALLOWANCE = Allowance(kerf=2, trim=10, grip=50)


def item(
    mark: str = "A",
    slopes: tuple[float, float] = (0.75, 0.75),
    quantity: int = 1,
    section: mt.Section = TUBE,
    centerline: float = 200,
    grade: str = "",
    turn: tuple[str, ...] = (),
) -> Item:
    left, right = (mt.Cut.from_slopes(slope, 0) for slope in slopes)
    return Item(mark, mt.Piece(section, centerline, left, right, at="centerline"), quantity, grade, turn)


def near(value: float) -> object:
    return pytest.approx(value, abs=1e-9)


def test_two_frame_sides_share_a_kerf_when_one_is_turned() -> None:
    """25, then 225 + 2.5; the drop is 1000 - 427.5 - 2.5. The arm goes -3/4, +3/4, -3/4: two swings."""
    plan = solve([item(quantity=2)], [Stock("tube", 1000)], ALLOWANCE)
    (bar,) = plan.bars
    assert [placed.at for placed in bar.pieces] == near_all(25, 227.5)
    assert bar.pieces[0].pose != bar.pieces[1].pose
    assert (bar.stock_length, bar.count, bar.drop, bar.swings) == (1000, 1, near(570), 2)
    assert (plan.cost, plan.lower_bound, plan.proved, plan.swings) == (1000, 1000, True, 2)


def near_all(*values: float) -> object:
    return pytest.approx(values, abs=1e-9)


def test_an_angle_cannot_be_turned_so_its_sides_take_a_wedge() -> None:
    """Two kerfs of 2.5 and a wedge of 1.5 * 20: 225 + 35. The arm goes -3/4, +3/4, -3/4, +3/4."""
    plan = solve([item(section=LEG, quantity=2)], [Stock("leg", 1000)], ALLOWANCE)
    (bar,) = plan.bars
    assert [placed.at for placed in bar.pieces] == near_all(25, 260)
    assert {placed.pose for placed in bar.pieces} == {"as-drawn"}
    assert (bar.drop, bar.swings) == (near(1000 - 460 - 2.5), 3)


def test_a_mark_that_may_not_be_turned_is_not() -> None:
    plan = solve([item(quantity=2, turn=("as-drawn",))], [Stock("tube", 1000)], ALLOWANCE)
    assert [placed.pose for placed in plan.bars[0].pieces] == ["as-drawn"] * 2
    assert [placed.at for placed in plan.bars[0].pieces] == near_all(25, 260)


@pytest.mark.parametrize(("length", "bars"), [(495, 1), (494.99, 2)])
def test_a_bar_is_filled_to_its_grip(length: float, bars: int) -> None:
    """10 + 15 + 200 + 2.5 + 200 + 15 + 2.5 + 50 = 495."""
    plan = solve([item(quantity=2)], [Stock("tube", length)], ALLOWANCE)
    assert sum(bar.count for bar in plan.bars) == bars


def test_bars_cut_alike_are_counted_together() -> None:
    plan = solve([item(quantity=6)], [Stock("tube", 500)], ALLOWANCE)
    assert [(bar.count, len(bar.pieces)) for bar in plan.bars] == [(3, 2)]
    assert (plan.cost, plan.lower_bound, plan.proved) == (1500, 1500, True)


def test_the_arm_stays_where_it_is_between_bars() -> None:
    """Each bar ends at -3/4, where the next one starts: two swings a bar and none between."""
    plan = solve([item(quantity=6)], [Stock("tube", 500)], ALLOWANCE)
    assert (plan.bars[0].swings, plan.swings) == (2, 6)


def test_the_cheaper_bar_goes_first_while_it_lasts() -> None:
    stock = [Stock("tube", 500), Stock("tube", 500, quantity=1, cost=0)]
    plan = solve([item(quantity=4)], stock, ALLOWANCE)
    assert sum(bar.count for bar in plan.bars) == 2
    assert plan.cost == 500
    assert plan.lower_bound <= plan.cost


def test_grades_and_sections_never_mix() -> None:
    items = [item("A", grade="S235"), item("B", grade="S355"), item("C", section=LEG)]
    stock = [Stock("tube", 1000, "S235"), Stock("tube", 1000, "S355"), Stock("leg", 1000)]
    plan = solve(items, stock, ALLOWANCE)
    found = sorted((bar.pieces[0].mark, bar.section.name, bar.grade, len(bar.pieces)) for bar in plan.bars)
    assert found == [("A", "tube", "S235", 1), ("B", "tube", "S355", 1), ("C", "leg", "", 1)]


def test_one_section_in_two_lays_shares_bars_and_stock() -> None:
    """Square ends are the same however the bar is rolled: one bar, 10 + 200 + 2 + 200 + 2, without a set-up. With
    slopes of 3/4 the other lay leans by what the first is wide: 80 high, so 30 of wedge less 15 of the first's."""
    items = [item("A", (0, 0)), item("B", (0, 0), section=TUBE.lay(90))]
    plan = solve(items, [Stock("tube", 1000, quantity=1)], ALLOWANCE)
    assert [(len(bar.pieces), bar.drop) for bar in plan.bars] == [(2, near(1000 - 414))]
    assert (plan.setups, plan.cost) == (0, 1000)


def test_a_change_of_lay_is_a_roll() -> None:
    """A parallelogram of 3/4 lying on its side and one standing: two slants at the arm's one setting, the bar rolled a
    quarter between them. Their cuts are apart by half of 3/4 of both sizes, 15 + 30, and two kerfs of 2.5."""
    items = [item("A", (0.75, -0.75)), item("B", (0.75, -0.75), section=TUBE.lay(90))]
    plan = solve(items, [Stock("tube", 1000)], ALLOWANCE)
    (bar,) = plan.bars
    assert (plan.swings, plan.rolls) == (0, 1)
    assert sorted(abs(piece.lay) for piece in bar.pieces) == [0, 90]
    assert bar.pieces[1].at - bar.pieces[0].at == near(200 + 2.5 + 45 + 2.5)


REASONS = [
    # 10 + 15 + 200 + 15 + 2.5 + 50
    ([item()], [Stock("tube", 292.4)], ["A: needs a bar of 292.5 mm, the longest of tube is 292.4 mm"]),
    (
        [item("A"), item("B", centerline=2000), item("C", (0, 0), centerline=1000)],
        [Stock("tube", 900), Stock("tube", 800)],
        [
            "B: needs a bar of 2092.5 mm, the longest of tube is 900 mm",
            "C: needs a bar of 1062 mm, the longest of tube is 900 mm",
        ],
    ),
    ([item(quantity=5)], [Stock("tube", 500, quantity=2)], ["A: 1 more do not fit the bars of tube in stock"]),
    ([item()], [Stock("tube", 500, quantity=0)], ["A: 1 more do not fit the bars of tube in stock"]),
    ([item()], [], ["A: no stock of tube is given"]),
    ([item(grade="S355")], [Stock("tube", 500, "S235")], ["A: no stock of tube S355 is given"]),
    (
        [item("A", section=LEG), item("B", centerline=900)],
        [Stock("tube", 500)],
        ["A: no stock of leg is given", "B: needs a bar of 992.5 mm, the longest of tube is 500 mm"],
    ),
]


@pytest.mark.parametrize(("items", "stock", "says"), REASONS)
def test_every_reason_is_told(items: list[Item], stock: list[Stock], says: list[str]) -> None:
    with pytest.raises(CannotMake) as caught:
        solve(items, stock, ALLOWANCE)
    assert sorted(caught.value.reasons) == says
    assert caught.value.exit_code == 1


def test_a_pose_that_the_section_does_not_allow_is_refused() -> None:
    with pytest.raises(BadInput, match=r"^A, turn: found 'rolled'; its section allows as-drawn$"):
        solve([item(section=LEG, turn=("rolled",))], [Stock("leg", 1000)], ALLOWANCE)


def square_cuts(sizes: list[float], demand: list[int], length: float, kerf: float) -> Plan:
    items = [item(str(i), (0, 0), n, centerline=size) for i, (size, n) in enumerate(zip(sizes, demand, strict=True))]
    return solve(items, [Stock("tube", length)], Allowance(kerf))


def test_the_false_optimum_of_the_area_is_not_taken() -> None:
    """47 rolls of 110 are best, the area alone allows 45, the linear bound 46.25 gives 47: Fourer, Gay, Kernighan,
    AMPL, data of the roll-trim model (optimum by two solvers)."""
    plan = square_cuts([20, 45, 50, 55, 75], [48, 35, 24, 10, 8], 110, 0)
    assert (plan.cost, plan.lower_bound, plan.proved) == (47 * 110, 47 * 110, True)
    assert [bound.how for bound in plan.bounds] == ["prices"]


def test_six_metre_bars() -> None:
    """8 bars of 6000 with a kerf of 3 (made up; kerf modelled as (6000 + 3)/(length + 3); optimum by two solvers). Here
    the last piece's kerf must lie on the bar too; 8 bars still hold."""
    plan = square_cuts([1800, 1200, 950, 640], [8, 11, 9, 14], 6000, 3)
    assert (plan.cost, plan.proved) == (8 * 6000, True)
