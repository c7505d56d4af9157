"""Benchmark of the nesting: `python -m tests.bench.nest_bench [FOLDER or FILE ...] [--compact SECONDS]`.

With --table SIZES (as 10,20,50) it draws jobs by lot in place of the instances: tables of processor time, cost by its
bound and set-ups by theirs, a row a kind of job (tests/bench/nest_jobs.py) and a column a number of pieces.

For every instance (those of tests/nest/data, or of any folder or file in that format) one line: pieces and types, cost,
bound and how it was obtained, whether proved, the best cost known from elsewhere, swings as counted
with their bound, what tip to tip would cost, wall and processor seconds until the plan was within a
bar of the bound and until the end, peak memory. Each plan is checked by the plan checker of the tests. With --compact
each section is also given to a general solver as a compact model, for so many seconds; what it finds stands beside.
"""

from __future__ import annotations

import argparse
import resource
import sys
from collections.abc import Iterable
from dataclasses import dataclass, field
from math import inf
from pathlib import Path
from time import perf_counter, process_time

import highspy

from mitertool.nest import BAR_BY_BAR, Plan, Stock, solve
from tests.bench.nest_jobs import ALLOWANCE, JOBS
from tests.nest.compact import Answer, best_cost
from tests.nest.instances import DATA, Instance, load
from tests.nest.plan_checker import faults, swings_from_square


@dataclass
class Clock:
    """When the plan came within a bar of the bound."""

    bar: float
    wall: float = field(default_factory=perf_counter)
    cpu: float = field(default_factory=process_time)
    near: tuple[float, float] | None = None

    def progress(self, cost: float, bound: float, _share: float) -> None:
        if self.near is None and cost <= bound + self.bar * (1 + 1e-9):
            self.near = self.now()

    def now(self) -> tuple[float, float]:
        return perf_counter() - self.wall, process_time() - self.cpu


def least_swings(instance: Instance, plan: Plan) -> int:
    """Pieces whose cuts are not parallel, and bar ends that find no square piece end."""
    total = 0
    for section in {mark.section for mark in instance.marks}:
        marks = [mark for mark in instance.marks if mark.section == section]
        bars = sum(bar.count for bar in plan.bars if bar.section.name == section)
        square = sum(mark.quantity * sum(abs(end[0]) < 1e-9 for end in (mark.left, mark.right)) for mark in marks)
        own = sum(mark.quantity for mark in marks if abs(mark.left[0] + mark.right[0]) > 1e-9)
        total += own + max(0, 2 * bars - square)
    return total


def compact(instance: Instance, plan: Plan, seconds: float) -> Answer:
    """Every section as a compact model with as many bars as the tip-to-tip plan or ours needs, and two more."""
    cost = bound = 0.0
    for section in sorted({mark.section for mark in instance.marks}):
        marks = [mark for mark in instance.marks if mark.section == section]
        used = sum(bar.count for bar in plan.bars if bar.section.name == section)
        bars = [one for stock in instance.stock if stock.section == section for one in _copies(stock, used + 2)]
        highs = highspy.Highs()  # type: ignore[no-untyped-call]
        highs.silent()
        answer = best_cost(marks, bars, instance.allowance, seconds, highs)
        cost, bound = cost + answer.cost, bound + answer.bound
    return Answer(cost, bound)


def _copies(stock: Stock, most: int) -> list[Stock]:
    return [stock] * (most if stock.quantity is None else min(most, stock.quantity))


def solved(instance: Instance, effort: float, time_limit: float | None) -> tuple[Plan, str]:
    """The plan, and its times in words."""
    clock = Clock(max(stock.price for stock in instance.stock))
    asked = (instance.items, instance.stock, instance.allowance)
    plan = solve(*asked, effort=effort, time_limit=time_limit, progress=clock.progress, way=BAR_BY_BAR)
    wall, cpu = clock.now()
    near = clock.near or (inf, inf)
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    words = f"within a bar after {near[0]:.1f} s ({near[1]:.1f} cpu), all {wall:.1f} s ({cpu:.1f} cpu), {memory:.0f} MB"
    return plan, words


def line(instance: Instance, plan: Plan, times: str) -> str:
    wrong = faults(plan, instance.marks, instance.stock, instance.allowance)
    swings = swings_from_square(plan, instance.marks, instance.allowance)
    pieces = sum(item.quantity for item in instance.items)
    how = "+".join(sorted({bound.how for bound in plan.bounds}))
    words = [
        f"{instance.name}: {pieces} pieces of {len(instance.items)} types",
        f"cost {plan.cost:g}, bound {plan.lower_bound:g} ({how}), known {instance.known.get('optimum')}",
        "proved" if plan.proved else "not proved",
        f"swings {swings}, bound {least_swings(instance, plan)}, on the floor {plan.swings}",
        f"tip to tip {plan.tip_to_tip}",
        times,
        f"WRONG: {wrong[0]}" if wrong else "checked",
        f"stopped by {plan.stopped}" if plan.stopped else "ran to its end",
    ]
    return "; ".join(words)


def table(sizes: Iterable[int], kinds: Iterable[str], effort: float, way: str | None) -> None:
    """One line a job: processor seconds, cost by bound, bars above the bound, set-ups by their bound."""
    say(f"{'job':32} {'cpu s':>7} {'cost':>9} {'bound':>9} {'by':>6} {'set-ups':>8} {'bound':>6} {'by':>5}  proved")
    for kind in kinds:
        for size in sizes:
            asked = JOBS[kind](size)
            begin = process_time()
            plan = solve(asked.items, asked.stock, ALLOWANCE, rates=asked.rates, effort=effort, way=way)
            seconds = process_time() - begin
            wrong = faults(plan, asked.marks, asked.stock, ALLOWANCE) if way == BAR_BY_BAR else []
            by = plan.cost / plan.lower_bound if plan.lower_bound else 1.0
            setups = plan.setups / plan.setups_bound if plan.setups_bound else 1.0
            say(
                f"{asked.name:32} {seconds:7.2f} {plan.cost:9g} {plan.lower_bound:9g} {by:6.3f}"
                f" {plan.setups:8} {plan.setups_bound:6} {setups:5.2f}  {'yes' if plan.proved else 'no'}"
                f"{f'  WRONG: {wrong[0]}' if wrong else ''}"
            )


def files(paths: Iterable[Path]) -> list[Path]:
    return [file for path in paths for file in (sorted(path.glob("*.json")) if path.is_dir() else [path])]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("paths", nargs="*", type=Path, default=[DATA])
    parser.add_argument("--compact", type=float, metavar="SECONDS")
    parser.add_argument("--effort", type=float, default=1.0)
    parser.add_argument("--time-limit", type=float, metavar="SECONDS")
    parser.add_argument("--table", metavar="SIZES")
    parser.add_argument("--kinds", default=";".join(JOBS), help="of the table, with ; between them")
    parser.add_argument("--way", help="one way of working (default: the best of all)")
    args = parser.parse_args()
    if args.table:
        sizes = [int(size) for size in args.table.split(",")]
        table(sizes, args.kinds.split(";"), args.effort, args.way)
        return
    for file in files(args.paths):
        instance = load(file)
        plan, times = solved(instance, args.effort, args.time_limit)
        say(line(instance, plan, times))
        if args.compact:
            begin = perf_counter()
            answer = compact(instance, plan, args.compact)
            say(f"    compact model: cost {answer.cost:g}, bound {answer.bound:.3f}, {perf_counter() - begin:.1f} s")


def say(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
