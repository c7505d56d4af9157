"""Instances whose answer is known from elsewhere: the plan holds, costs that much, says so, and swings little."""

from __future__ import annotations

import pytest

from mitertool.nest import Plan, swings_from_square
from tests.nest.bar_by_bar import solve
from tests.nest.instances import DATA, Instance, load
from tests.nest.plan_checker import faults
from tests.nest.plan_checker import swings_from_square as counted

# name, the most swings with the arm at square before and after each bar: 1.2 times the bound in the file, 1.4 for an
# angle
KNOWN = [
    ("mill13", 0),
    ("trip60_1", 0),
    ("unif250_2", 0),
    ("shop_frames60", 372),
    ("shop_short45", 222),
    ("shop_angle_I", 154),
]


@pytest.mark.parametrize(("name", "most"), KNOWN)
def test_known_instances(name: str, most: int) -> None:
    instance = load(DATA / f"{name}.json")
    plan = solve(instance.items, instance.stock, instance.allowance)
    assert faults(plan, instance.marks, instance.stock, instance.allowance) == []
    assert plan.cost == pytest.approx(instance.known["optimum"])
    assert plan.proved
    assert_swings(plan, instance, most)


def test_remnants_with_a_little_effort() -> None:
    """81488 is best (known from elsewhere); a little effort comes within a bar of 6000."""
    instance = load(DATA / "shop_remnants.json")
    plan = solve(instance.items, instance.stock, instance.allowance, effort=0.1)
    assert faults(plan, instance.marks, instance.stock, instance.allowance) == []
    assert plan.lower_bound <= 81488 <= plan.cost <= 81488 + 6000


def test_a_hundred_kinds_in_a_short_time() -> None:
    """Built from 12 whole bars; filling bar by bar with a little effort comes within a bar of it."""
    instance = load(DATA / "mit100_a2_slack.json")
    plan = solve(instance.items, instance.stock, instance.allowance, effort=0.1)
    assert faults(plan, instance.marks, instance.stock, instance.allowance) == []
    assert plan.lower_bound == 12
    assert plan.cost <= 13


def assert_swings(plan: Plan, instance: Instance, most: int) -> None:
    swings = counted(plan, instance.marks, instance.allowance)
    assert swings_from_square(plan.bars) == swings
    assert swings <= most
    assert plan.swings <= swings
