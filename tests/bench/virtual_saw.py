"""Walk many jobs drawn by lot on the virtual saw: `python -m tests.bench.virtual_saw [JOBS] [FIRST] [--space]`.

Each job is cut by its plan.json and by the lettering of its cut sheet, a third of a second on one core: in turn bar by
bar, by setting and mixed. With --space they are rails, hoppers, elbows, wyes and turned pieces. With --mutations
the plan is besides told wrong by one step in every place, one after another, and each that passes is printed: a second
a job. Ends in 1 where anything is wrong.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.virtual_saw import mutations, work

WAYS = ("bar by bar", "by setting", "mixed")


def wrong(seed: int, space: bool, mutated: bool) -> Iterator[str]:
    """All that is wrong with the job of a seed, and every change of it that passes."""
    made = work.in_space if space else work.by_lot
    with TemporaryDirectory() as folder:
        told = made(seed, Path(folder), WAYS[seed % len(WAYS)])
    yield from work.faults(told)
    yield from (f"on the sheet: {fault}" for fault in work.sheet_faults(told))
    for what, way, bars in mutations.of_bars(told.saw, told.bars) if mutated else ():
        if work.passes(told, bars, way):
            yield f"not caught: {what}"


def main() -> int:
    """0 where nothing is wrong."""
    numbers = [int(word) for word in sys.argv[1:] if word.isdigit()]
    jobs, first = (*numbers, *(600, 1000)[len(numbers) :])[:2]
    found = 0
    for seed in range(first, first + jobs):
        for says in wrong(seed, "--space" in sys.argv, "--mutations" in sys.argv):
            found += 1
            print(f"job {seed}: {says}", flush=True)  # noqa: T201
    print(f"{jobs} jobs from seed {first} on: {found} wrong")  # noqa: T201
    return int(found > 0)


if __name__ == "__main__":
    raise SystemExit(main())
