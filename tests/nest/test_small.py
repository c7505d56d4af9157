"""A small job is looked through with bounded work, and a bar that may lie as it is is not rolled yet."""

from __future__ import annotations

import attrs
import pytest

import mitertool as mt
from mitertool.nest import BAR_BY_BAR, Allowance, ArmLimits, Item, Plan, Rates, Stock, small, solve
from mitertool.nest.measure import Measure
from mitertool.nest.plan import ANY_ARM, LIFTS_ALL
from mitertool.nest.setups import Settings
from mitertool.nest.small import has_few_states, is_small
from mitertool.nest.small_costs import Costs
from mitertool.nest.small_forms import Forms
from mitertool.nest.small_moves import Moves, later
from mitertool.nest.small_states import Option
from mitertool.nest.whole import Means
from tests.bench.nest_jobs import ALLOWANCE as BENCH
from tests.bench.nest_jobs import JOBS
from tests.nest.oracle import jobs

TUBE = mt.round_tube(60.3, 3)
ENDS = ((0, 0), (25, -20), (32, 40), (18, -10), (40, 5), (12, 25))
"""Miter and bevel between the pieces of a run in space."""


def run_of(pieces: int, effort: float = 1.0, arm: ArmLimits = ANY_ARM) -> Plan:
    """The plan of so many pieces of a run, each end another way round the tube."""
    cuts = [mt.Cut(*ends) for ends in ENDS]
    items = [Item(f"R{i}", mt.Piece(TUBE, 700 + 100 * i, cuts[i], cuts[i + 1]), 1) for i in range(pieces)]
    return solve(items, [Stock(TUBE.name, 12000)], Allowance(kerf=2), way="bar by bar", effort=effort, arm=arm)


@pytest.fixture
def searched(monkeypatch: pytest.MonkeyPatch) -> list[small._Search]:
    """The searches that are run from here on."""
    searched: list[small._Search] = []
    run = small._Search.run

    def kept(search: small._Search, steps: int) -> object:
        searched.append(search)
        return run(search, steps)

    monkeypatch.setattr(small._Search, "run", kept)
    return searched


def test_a_run_in_round_tube_is_looked_through_with_bounded_work(searched: list[small._Search]) -> None:
    """A round bar may lie any way round, so there are states beyond count; 40,000 steps are done."""
    plan = run_of(5)
    assert searched
    assert sum(one.steps for one in searched) < 41_000
    assert [bar.count for bar in plan.bars] == [1]
    assert sum(len(bar.pieces) for bar in plan.bars) == 5


@pytest.mark.parametrize("tilts", [True, False])
def test_a_run_in_round_tube_is_proved(tilts: bool) -> None:
    """Both ends of each of five pieces differ in miter and in bevel: a swing and a tilt in each, and none between.

    Where the blade does not tilt each of the five slanted planes has a swing of its own and a roll of its own, and the
    bar is laid on the saw at none of these: five swings away from the first cut, five rolls.
    """
    plan = run_of(5, arm=ArmLimits(tilts=tilts))
    assert plan.setups == plan.setups_bound == 10


def test_steps_cost_what_the_rates_say(searched: list[small._Search]) -> None:
    """A swing, a roll and a tilt as the shop gives them, each alone: at 60 an hour 1 a minute, a million units."""
    items = [Item("A", mt.Piece(TUBE, 700, mt.Cut(30, 10), mt.Cut(20)), 2)]
    rates = Rates(swing_minutes=3, roll_minutes=7, per_hour=60, tilt_minutes=0.5)
    solve(items, [Stock(TUBE.name, 6000, cost=100)], Allowance(kerf=2), rates=rates)
    assert {attrs.astuple(one.costs.units)[:3] for one in searched} == {(3_000_000, 7_000_000, 500_000)}


def test_more_steps_find_nothing_worse() -> None:
    """What is not looked through has the plan of the other search, which a longer look can only better."""
    plans = [run_of(3, effort) for effort in (0.0, 0.1, 1.0)]
    set_ups = [plan.setups for plan in plans]
    assert [plan.cost for plan in plans] == [12000] * 3
    assert set_ups == sorted(set_ups, reverse=True)


def test_a_bar_is_rolled_as_late_as_it_goes() -> None:
    """A square cut may lie any way round, so it is made as the bar lies; other settings are kept."""
    square = (Option(0, 0.0), Option(0, 35.0), Option(0, 180.0), Option(1, 70.0))
    assert later(square, 0.0) == [Option(0, 0.0), Option(1, 70.0)]
    assert later(square, 0.0, over=True) == [Option(0, 0.0), Option(0, 180.0), Option(1, 70.0)]
    assert later(square, 350.0) == list(square)


def test_each_piece_of_a_small_job_is_a_blank_or_none() -> None:
    """Five pieces of two sections: bar by bar or by setting all of a section five swings do, with blanks of some three,
    as the brute force beside it found."""
    job = jobs.by_lot(500, 5)
    items, stock, allowance = jobs.made(job)
    plan = solve(items, stock, allowance, arm=jobs.arm(job))
    assert (plan.cost, plan.setups, plan.setups_bound) == (1300, 3, 3)


def test_a_job_of_few_kinds_is_looked_through_where_its_cost_is_not_proved() -> None:
    """Seventeen pieces of four kinds, with rates: without looking the bound is a swing below what is possible."""
    job = JOBS["rates"](17)
    plan = solve(job.items, job.stock, BENCH, rates=job.rates, effort=2.0)
    assert plan.proved
    assert plan.shop_cost == plan.shop_bound
    assert has_few_states(job.items)
    assert not is_small(job.items)


def test_a_job_of_more_kinds_is_looked_through_too() -> None:
    """Sixteen pieces of seven kinds, with rates: three bars of 60 and three swings of 1.5 do, as a plan that the search
    beside finds with four swings does not tell."""
    job = JOBS["rates"](16)
    plan = solve(job.items, job.stock, BENCH, rates=job.rates)
    assert plan.shop_cost == pytest.approx(3 * 60 + 3 * 1.5)


@pytest.mark.parametrize(
    ("section", "twinned"),
    [(mt.rect_tube(60, 40, 3), True), (mt.round_tube(60, 3), True), (mt.angle(60, 60, 6), False)],
)
def test_a_bar_that_looks_the_same_half_a_turn_over_is_laid_one_way_only(section: mt.Section, twinned: bool) -> None:
    """Of a tube either way gives the same pieces with the arm on the other side; of an angle there is one way."""
    item = Item("A", mt.Piece(section, 500, mt.Cut(30), mt.Cut(10)), 2)
    shop = Means(Allowance(kerf=2), Settings(ANY_ARM), LIFTS_ALL, Measure())
    forms = Forms([item], shop, None, {item.group: BAR_BY_BAR})
    assert (item.group in forms.twinned) == twinned
    costs = Costs([Stock(section.name, 6000)], forms)
    moves = Moves(costs.stock, shop, forms, costs)
    rolls = {one.bar.roll for number in range(len(forms.all)) for one in moves.first(0, -1, number).moves if one.bar}
    assert rolls == {0.0}
