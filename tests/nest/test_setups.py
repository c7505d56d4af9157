"""Set-ups over the whole order of work, rates, and an arm that swings one way; worked by hand.

A tube 40 wide; a frame side is a trapezoid (slopes -1, +1 on the bar, or turned +1, -1), so a bar of n sides that share
their cuts swings n times and ends at -1 again where n is even.
"""

from __future__ import annotations

import attrs
import pytest

import mitertool as mt
from mitertool.bar import Angles, BarCut
from mitertool.bar.ways import Changes
from mitertool.base.errors import BadInput
from mitertool.nest import Allowance, ArmLimits, Item, Rates, Stock, swings_from_square
from mitertool.nest.setups import Laying, Settings, SetUpPrices
from mitertool.saw import Scale
from mitertool.saw.file.machine import Tilt
from mitertool.saw.setting.asked import Asked
from tests.nest.bar_by_bar import solve

TUBE = mt.rect_tube(40, 40, 3).named("tube", "")
LEG = mt.angle(40, 40, 4).named("leg", "")
ALLOWANCE = Allowance(2, 10, 50)
ONE_WAY = ArmLimits(feed_side_most=60, discharge_side_most=0)


def test_what_a_step_costs() -> None:
    """Prices of 3, 5 and 7: a swing and a tilt are 8; a roll of a bar too heavy for it costs more than all work."""
    prices, both, roll = SetUpPrices(3, 5, 7), Changes(swings=1, tilts=1), Changes(rolls=1)
    light, heavy = Laying(((Angles(),),)), Laying(((Angles(),),), heavy=True)
    assert (light.step(both, prices), light.step(roll, prices), light.step(Changes(), prices)) == (8, 7, 0)
    assert (heavy.step(both, prices), heavy.step(Changes(), prices)) == (8, 0)
    assert heavy.step(roll, prices) > 1000 * 7


def test_a_bar_is_cut_half_over_only_where_it_lies_safely_so() -> None:
    """An angle on its leg stands on its toes half over. Rolled so that its heel lies at the upper left, half over
    brings the heel to the lower right, where it lies on a leg: that one is cut either way."""
    settings, cut = Settings(ArmLimits(60, 60)), BarCut(mt.Cut(30))
    (heel_up,) = (
        roll
        for roll in (90.0, -90.0)
        if LEG.lay(-roll).centroid[0] < LEG.width / 2 and LEG.lay(-roll).centroid[1] > LEG.height / 2
    )
    assert [one.roll for one in settings.made(cut, LEG)] == [0.0]
    assert sorted(one.roll for one in settings.made(cut, LEG, heel_up)) == [-90.0, 90.0]


def sides(quantity: int, section: mt.Section = TUBE, left: float = 45, right: float = 45) -> Item:
    return Item("A", mt.Piece(section, 300, mt.Cut(left), mt.Cut(right), at="centerline"), quantity)


def test_bars_of_an_odd_number_of_sides_are_turned_in_turn() -> None:
    """Bars of 3 sides: 3 swings each; the next bar is laid the other way and starts where the arm stands."""
    plan = solve([sides(12)], [Stock("tube", 1100)], ALLOWANCE)
    assert [len(bar.pieces) for bar in plan.bars for _ in range(bar.count)] == [3, 3, 3, 3]
    assert (plan.swings, plan.setups_bound, plan.rolls) == (12, 12, 0)
    assert swings_from_square(plan.bars) == 4 * (3 + 2)


def test_the_arm_stays_from_one_section_to_the_next() -> None:
    """Three sides of each: three swings, and the second bar starts where the first one ended."""
    wide = mt.rect_tube(60, 60, 3).named("wide", "")
    other = Item("B", mt.Piece(wide, 300, mt.Cut(45), mt.Cut(45), at="centerline"), 3)
    plan = solve([sides(3), other], [Stock("tube", 1100), Stock("wide", 1200)], ALLOWANCE)
    assert (len(plan.bars), plan.swings) == (2, 6)


def test_pieces_whose_cuts_are_not_parallel_bound_the_set_ups() -> None:
    """Two parallelograms and three sides: three set-ups at the least."""
    slanted = Item("B", mt.Piece(TUBE, 300, mt.Cut(45), mt.Cut(-45), at="centerline"), 2)
    plan = solve([sides(3), slanted], [Stock("tube", 6000)], ALLOWANCE)
    assert (plan.swings, plan.setups_bound) == (3, 3)


def test_a_one_way_arm_rolls_the_bar_instead() -> None:
    """Slopes -1, +1, -1: the arm stays at 45, the bar is rolled twice."""
    plan = solve([sides(2)], [Stock("tube", 1000)], ALLOWANCE, arm=ONE_WAY)
    (bar,) = plan.bars
    assert (plan.swings, plan.rolls, bar.swings, bar.rolls) == (0, 2, 0, 2)
    assert {round(cut.swing, 9) for cut in bar.cuts} == {45.0}
    assert len({cut.roll for cut in bar.cuts}) == 2
    assert plan.setups == 2


def test_a_new_bar_is_laid_in_rolled_at_no_cost() -> None:
    """One side a bar: between its cuts one roll, between bars none."""
    plan = solve([sides(3)], [Stock("tube", 500)], ALLOWANCE, arm=ONE_WAY)
    assert (plan.swings, plan.rolls) == (0, 3)


RATES = Rates(swing_minutes=6, roll_minutes=2, per_hour=60)


def test_with_rates_the_shops_cost_is_least() -> None:
    """Two swings of 6 minutes, or two rolls of 2 minutes at 1 a minute: 1000 of steel and 4 of rolls."""
    plan = solve([sides(2)], [Stock("tube", 1000, cost=1000)], ALLOWANCE, rates=RATES)
    assert (plan.objective, plan.cost, plan.minutes, plan.proved) == ("cost", 1000, 4, True)
    assert (plan.shop_cost, plan.shop_bound) == pytest.approx((1004, 1004))


def test_without_rates_the_plan_says_that_steel_goes_first() -> None:
    plan = solve([sides(2)], [Stock("tube", 1000)], ALLOWANCE)
    assert (plan.objective, plan.shop_cost, plan.shop_bound, plan.minutes) == ("steel, then set-ups", None, None, None)


def test_dear_set_ups_go_before_steel() -> None:
    """Angle legs, one pose, slopes (0, 1) and (1, 0) on the bar. On one bar of 1000 they share the cut between them:
    two swings. Steel and swings agree here, so both plans are the same; on bars of 400 nothing is shared."""
    first = Item("A", mt.Piece(LEG, 300, mt.Cut(0), mt.Cut(45), at="centerline"), 1)
    second = Item("B", mt.Piece(LEG, 300, mt.Cut(-45), mt.Cut(0), at="centerline"), 1)
    for rates in (None, Rates(600, 600, 6000)):
        plan = solve([first, second], [Stock("leg", 1000)], ALLOWANCE, rates=rates)
        assert [placed.mark for placed in plan.bars[0].pieces] == ["A", "B"]
        assert plan.swings == 2


def test_a_bevel_is_a_tilt_or_a_roll() -> None:
    """A bevel of 30 on the right end: a blade that tilts is tilted once, which is no swing; one that does not swings 30
    with the bar laid in rolled a quarter, which is told and counts; the square end is the same with it so rolled."""
    piece = Item("A", mt.Piece(TUBE, 300, right=mt.Cut(0, 30), at="centerline"), 1)
    tilting = solve([piece], [Stock("tube", 1000)], ALLOWANCE)
    assert (tilting.swings, tilting.tilts, tilting.rolls, tilting.setups) == (0, 1, 0, 1)
    upright = solve([piece], [Stock("tube", 1000)], ALLOWANCE, arm=ArmLimits(tilts=False))
    assert (upright.swings, upright.tilts, upright.rolls) == (1, 0, 1)
    assert {(round(abs(cut.swing), 9), cut.tilt) for cut in upright.bars[0].cuts} == {(0, 0), (30, 0)}


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: Rates(-1, 0, 0), "swing_minutes: found -1; allowed: swing_minutes of 0 or more"),
        (lambda: Allowance(-0.1), "kerf: found -0.1; allowed: kerf of 0 or more"),
        (lambda: Allowance(1, trim=float("nan")), "trim: found nan; allowed: trim of 0 or more"),
        (lambda: Stock("tube", 6000, cost=-1.0), "cost: found -1.0; allowed: cost of 0 or more"),
        (lambda: sides(-1), "quantity: found -1; allowed: quantity of 0 or more"),
    ],
)
def test_less_than_nothing_is_refused(make: object, says: str) -> None:
    assert callable(make)
    with pytest.raises(BadInput) as caught:
        make()
    assert str(caught.value) == says


def test_square_cuts_keep_the_roll_that_stands() -> None:
    """Six tubes of 45 and square, an arm that swings one way: between the ends of each there must be a set-up, and with
    like ends together there are six. Where the slant lies the other way the bar is rolled for it, and the square cut
    beside it is the same with the bar so rolled."""
    square = Item("A", mt.Piece(TUBE, 300, mt.Cut(45), mt.Cut(0), at="centerline"), 6)
    plan = solve([square], [Stock("tube", 6000)], ALLOWANCE, arm=ONE_WAY)
    assert (plan.swings, plan.rolls, plan.setups_bound) == (6, 0, 6)


def test_square_cuts_keep_an_odd_roll_too() -> None:
    """Parallel bevels of 30, a blade that does not tilt: both are cut with the bar laid in rolled a quarter, one roll,
    and so is the square end of the piece beside them."""
    leaning = Item("A", mt.Piece(TUBE, 300, mt.Cut(0, 30), mt.Cut(0, -30), at="centerline"), 1)
    square = Item("B", mt.Piece(TUBE, 300, at="centerline"), 1)
    plan = solve([leaning, square], [Stock("tube", 1000)], ALLOWANCE, arm=ArmLimits(tilts=False))
    assert (plan.swings, plan.rolls) == (1, 1)


@pytest.mark.parametrize(("past", "reached"), [(0.0, True), (5e-8, True), (2e-7, False), (0.01, False)])
def test_bars_and_saw_judge_a_limit_alike(past: float, reached: bool) -> None:
    """An arm that goes to 60: one tolerance of 1e-7 degrees, for the bars and for the saw."""
    saw = mt.Saw("made up", scale=Scale(feed_side_most=60, discharge_side_most=0))
    section = mt.rect_tube(40, 40, 3).named("tube", "")
    assert ArmLimits(60, 0).makes(section, Angles(60 + past)) is reached
    assert Asked(saw).makes(section, Angles(60 + past)) is reached
    assert saw.reach(LEG, mt.Cut(60 + past)).ok is reached
    tilting = attrs.evolve(saw, tilt=Tilt(0, 45))
    assert ArmLimits(60, 0, True, 0, 45).makes(section, Angles(0, 45 + past)) is reached
    assert tilting.reach(LEG, mt.Cut(0, 45 + past)).ok is reached
