"""Ways of working weighed against each other, on invented jobs of a shop; figures by hand.

A piece of centerline c with slopes b and a is a blank of c + k*sqrt(1 + a*a) + |a - b|*W/2: the kerf and the wedge of
its recut. Minutes at 60 an hour are money.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import cos, radians
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

import pytest

import mitertool as mt
from mitertool.bar import Angles
from mitertool.nest import (
    Allowance,
    Alternative,
    ArmLimits,
    Handling,
    Item,
    NoBars,
    Plan,
    Rates,
    Stock,
    choice,
    mixing,
    solve,
    solver,
)
from mitertool.nest.blanks import is_parallel
from mitertool.nest.candidates import goals
from mitertool.nest.choice import Candidate
from mitertool.nest.greedy import Found
from mitertool.nest.lots import Lot
from mitertool.nest.mixing import Mixing
from mitertool.nest.whole import Arrows, Draft, Means, Whole, whole
from mitertool.nest.work import Goal
from tests.bench.nest_jobs import JOBS

if TYPE_CHECKING:
    from mitertool.nest.search import Search

TUBE = mt.rect_tube(40, 80, 3).named("tube", "")
SQUARE = mt.rect_tube(60, 60, 4).named("square", "")
UPRIGHT = mt.channel(100, 300, 10, 16)
CHANNEL = UPRIGHT.lay(90).named("channel", "")
ALLOWANCE = Allowance(2, 10, 50)
ONE_WAY = ArmLimits(feed_side_most=60, discharge_side_most=0)


def item(mark: str, section: mt.Section, length: float, ends: tuple[float, float], quantity: int = 1) -> Item:
    return Item(mark, mt.Piece(section, length, *map(mt.Cut, ends), at="centerline"), quantity)


def none_is_better(plan: Plan) -> bool:
    """Whether no way that is shown costs less, or has less to set at no more steel where money is not added up."""

    def worth(one: Alternative) -> tuple[float, ...]:
        return (one.money,) if one.money is not None else (one.cost, one.minutes or 0.0, one.setups)

    chosen, *others = plan.alternatives
    return all(worth(chosen) <= worth(one) for one in others)


def by_name(plan: Plan) -> dict[str, Alternative]:
    return {one.name: one for one in plan.alternatives}


STAIR = [
    item("STRINGER", CHANNEL, 3800, (35, 35), 4),
    item("LANDING", CHANNEL, 1500, (0, 35), 2),
]
STAIR_STOCK = [Stock("channel", 12000, cost=900)]
STAIR_RATES = Rates(swing_minutes=3, roll_minutes=6, per_hour=60, load_minutes=8, recut_minutes=5)
MASS = 12 * (268 * 10 + 2 * 100 * 16) * 7850e-6
"""kg of a bar of 12 m: a web of 268 x 10 between flanges of 100 x 16, 7850 kg/m3."""


def test_a_stair_of_channels_too_heavy_to_be_rolled() -> None:
    """An arm that swings one way: bar by bar each stringer needs a roll between its two cuts. Blanks of 3800 and a
    wedge of 2 * tan 35 * 150 weigh 185 kg, which the shop rolls; a bar weighs 554, which it does not. A landing
    needs no roll: as a blank it is recut in 5 minutes, on its bar the arm swings in 3."""
    plan = solve(
        STAIR, STAIR_STOCK, ALLOWANCE, arm=ONE_WAY, rates=STAIR_RATES, handling=Handling(roll_most=250, turn_most=250)
    )
    assert (plan.way, plan.rolls, plan.recut_count) == ("mixed", 0, 4)
    assert {recut.mark for recut in plan.recuts} == {"STRINGER"}
    assert all(len({cut.roll for cut in bar.cuts}) == 1 for bar in plan.bars)
    (told,) = plan.remarks
    assert (told.code, {n.name: n.value for n in told.numbers}) == (
        "plan.roll-heavy",
        {"section": "channel", "need": pytest.approx(MASS), "have": 250},
    )
    assert none_is_better(plan)


def test_of_many_pieces_those_are_recut_that_would_take_longer_on_their_bar() -> None:
    """Seven marks of the stair: a stringer is rolled and swung between its ends, 9 minutes, or recut in 5, for which
    the bar stays as it lies; a landing is swung in 3. So stringers are blanks and landings none."""
    stringers = [item(f"S{i}", CHANNEL, 3000 + 70 * i, (35, 35), 2) for i in range(4)]
    landings = [item(f"L{i}", CHANNEL, 1200 + 90 * i, (0, 35), 2) for i in range(3)]
    rates = Rates(swing_minutes=3, roll_minutes=6, per_hour=60, load_minutes=8, recut_minutes=5)
    plan = solve([*stringers, *landings], [Stock("channel", 12000, cost=900)], ALLOWANCE, arm=ONE_WAY, rates=rates)
    assert {recut.mark for recut in plan.recuts} == {one.mark for one in stringers}
    assert none_is_better(plan)


def test_what_can_only_be_rolled_and_is_too_heavy_is_refused() -> None:
    """A blank of a stringer weighs more than 100 kg: neither bar nor blank is rolled, so no way is left."""
    with pytest.raises(NoBars) as caught:
        solve(STAIR, STAIR_STOCK, ALLOWANCE, arm=ONE_WAY, handling=Handling(roll_most=100))
    assert {problem.code for problem in caught.value.problems} == {"roll-heavy"}
    assert "STRINGER" in {problem.mark for problem in caught.value.problems}


def test_a_blank_too_heavy_to_be_turned_is_not_offered() -> None:
    """A stringer's blank weighs about 185 kg where the shop turns 150."""
    plan = solve(STAIR, STAIR_STOCK, ALLOWANCE, rates=STAIR_RATES, handling=Handling(turn_most=150))
    assert (plan.way, {one.way for one in plan.alternatives}) == ("bar by bar", {"bar by bar"})
    assert [told.code for told in plan.remarks] == ["plan.turn-heavy"]
    assert plan.within == ("cut bar by bar",)


def test_loads_and_recuts_cost_what_the_shop_says() -> None:
    """One stringer of 35 at both ends, no rolls asked: bar by bar a swing of 3 and a load of 8, in all 911; by setting
    no swing, for the blank is laid half a turn over, but a recut of 5: 913."""
    plan = solve([item("S", CHANNEL, 3800, (35, 35))], STAIR_STOCK, ALLOWANCE, rates=STAIR_RATES)
    found = by_name(plan)
    assert (found["bar by bar"].money, found["by setting"].money) == (pytest.approx(911), pytest.approx(913))
    assert (plan.way, plan.minutes, plan.proved, plan.shop_bound) == ("bar by bar", 11, True, pytest.approx(911))


ANGLES = (0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55)
SIXTY = [item(f"M{i}", SQUARE, 400 + 37.0 * (i % 17), (ANGLES[i % 12], ANGLES[(5 * i + 1) % 12]), 2) for i in range(60)]


def test_sixty_marks_with_twelve_angles() -> None:
    """Each of twelve angles must be gone to: eleven swings at the least, and by setting there are no more."""
    rates = Rates(3, 1.5, 70, load_minutes=4, recut_minutes=0.5)
    plan = solve(SIXTY, [Stock("square", 6000, cost=60)], ALLOWANCE, rates=rates, effort=0.1)
    found = by_name(plan)
    assert (found["fewest set-ups"].setups, plan.setups_bound) == (11, 11)
    assert found["bar by bar"].setups > 100
    assert (plan.way, plan.objective) == ("by setting", "cost")
    assert plan.shop_cost == min(one.money for one in plan.alternatives if one.money is not None)
    assert none_is_better(plan)


def test_two_lays_of_one_tube_share_a_bar() -> None:
    """Two of 100 inches, one lying wide and one standing, both 45 at their ends: on a bar of 20 feet both cuts that
    meet lean across and up, 20 and 40 off; the bar is rolled a quarter between them, or the blanks are laid so."""
    asked = [item("WIDE", TUBE.lay(90), 2540, (45, 45)), item("STANDS", TUBE, 2540, (45, 45))]
    plan = solve(asked, [Stock("tube", 6096)], ALLOWANCE)
    assert sum(bar.count for bar in plan.bars) == 1
    assert plan.proved
    assert [abs(placed.lay) for placed in plan.bars[0].pieces] == [0, 90]


def test_limited_stock_counts_for_all_lays_together() -> None:
    """Two bars, four pieces of 2540 in two lays: two a bar; a fifth has none."""
    asked = [item("WIDE", TUBE.lay(90), 2540, (0, 0), 2), item("STANDS", TUBE, 2540, (0, 0), 2)]
    stock = [Stock("tube", 6096, quantity=2)]
    assert sum(bar.count for bar in solve(asked, stock, ALLOWANCE).bars) == 2
    with pytest.raises(NoBars) as caught:
        solve([*asked, item("FIFTH", TUBE, 2540, (0, 0))], stock, ALLOWANCE)
    assert [problem.code for problem in caught.value.problems] == ["stock-short"]


def test_priced_and_unpriced_bars_are_never_added_up() -> None:
    """One length has a price and the other none: both count by their length, so the short bar of 3000 goes before one
    of 6000 that would cost 10, and nothing is said in money."""
    stock = [Stock("tube", 6000, cost=10), Stock("tube", 3000)]
    plan = solve([item("A", TUBE, 2500, (0, 0))], stock, ALLOWANCE, rates=Rates(3, 3, 60))
    assert (plan.cost, plan.shop_cost, plan.shop_bound, plan.objective) == (3000, None, None, "steel, then set-ups")
    assert [told.code for told in plan.remarks] == ["plan.some-priced"]
    assert all(one.money is None for one in plan.alternatives)


def test_rates_without_a_price_of_steel_weigh_the_work_alone() -> None:
    """Steel is one bar either way. A swing of 3 minutes between the ends of a piece, or a recut of 2: by setting; with
    a recut of 4 bar by bar."""
    asked, stock = [item("A", TUBE, 1000, (45, 45))], [Stock("tube", 6000)]
    for recut, way in ((2, "by setting"), (4, "bar by bar")):
        plan = solve(asked, stock, ALLOWANCE, rates=Rates(3, 9, 60, recut_minutes=recut))
        assert (plan.way, plan.shop_cost, [told.code for told in plan.remarks]) == (way, None, ["plan.no-price"])
        assert plan.minutes == min(3, recut)


def test_a_tilt_has_minutes_of_its_own() -> None:
    """A bevel of 30 at one end: one tilt, as dear as a swing where nobody says."""
    asked = [Item("A", mt.Piece(TUBE, 300, right=mt.Cut(0, 30), at="centerline"), 1)]
    stock = [Stock("tube", 1000, cost=0)]
    for tilt, money in ((None, 3), (7, 7)):
        plan = solve(asked, stock, ALLOWANCE, rates=Rates(3, 90, 60, recut_minutes=99, tilt_minutes=tilt))
        assert (plan.tilts, plan.shop_cost) == (1, money)


def test_the_first_roll_of_a_bar_is_priced() -> None:
    """A channel that lies one way, 35 at the side that the arm does not swing to: its first cut finds the bar laid in
    rolled, which costs a roll of 6, on each of two bars; then a square end, which stays."""
    leaning = item("A", CHANNEL, 800, (35, 0), 2)
    held = Item("A", leaning.piece, 2, turn=("as-drawn",))
    plan = solve([held], [Stock("channel", 1100, cost=0)], ALLOWANCE, arm=ONE_WAY,
                 rates=Rates(3, 6, 60, recut_minutes=50))  # fmt: skip
    assert (plan.rolls, plan.swings) == (2, 3)
    assert plan.shop_cost == pytest.approx(2 * 6 + 3 * 3)


FRAME = [item("A", SQUARE, 700, (45, 45), 4), item("B", SQUARE, 500, (45, 45), 4)]


@pytest.mark.parametrize("way", ["bar by bar", "by setting", "mixed"])
def test_a_way_may_be_fixed(way: str) -> None:
    """Eight sides at 45: bar by bar a swing within each; by setting every blank is recut at the one setting."""
    plan = solve(FRAME, [Stock("square", 6000)], ALLOWANCE, way=way)
    recuts, swings = (0, 8) if way == "bar by bar" else (8, 0)
    assert (plan.recut_count, plan.swings) == (recuts, swings)
    assert plan.cuts == sum(len(bar.cuts) * bar.count for bar in plan.bars) + recuts


def test_a_recut_tells_its_blank_and_its_sides() -> None:
    """700 on the centerline, 45 at both ends, W 60: the wedge is 60, the kerf 2/cos 45; 640 and 760 along the sides."""
    plan = solve(FRAME[:1], [Stock("square", 6000)], ALLOWANCE, way="by setting")
    (recut,) = plan.recuts
    assert (recut.mark, recut.count, recut.after, recut.length) == ("A", 4, 1, pytest.approx(700))
    assert recut.blank == pytest.approx(700 + 60 + 2 / cos(radians(45)))
    assert sorted((recut.fixed, recut.moving)) == [pytest.approx(640), pytest.approx(760)]
    assert {placed.recut for placed in plan.bars[0].pieces} == {recut.end}
    assert [step.bar is None for step in plan.steps] == [False, True]
    assert len(plan.settings) == 1


def test_each_section_has_its_own_way() -> None:
    """Sides of a tube are recut for nothing, but a blank of the channel does not go on its bar of 3980, which takes the
    piece: 10 + 105 + 3700 + 105 + 2.44 + 50 is 3972.5, its blank wants 212 more."""
    asked = [*FRAME, item("C", CHANNEL, 3700, (35, 35))]
    plan = solve(asked, [Stock("square", 6000), Stock("channel", 3980)], ALLOWANCE)
    assert plan.way == "mixed"
    assert {(one.section, one.way) for one in plan.ways} == {("square", "by setting"), ("channel", "bar by bar")}


def test_bars_that_keep_a_setting_follow_each_other_over_all_sections() -> None:
    """Square and 30 at the ends of three sections, one bar each: square, 30; 30, square; square, 30: three swings."""
    wide = mt.rect_tube(80, 80, 4).named("wide", "")
    asked = [item(name, section, 900, (0, 30)) for name, section in (("A", TUBE), ("B", SQUARE), ("C", wide))]
    stock = [Stock(name, 1000) for name in ("tube", "square", "wide")]
    plan = solve(asked, stock, ALLOWANCE, way="bar by bar")
    assert (plan.swings, plan.setups_bound) == (3, 3)


def test_a_bar_goes_on_past_a_setting_at_which_it_saves_nothing() -> None:
    """18906.6 mm of pieces want four bars of 5908, and three angles two swings: 4 * 60 and 2 * 1.5 minutes at 1 a
    minute. The trapezoids of 22.5 come back to the arm that cut them, so their bar is done before the arm goes on; what
    begins square ends at 45."""
    asked = [
        item("A", SQUARE, 734.7, (22.5, 22.5), 6),
        item("B", SQUARE, 294.6, (45, 0), 4),
        item("C", SQUARE, 308.2, (45, 45), 2),
        item("D", SQUARE, 1084.6, (0, 0), 2),
        item("E", SQUARE, 2298.5, (-45, 0), 4),
        item("F", SQUARE, 670.2, (-45, -45), 2),
    ]
    plan = solve(asked, [Stock("square", 6000, cost=60)], Allowance(2.5, 12, 80), rates=Rates(1.5, 2, 60))
    assert (plan.shop_cost, plan.proved) == (pytest.approx(4 * 60 + 2 * 1.5), True)


@pytest.mark.parametrize("seed", [2, 3, 6, 8])
def test_a_left_over_is_one_bar_however_its_blanks_are_filled_setting_by_setting(seed: int) -> None:
    """Three left-overs beside bars bought, blanks of two settings: no left-over is cut twice."""
    lot = random.Random(seed)
    items = [
        item(
            f"M{i}",
            TUBE,
            lot.randint(300, 1400),
            (lot.choice((0, 30, 45)), lot.choice((0, 45, -45))),
            lot.randint(1, 8),
        )
        for i in range(3)
    ]
    left_over = [Stock("tube", 1500.0 + 200 * i + lot.randint(0, 99), quantity=1, cost=0) for i in range(3)]
    plan = solve(items, [Stock("tube", 6000.0), *left_over], Allowance(1.3, 10, 0), way="by setting", effort=0.1)
    for one in left_over:
        assert sum(bar.count for bar in plan.bars if bar.stock_length == one.length) <= 1
    made = Counter(placed.mark for bar in plan.bars for _ in range(bar.count) for placed in bar.pieces)
    assert made == {one.mark: one.quantity for one in items}


class Timed(ArmLimits):
    """A saw whose blade takes a minute for a square cut and two for any other."""

    def minutes(self, section: mt.Section, angles: Angles) -> float:
        return 2.0 if angles.swing else 1.0


def test_the_blade_takes_half_of_each_face_at_the_least() -> None:
    """Nine square pieces share eight cuts of a minute and have one more at either end: 10, where half of 18 faces is 9.
    Parallelograms of 30 take twice as long. A bar costs 100 and 4 minutes to load, at 1 a minute."""
    rates, stock = Rates(3, 9, 60, load_minutes=4), [Stock("tube", 6000, cost=100)]
    square = solve([item("A", TUBE, 500, (0, 0), 9)], stock, ALLOWANCE, arm=Timed(), rates=rates)
    assert (square.shop_cost, square.shop_bound) == (pytest.approx(100 + 4 + 10), pytest.approx(100 + 4 + 9))
    sides = solve([item("A", SQUARE, 500, (30, -30), 9)], [Stock("square", 6000, cost=100)], ALLOWANCE, arm=Timed(),
                  rates=rates)  # fmt: skip
    assert (sides.shop_cost, sides.shop_bound) == (pytest.approx(100 + 4 + 20), pytest.approx(100 + 4 + 18))


@pytest.mark.parametrize(("effort", "least", "most"), [(0.05, 1, 4), (1.0, 5, 80)])
def test_little_effort_weighs_a_plan_of_each_way(
    monkeypatch: pytest.MonkeyPatch, effort: float, least: int, most: int
) -> None:
    """Bar by bar, by setting and mixed, and the best of them once more with its pieces closer together."""
    weighed: list[object] = []

    def counted(drafts: Sequence[Draft], shop: Means, arrows: Arrows) -> Whole:
        weighed.append(drafts)
        return whole(drafts, shop, arrows)

    monkeypatch.setattr(choice, "whole", counted)
    monkeypatch.setattr(choice, "_WEIGHED", 20)
    job = JOBS["three sections"](24)
    plan = solve(job.items, job.stock, ALLOWANCE, effort=effort)
    assert plan.stopped in ("", "effort")
    assert least <= len(weighed) <= most


@pytest.mark.parametrize("quantity", [None, 1])
@pytest.mark.parametrize("alone", [True, False])
def test_room_on_the_bars_makes_blanks_of_some(
    monkeypatch: pytest.MonkeyPatch, alone: bool, quantity: int | None
) -> None:
    """Nine pieces of 1000 from a bar with 9200 of use, 0 and 45 at their ends; 60 wide, kerf 2.

    Three whole ones from 0 to 45 and back, five blanks of 45 at both ends, a whole one back to 0: nine lengths, five
    times 30 and a kerf of 0, then at 0 two kerfs and at 45 seven: 9000 + 160 + 4 + 19.8 = 9183.8. Four swings, and the
    arm ends where the blanks are recut. Six blanks take 32 more. Bar by bar each of nine pieces has a swing. Where
    there is one bar alone it is the same.
    """
    if alone:
        monkeypatch.setattr(Mixing, "_by_shares", lambda *_: iter(()))
    stock = [Stock("square", 9260.0, quantity=quantity)]
    plan = solve([item("A", SQUARE, 1000, (0, 45), 9)], stock, ALLOWANCE)
    assert (plan.loads, plan.setups, plan.recut_count) == (1, 4, 5)
    assert next(one.setups for one in plan.alternatives if one.name == "bar by bar") == 9


def test_bars_are_filled_anew_from_those_that_hold_most_blanks(monkeypatch: pytest.MonkeyPatch) -> None:
    """Twenty-four pieces: of the shares that were tried on as many bars the largest; no piece is lost or made twice."""
    tried: list[Candidate] = []
    begun: list[Lot] = []
    done: list[tuple[Lot, Found]] = []
    by_shares, anew = Mixing._by_shares, mixing.in_place

    def kept(mix: Mixing, searches: Sequence[Search]) -> Iterator[Candidate]:
        tried.extend(by_shares(mix, searches))
        return iter(tried)

    def filled(*given: Any) -> tuple[Lot, Found]:
        begun.append(given[1][0])
        done.append(anew(*given))
        return done[-1]

    monkeypatch.setattr(Mixing, "_by_shares", kept)
    monkeypatch.setattr(mixing, "in_place", filled)
    job = JOBS["few angles"](24)
    plan = solve(job.items, job.stock, ALLOWANCE)
    assert [blanks(lot) for lot in begun] == [
        max(blanks(one[0].lot) for one in tried if len(one[0].bars) == plan.loads)
    ]
    kept_count = [blanks(one[0].lot) for one in tried]
    steps = [after > before for before, after in pairwise(kept_count)]
    assert steps == [
        len(one[0].bars) <= plan.loads for one in tried[:-1]
    ]  # more after those that fit, fewer after others
    ((lot, found),) = done
    made = Counter(way.kind for bar in found.bars for way in bar.walk)
    assert made == dict(enumerate(lot.demand))
    parts = Counter(one.mark for one in lot.items for _ in range(one.quantity))
    assert parts == {one.mark: one.quantity for one in job.items}


def blanks(lot: Lot) -> int:
    return sum(one.quantity for one in lot.items if one.recut)


@pytest.fixture
def looked(monkeypatch: pytest.MonkeyPatch) -> list[Goal]:
    """The goals with which bars of blanks are looked for from here on."""
    looked: list[Goal] = []
    search = solver._search

    def counted(lots: Sequence[Lot], terms: Any, goal: Goal, *rest: Any, **named: Any) -> Any:
        if all(one.recut or is_parallel(one) for lot in lots for one in lot.items):
            looked.append(goal)
        return search(lots, terms, goal, *rest, **named)

    monkeypatch.setattr(solver, "_search", counted)
    return looked


def test_blanks_that_weigh_more_than_the_bars_hold_are_looked_for_once(looked: list[Goal]) -> None:
    """Nine pieces of 1000 from a bar with 9200 of use: nine blanks of 1000 and a wedge of 30 weigh more."""
    solve([item("A", SQUARE, 1000, (0, 45), 9)], [Stock("square", 9260.0)], ALLOWANCE)
    assert looked == [Goal()]


def test_where_nothing_can_be_better_no_more_is_looked_for(looked: list[Goal]) -> None:
    """Ten pieces with two settings have one swing as blanks, and none have fewer; a bar of 12 m has room for these."""
    plan = solve([item("A", SQUARE, 1000, (0, 45), 10)], [Stock("square", 12000.0)], ALLOWANCE)
    assert (plan.loads, plan.setups, plan.setups_bound) == (1, 1, 1)
    assert looked == [Goal()]


def test_where_something_may_be_better_bars_with_fewer_set_ups_are_looked_for(looked: list[Goal]) -> None:
    """Ten pieces of an angle have three settings, so two swings at the least; none has so few on two bars."""
    job = JOBS["one pose"](10)
    plan = solve(job.items, job.stock, ALLOWANCE)
    assert plan.setups == 3
    assert {goal.wedge > 0 for goal in looked} == {False, True}


@pytest.mark.parametrize(
    ("money", "pieces", "asked"),
    [
        (False, 1000, ["set-ups"]),
        (False, 1001, []),
        (True, 1000, ["steel", "set-ups"]),
        (True, 1001, ["steel", "set-ups"]),
    ],
)
def test_of_very_many_pieces_fewer_set_ups_are_looked_for_only_for_money(
    money: bool, pieces: int, asked: list[str]
) -> None:
    """Bars with fewer set-ups take more steel, so they are the best only where both are added up."""
    shop: Any = SimpleNamespace(measure=SimpleNamespace(money=money))
    found = goals(shop, [Stock("tube", 6000, cost=30)], pieces)
    assert ["set-ups" if goal.wedge > 30 else "steel" for goal in found] == asked
