"""Plans of small jobs drawn by lot: the best over all ways and orders; of larger ones: no way shown is cheaper.

More of them: `python -m tests.bench.nest_oracle` and `python -m tests.bench.plan_laws`.
"""

from __future__ import annotations

from math import radians, tan
from pathlib import Path
from random import Random

import pytest

from mitertool.nest import BAR_BY_BAR, BY_SETTING, WAYS, Plan, solve, solver
from tests.nest.oracle import brute, jobs, laws
from tests.nest.oracle.brute import best
from tests.nest.oracle.model import Job, Piece, Section, Shop, Stock
from tests.nest.oracle.sequence import fewest, ways
from tests.often import times

AT_ONCE = 10


def worth(plan: Plan, job: Job) -> tuple[float, float]:
    """Money; without rates the price of the steel and set-ups."""
    if job.shop.rates is None:
        return plan.cost, plan.setups
    assert plan.shop_cost is not None
    return round(plan.shop_cost, 6), 0


def planned(job: Job, way: str | None = None) -> Plan:
    items, stock, allowance = jobs.made(job)
    return solve(items, stock, allowance, arm=jobs.arm(job), rates=jobs.rates(job), way=way)


@pytest.mark.parametrize("first", range(0, times(10), AT_ONCE))
def test_the_best_over_all_ways(first: int) -> None:
    for seed in range(first, first + AT_ONCE):
        job = jobs.by_lot(seed, 4)
        assert worth(planned(job), job) == pytest.approx(best(job)), seed


@pytest.mark.parametrize("first", range(0, times(5), AT_ONCE))
def test_the_best_where_stock_is_what_bar_by_bar_takes(first: int) -> None:
    for seed in range(first, first + AT_ONCE // 3):
        job = jobs.tight(jobs.by_lot(seed, 4))
        assert worth(planned(job), job) == pytest.approx(best(job)), seed


@pytest.mark.parametrize("seed", range(501, 501 + times(3)))
def test_the_best_of_six_pieces(seed: int) -> None:
    job = jobs.by_lot(seed, 6)
    assert worth(planned(job), job) == pytest.approx(best(job))


@pytest.mark.parametrize("way", [BAR_BY_BAR, BY_SETTING])
@pytest.mark.parametrize("first", range(110, 110 + times(5), AT_ONCE))
def test_the_best_of_a_way_that_is_asked_for(first: int, way: str) -> None:
    for seed in range(first, first + AT_ONCE):
        job = jobs.by_lot(seed, 4)
        assert worth(planned(job, way), job) == pytest.approx(best(job, (way,))), seed


def test_the_best_of_ten_pieces_of_two_kinds_is_known_to_be() -> None:
    """Parallelograms and two others of an angle, on two bars: the settings alone would need two swings."""
    pieces = (Piece("leg", 1194.6, SIXTH, -SIXTH, "I"),) * 8 + (Piece("leg", 747.2, 0, 1, "I"),) * 2
    job = Job(pieces, {"leg": Section(60, over=False)}, (Stock("leg", 6000, 6000),), Shop(2.5, 12, 80))
    plan = planned(job)
    assert worth(plan, job) == pytest.approx(best(job))
    assert plan.setups_bound == plan.setups == 3


SIXTH = tan(radians(30))


def test_the_ways_have_the_same_names_here() -> None:
    assert brute.WAYS == WAYS


def several_bars(seed: int) -> Job:
    """Up to twenty-five tubes of three slopes on bars of 1500, without rates."""
    lot = Random(seed)
    slopes = [0.0, *(tan(radians(degrees)) for degrees in lot.sample((45, -45, 30, -30, 22.5, -22.5), 3))]
    kinds = [
        Piece("tube", float(lot.randint(200, 600)), lot.choice(slopes), lot.choice(slopes), "IZXY")
        for _ in range(lot.randint(2, 5))
    ]
    pieces = tuple(kind for kind in kinds for _ in range(lot.randint(1, 5)))
    return Job(pieces, {"tube": Section(40, over=True)}, (Stock("tube", 1500, 1500),), Shop(2, 8, 30))


LETTER = {word: letter for letter, word in jobs.LETTERS.items()}
SOLVED_AT_ONCE = 7
"""Bars that the general solver orders in a second."""


@pytest.mark.parametrize("seed", range(times(8)))
def test_no_order_of_the_bars_has_fewer_swings(seed: int) -> None:
    job = several_bars(seed)
    plan = planned(job, BAR_BY_BAR)
    kinds = {f"M{number}": piece for number, piece in enumerate(dict.fromkeys(job.pieces))}
    bars = [
        ways(
            [(*kinds[one.mark].lying(LETTER[one.pose]), kinds[one.mark].length) for one in bar.pieces],
            1500,
            40,
            job.shop,
        )
        for bar in plan.bars
        for _ in range(bar.count)
    ]
    assert len(bars) <= SOLVED_AT_ONCE
    assert plan.swings == fewest(bars)


@pytest.mark.parametrize("first", range(0, times(10), AT_ONCE))
def test_no_way_that_is_shown_is_cheaper_and_the_saw_finds_the_plan_whole(first: int, tmp_path: Path) -> None:
    found = {seed: list(laws.of_a_job(seed, tmp_path)) for seed in range(first, first + AT_ONCE)}
    assert {seed: wrong for seed, wrong in found.items() if wrong} == {}


@pytest.mark.parametrize("first", range(0, times(10), AT_ONCE))
def test_no_bound_is_above_the_best(first: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Bounds by steel, joints and settings, as a job has them whose states are too many to look at."""
    monkeypatch.setattr(solver._Ways, "_looked_through", lambda *_: False)
    for seed in range(first, first + AT_ONCE):
        job = jobs.by_lot(seed, 4)
        plan, (cost, setups) = planned(job), best(job)
        if job.shop.rates:
            assert plan.shop_bound is not None
            assert plan.shop_bound <= cost + laws.SAME, seed
        else:
            assert plan.lower_bound <= cost + laws.SAME, seed
            assert plan.cost > cost + laws.SAME or plan.setups_bound <= setups, seed
