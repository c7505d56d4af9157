"""Every plan of small random jobs holds, read by a checker that shares no code with the solver."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations, product
from math import radians, tan
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import mitertool as mt
from mitertool.base.errors import CannotMake
from mitertool.nest import Allowance, Bar, Item, Placed, Plan, Stock
from tests.nest.bar_by_bar import solve
from tests.nest.plan_checker import Mark, Wall, faults, steel_faults, two_walls
from tests.often import times

ALL = ("as-drawn", "end-for-end", "rolled", "end-for-end-rolled")
KINDS: dict[str, tuple[mt.Section, float, float, tuple[str, ...]]] = {
    # section as it lies, its width and height, and the poses as letters
    "tube": (mt.rect_tube(40, 80, 3), 40, 80, ALL),
    "tube lying": (mt.rect_tube(40, 80, 3).lay(90), 80, 40, ALL),
    "flat": (mt.flat(60, 8), 60, 8, ALL),
    "strip on edge": (mt.flat(1, 60), 1, 60, ALL),
    "round": (mt.round_tube(60, 3), 60, 60, ALL),
    "channel, web standing": (mt.channel(50, 100, 5, 8), 50, 100, ("as-drawn", "end-for-end-rolled")),
    "channel, toes up": (mt.channel(50, 100, 5, 8).lay(90), 100, 50, ("as-drawn", "end-for-end")),
    "angle, leg flat": (mt.angle(50, 50, 5), 50, 50, ("as-drawn",)),
    "angle in a V": (mt.angle(50, 50, 5).lay(45), 100 / 2**0.5, 55 / 2**0.5, ("as-drawn", "end-for-end")),
}
LAW = settings(deadline=None, max_examples=times(25), derandomize=True, suppress_health_check=list(HealthCheck))

MITERS = st.sampled_from([0, 0, 45, 45, -45, 30, -22.5]) | st.floats(-60, 60).map(lambda angle: round(angle, 4) + 0.0)
BEVELS = st.sampled_from([0, 0, 0, 0, 15, -30])


@st.composite
def marks(draw: st.DrawFn, name: str, most: int = 5) -> tuple[Mark, Item]:
    kind = draw(st.sampled_from(sorted(KINDS)))
    section, width, height, poses = KINDS[kind]
    angles = [draw(one) for one in (MITERS, BEVELS, MITERS, BEVELS)]
    left, right = slopes(*angles[:2]), slopes(*angles[2:])
    shortest = (abs(left[0] + right[0]) * width + abs(left[1] + right[1]) * height) / 2
    centerline = shortest + draw(st.floats(1, 900))
    grade, quantity = draw(st.sampled_from(["", "S355"])), draw(st.integers(1, most))
    turn = tuple(draw(st.sampled_from([(), (), ("as-drawn",)])))
    mark = Mark(
        *(name, kind.split()[0], kind, width, height, grade, centerline, left, right, quantity, turn or poses),
    )
    piece = mt.Piece(
        section.named(mark.section, ""), centerline, mt.Cut(*angles[:2]), mt.Cut(*angles[2:]), at="centerline"
    )
    return mark, Item(name, piece, quantity, grade, turn)


def slopes(miter: float, bevel: float) -> tuple[float, float]:
    return tan(radians(miter)), tan(radians(bevel)) / (1 / (1 + tan(radians(miter)) ** 2)) ** 0.5


jobs = st.integers(1, 4).flatmap(lambda n: st.tuples(*(marks(f"M{i}") for i in range(n))))
allowances = st.builds(
    Allowance,
    kerf=st.sampled_from([0, 1.3, 3]),
    trim=st.sampled_from([0, 10]),
    grip=st.sampled_from([0, 80]),
    wedge_least=st.sampled_from([0, 5]),
    leads=st.sampled_from(["left", "right"]),
)
lengths = st.lists(st.sampled_from([2500, 3000, 6000]), min_size=1, max_size=2, unique=True)


@LAW
@given(jobs, allowances, lengths, st.sampled_from([None, None, 1.0, 5000.0]))
def test_every_plan_holds(
    job: tuple[tuple[Mark, Item], ...], allowance: Allowance, stock_lengths: list[float], cost: float | None
) -> None:
    asked, items = [mark for mark, _ in job], [item for _, item in job]
    names = {(mark.section, mark.grade) for mark in asked}
    stock = [Stock(section, length, grade, cost=cost) for section, grade in sorted(names) for length in stock_lengths]
    plan = solve(items, stock, allowance)
    assert faults(plan, asked, stock, allowance) == []
    assert steel_faults(plan, asked, allowance) == []
    assert sum(bar.steel.pieces * bar.count for bar in plan.bars) == pytest.approx(plan.steel.pieces)


@LAW
@given(jobs, allowances, st.integers(0, 2), st.sampled_from([700, 1500, 3000]))
def test_limited_stock_gives_a_plan_that_holds_or_names_what_is_missing(
    job: tuple[tuple[Mark, Item], ...], allowance: Allowance, quantity: int, length: float
) -> None:
    asked, items = [mark for mark, _ in job], [item for _, item in job]
    names = {(mark.section, mark.grade) for mark in asked}
    stock = [
        *(Stock(section, length, grade, quantity) for section, grade in sorted(names)),
        *(Stock(section, 400, grade, 1, 0.0) for section, grade in sorted(names)),
    ]
    try:
        plan = solve(items, stock, allowance)
    except CannotMake as refusal:
        assert refusal.reasons
        assert {reason.split(":")[0] for reason in refusal.reasons} <= {mark.name for mark in asked}
    else:
        assert faults(plan, asked, stock, allowance) == []


@LAW
@given(st.lists(marks("M", most=2), min_size=1, max_size=2), allowances, st.sampled_from([1500, 2500]))
def test_small_plans_are_best(found: list[tuple[Mark, Item]], allowance: Allowance, length: float) -> None:
    """Against the fewest bars over every order and pose of at most four pieces, tried one by one."""
    mark, item = found[0]
    others = [(m, i) for m, i in found[1:] if (m.lay, m.grade) == (mark.lay, mark.grade)]
    asked = [mark, *(replace(m, name="N") for m, _ in others)]
    items = [item, *(Item("N", i.piece, i.quantity, i.grade, i.turn) for _, i in others)]
    plan = solve(items, [Stock(mark.section, length, mark.grade)], allowance)
    best = fewest_bars([m for m in asked for _ in range(m.quantity)], length, allowance)
    assert plan.lower_bound <= best * length * (1 + 1e-9)
    assert plan.cost == pytest.approx(best * length)


def test_the_bound_holds_for_a_strip_thinner_than_the_kerf() -> None:
    """A strip 1 mm wide, kerf 3, left cut 60: 0.866 + 100 + 3 = 103.866 mm of a bar of 104; so one bar is enough,
    though half of each kerf would come to 100 + 3*(2 + 1)/2 = 104.5."""
    piece = mt.Piece(KINDS["strip on edge"][0].named("strip", ""), 100, mt.Cut(60), at="centerline")
    plan = solve([Item("A", piece, 1)], [Stock("strip", 104)], Allowance(3))
    assert (plan.cost, plan.lower_bound, plan.proved) == (104, 104, True)


def fewest_bars(pieces: list[Mark], length: float, allowance: Allowance) -> int:
    """Pieces in a given order and pose take the fewest bars when every bar takes all it can."""
    return min(
        bars_for(list(zip(order, poses, strict=True)), length, allowance)
        for order in set(permutations(pieces))
        for poses in product(*(mark.poses for mark in order))
    )


def bars_for(laid: list[tuple[Mark, str]], length: float, allowance: Allowance) -> int:
    bars, last = 0, None
    for mark, pose in laid:
        left, right = two_walls(mark, pose, 0, allowance)
        move = None if last is None else step(last, left, mark, allowance)
        if move is None or room(right, move, mark, allowance) > length + 1e-9:
            bars, move = bars + 1, allowance.trim - min(left.places(mark))
        last = Wall(right.at + move, right.p, right.q)
    return bars


def step(last: Wall, left: Wall, mark: Mark, allowance: Allowance) -> float:
    """How far the next piece must move from a left cut at 0 so that it clears the last cut."""
    need = last.kerf(allowance.kerf)
    if not last.parallel(left):
        need += left.kerf(allowance.kerf) + allowance.wedge_least
    return max(a + need - b for a, b in zip(last.places(mark), left.places(mark), strict=True))


def room(right: Wall, move: float, mark: Mark, allowance: Allowance) -> float:
    return max(right.places(mark)) + move + right.kerf(allowance.kerf) + allowance.grip


GOOD = Plan(
    (Bar(KINDS["flat"][0].named("flat", ""), "", 1000, 1, (Placed("A", "as-drawn", 40.0),), 658.0, 1),),
    *(1000.0, 1000.0, True, 1),
)
BAR = Stock("flat", 1000)
ASKED = Mark("A", "flat", "flat", 60, 8, "", 300, (1, 0), (0, 0), 1, ALL)


@pytest.mark.parametrize(
    ("plan", "says"),
    [
        (GOOD, []),
        (mt.nest.Plan((), 0, 0, True, 0), ["A: 0 of 1"]),
    ],
)
def test_the_checker_itself(plan: Plan, says: list[str]) -> None:
    assert faults(plan, [ASKED], [BAR], Allowance(2, 10)) == says


@pytest.mark.parametrize(
    ("allowance", "stock", "asked", "says"),
    [
        (Allowance(2, 10.5), BAR, {}, "the first cut stands 10.0 from the raw end"),
        (Allowance(2, 10, 659), BAR, {}, "the last kerf ends 342.0 on a bar of 1000"),
        (Allowance(3, 10), BAR, {}, "drop 658.0"),
        (Allowance(2, 10), Stock("flat", 900), {}, "1 bars of flat  1000, there are 0"),
        (Allowance(2, 10), Stock("flat", 1000, cost=1200.0), {}, "cost 1000.0, the bars cost 1200.0"),
        (Allowance(2, 10), BAR, {"poses": ("rolled",)}, "A: lies as-drawn"),
        (Allowance(2, 10), BAR, {"left": (0, 0)}, "1 swings, 0 tilts, the blade goes [(0.0, 0.0), (0.0, 0.0)]"),
    ],
)
def test_the_checker_sees_a_fault(allowance: Allowance, stock: Stock, asked: dict[str, Any], says: str) -> None:
    assert says in faults(GOOD, [replace(ASKED, **asked)], [stock], allowance)
