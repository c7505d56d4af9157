"""The laws of plans over many jobs drawn by lot: `python -m tests.bench.plan_laws [JOBS] [FIRST]`, 500 from 0 on.

No way that `nest --compare` shows is cheaper than the chosen plan, and the virtual saw finds the plan whole. Half a
second a job; ends in 1 where anything is wrong.
"""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.nest.oracle import laws


def main() -> int:
    """0 where nothing is wrong."""
    jobs, first = (*map(int, sys.argv[1:]), *(500, 0)[len(sys.argv) - 1 :])[:2]
    wrong = 0
    for seed in range(first, first + jobs):
        with TemporaryDirectory() as folder:
            found = list(laws.of_a_job(seed, Path(folder)))
        wrong += len(found)
        for says in found:
            print(f"job {seed}: {says}", flush=True)  # noqa: T201
    print(f"{jobs} jobs from seed {first} on: {wrong} wrong")  # noqa: T201
    return int(wrong > 0)


if __name__ == "__main__":
    raise SystemExit(main())
