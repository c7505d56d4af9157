"""Small jobs drawn by lot beside a brute force: `python -m tests.bench.nest_oracle [JOBS] [FIRST] [MOST]`.

Each has two to MOST pieces (5 where none is given; six take seconds), and is planned twice: with stock beyond count,
and with no more bars than it takes bar by bar. Prints every job whose plan costs more, or less, than the cheapest over
all ways and orders; ends in 1 where there is one.
"""

from __future__ import annotations

import sys

from mitertool.nest import BAR_BY_BAR, solve
from tests.nest.oracle import jobs
from tests.nest.oracle.brute import best
from tests.nest.oracle.model import Job


def beaten(job: Job) -> str:
    """What is wrong with the plan of a job; "" where it is the best."""
    items, stock, allowance = jobs.made(job)
    plan = solve(items, stock, allowance, arm=jobs.arm(job), rates=jobs.rates(job))
    found = (plan.shop_cost, 0) if job.shop.rates else (plan.cost, plan.setups)
    least = best(job)
    same = abs((found[0] or 0.0) - least[0]) <= 1e-6 and found[1] == least[1]
    by_bar = f", bar by bar {best(job, (BAR_BY_BAR,))}"
    return "" if same else f"plan {found} {plan.way}, proved {plan.proved}; best {least}{by_bar}"


def main() -> int:
    """0 where every plan is the best."""
    numbers = [int(word) for word in sys.argv[1:] if word.isdigit()]
    jobs_asked, first, most = (*numbers, *(100, 0, 5)[len(numbers) :])[:3]
    wrong = 0
    for seed in range(first, first + jobs_asked):
        job = jobs.by_lot(seed, most)
        for name, one in (("", job), (", stock as bar by bar", jobs.tight(job))):
            if says := beaten(one):
                wrong += 1
                print(f"job {seed}{name}: {says}", flush=True)  # noqa: T201
    print(f"{jobs_asked} jobs from seed {first} on: {wrong} wrong")  # noqa: T201
    return int(wrong > 0)


if __name__ == "__main__":
    raise SystemExit(main())
