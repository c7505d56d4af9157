"""Running positions, buying list, work that is done, alternatives, stopping early; worked by hand.

A tube 40 wide, slopes of 3/4 (sec = 5/4), kerf 2, trim 10, grip 50.
"""

from __future__ import annotations

import subprocess
import sys
from itertools import pairwise

import pytest

import mitertool as mt
from mitertool.base.errors import BadInput, CannotMake
from mitertool.nest import Allowance, Done, Item, Plan, Rates, Stock, buying_list, compare
from tests.nest.bar_by_bar import solve
from tests.nest.instances import DATA, load
from tests.nest.plan_checker import faults

TUBE = mt.rect_tube(40, 80, 3).named("tube", "")
LEG = mt.angle(40, 40, 4).named("leg", "")
ALLOWANCE = Allowance(2, 10, 50)


def item(mark: str = "A", quantity: int = 1, section: mt.Section = TUBE, slopes: tuple[float, float] = (0.75, 0.75),
         length: float = 200) -> Item:  # fmt: skip
    left, right = (mt.Cut.from_slopes(slope, 0) for slope in slopes)
    return Item(mark, mt.Piece(section, length, left, right, at="centerline"), quantity)


def test_running_positions() -> None:
    """Cuts at 25 (kerf before it), 225 (shared, kerf after it) and 427.5; the sides lie 15 before and behind."""
    (bar,) = solve([item(quantity=2)], [Stock("tube", 1000)], ALLOWANCE).bars
    assert [cut.at for cut in bar.cuts] == pytest.approx([25, 225, 427.5])
    assert [(cut.kerf_from, cut.kerf_to) for cut in bar.cuts] == [
        pytest.approx(pair) for pair in ((22.5, 25), (225, 227.5), (427.5, 430))
    ]
    assert [cut.shared for cut in bar.cuts] == [False, True, False]
    assert [abs(cut.moving - cut.fixed) for cut in bar.cuts] == pytest.approx([30, 30, 30])
    assert all((cut.fixed + cut.moving) / 2 == pytest.approx(cut.at) for cut in bar.cuts)


def test_two_cuts_and_a_wedge_between_pieces_that_share_none() -> None:
    """An angle lies one way: 225, then 260 with its kerf before it."""
    (bar,) = solve([item(quantity=2, section=LEG)], [Stock("leg", 1000)], ALLOWANCE).bars
    assert [(cut.at, cut.kerf_from, cut.kerf_to) for cut in bar.cuts[1:3]] == [
        pytest.approx((225, 225, 227.5)),
        pytest.approx((260, 257.5, 260)),
    ]


def test_the_steel_of_a_bar() -> None:
    """1000 = 400 of pieces, kerfs of 2.5 + 2.5 + 2.5 + 2.5 less the first (in the trim), wedges of 15 and 30, trim 10,
    grip 50, and a drop of 1000 - 462.5 - 50."""
    steel = solve([item(quantity=2, section=LEG)], [Stock("leg", 1000)], ALLOWANCE).steel
    assert (steel.bought, steel.pieces, steel.trim, steel.grip) == pytest.approx((1000, 400, 10, 50))
    assert (steel.kerf, steel.wedges, steel.drops) == pytest.approx((7.5, 45, 487.5))


def test_what_tip_to_tip_would_cost() -> None:
    """Tip to tip a side takes 15 + 200 + 15 + 2.5 = 232.5; three are 697.5, so a bar with 690 of room takes two."""
    plan = solve([item(quantity=6)], [Stock("tube", 750)], ALLOWANCE)
    assert (plan.cost, plan.tip_to_tip) == (2 * 750, 3 * 750)


def test_buying_list() -> None:
    """Mass: the area of the section, 7850 kg/m3."""
    stock = [Stock("tube", 500, cost=12.0), Stock("leg", 1000, cost=9.0)]
    rows = buying_list(solve([item(quantity=6), item("B", section=LEG)], stock, ALLOWANCE))
    assert [(r.section, r.length, r.count, r.cost) for r in rows] == [("leg", 1000, 1, 9), ("tube", 500, 3, 36)]
    assert rows[1].mass == pytest.approx(TUBE.area * 1500 * 7850e-9)


def test_what_is_done_is_not_planned_again() -> None:
    """Four of six are good, one bar of the two in stock is gone and 480 of it is left for nothing. A pair takes 427.5 +
    15 + 2.5 + 50 = 495, so a bar of 500 is needed either way, and both on it share a cut; where no bar is left but two
    of 480, one piece goes on each."""
    done = Done({"A": 4}, (Stock("tube", 500),), (Stock("tube", 480),))
    plan = solve([item(quantity=6)], [Stock("tube", 500, quantity=2)], ALLOWANCE, done=done)
    assert sorted((bar.stock_length, len(bar.pieces), bar.price) for bar in plan.bars) == [(500, 2, 500)]
    none_left = Done({"A": 4}, (Stock("tube", 500, quantity=2),), (Stock("tube", 480, quantity=2),))
    plan = solve([item(quantity=6)], [Stock("tube", 500, quantity=2)], ALLOWANCE, done=none_left)
    assert [(bar.stock_length, len(bar.pieces), bar.price) for bar in plan.bars for _ in range(bar.count)] == [
        (480, 1, 0)
    ] * 2


def test_all_done() -> None:
    plan = solve([item(quantity=6)], [Stock("tube", 500)], ALLOWANCE, done=Done({"A": 6}))
    assert (plan.bars, plan.cost, plan.proved) == ((), 0, True)


@pytest.mark.parametrize(
    ("done", "says"),
    [
        (Done({"B": 1}), "done, mark: found 'B'; the job has A"),
        (Done({"A": 7}), "done, A: found 7; allowed: 0 to 6, as many as the job asks for"),
        (Done(used=(Stock("tube", 500, quantity=3),)), "1 of tube 500 mm more than there were"),
        (Done(used=(Stock("tube", 400),)), "1 of tube 400 mm more than there were"),
    ],
)
def test_what_cannot_be_done_is_refused(done: Done, says: str) -> None:
    with pytest.raises(BadInput) as caught:
        solve([item(quantity=6)], [Stock("tube", 500, quantity=2)], ALLOWANCE, done=done)
    assert says in str(caught.value)


def test_alternatives() -> None:
    """Sides of 200 with 3/4 at both ends: as blanks, parallel, 200 + 2.5 + 30 long; one setting makes all of them, for
    a blank is laid half a turn over for its recut: 6000 of steel, where bar by bar five cuts more are swung to."""
    found = compare([item(quantity=6)], [Stock("tube", 6000, cost=6000)], ALLOWANCE, rates=Rates(6, 2, 60))
    assert [one.name for one in found] == ["chosen", "bar by bar", "by setting", "least steel", "fewest set-ups"]
    chosen, by_bar, together, _, fewest = found
    assert (by_bar.cuts, by_bar.recuts, by_bar.swings + by_bar.rolls) == (7, 0, 6)
    assert (together.cuts, together.recuts, together.swings, together.rolls) == (7 + 6, 6, 0, 0)
    assert (together.minutes, together.money) == (0, 6000)
    assert (chosen.way, chosen.money, fewest.setups) == ("by setting", 6000, 0)


def test_blanks_that_no_bar_takes_are_left_out() -> None:
    """A piece needs 292.5 of a bar, its blank 325."""
    found = compare([item()], [Stock("tube", 300)], ALLOWANCE)
    assert [one.name for one in found] == ["chosen", "bar by bar", "least steel", "fewest set-ups"]
    assert all(one.minutes is None and one.money is None for one in found)


HARD = load(DATA / "shop_angle_I.json")


def hard(**terms: object) -> Plan:
    return solve(HARD.items, HARD.stock, HARD.allowance, **terms)  # type: ignore[arg-type]


def test_progress_gets_better_and_goes_on_while_ways_are_looked_for_and_weighed() -> None:
    """After the last bars that are better it is told at least twenty times, up to nearly all that is to be done."""
    seen: list[tuple[float, float, float]] = []
    plan = hard(progress=lambda *so_far: seen.append(so_far))
    assert all(a >= d and b <= e and c <= f for (a, b, c), (d, e, f) in pairwise(seen))
    assert seen[-1][:2] == (plan.cost, plan.lower_bound)
    late = [share for cost, bound, share in seen if (cost, bound) == seen[-1][:2]]
    assert len(set(late)) >= 20
    assert 0.8 < late[-1] <= 1


def test_progress_tells_of_all_sections_together() -> None:
    """Two tubes of 500 or more for six of 200, and as many legs: no part of that is told as if it were all."""
    seen: list[float] = []
    two = [item("A", 6), item("B", 6, LEG)]
    plan = solve(two, [Stock("tube", 500), Stock("leg", 500)], ALLOWANCE, progress=lambda cost, *_: seen.append(cost))
    assert seen and min(seen) == plan.cost >= 4 * 500


@pytest.mark.parametrize("share", [0.0, 0.45, 0.81])
def test_ctrl_c_gives_the_best_plan_so_far(share: float) -> None:
    """While bars are searched, while other ways are, and while these are weighed."""

    def stop(_cost: float, _bound: float, done: float) -> None:
        if done >= share:
            raise KeyboardInterrupt

    plan = hard(progress=stop)
    assert (plan.stopped, plan.proved) == ("interrupted", plan.cost <= plan.lower_bound)
    assert faults(plan, HARD.marks, HARD.stock, HARD.allowance) == []


@pytest.mark.parametrize(("terms", "why"), [({"time_limit": 0.0}, "time"), ({"effort": 0.0}, "effort")])
def test_a_limit_gives_the_best_plan_so_far(terms: dict[str, float], why: str) -> None:
    plan = hard(**terms)
    assert (plan.stopped, plan.proved) == (why, False)
    assert faults(plan, HARD.marks, HARD.stock, HARD.allowance) == []


def test_the_same_effort_gives_the_same_plan() -> None:
    assert hard(effort=0.2) == hard(effort=0.2)


def test_nothing_is_printed() -> None:
    text = (
        "from tests.nest.instances import DATA, load; from mitertool.nest import solve;"
        "i = load(DATA / 'trip60_1.json'); solve(i.items, i.stock, i.allowance)"
    )
    run = subprocess.run([sys.executable, "-c", text], capture_output=True, check=True, cwd=DATA.parents[2])
    assert (run.stdout, run.stderr) == (b"", b"")


def test_stock_that_cannot_cover_is_told_by_mark() -> None:
    with pytest.raises(CannotMake) as caught:
        solve([item(quantity=5), item("B", 2)], [Stock("tube", 500, quantity=2)], ALLOWANCE)
    assert sorted(caught.value.reasons) == [
        "A: 1 more do not fit the bars of tube in stock",
        "B: 2 more do not fit the bars of tube in stock",
    ]
