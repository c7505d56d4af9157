"""Many rails, elbows and hoppers by lot: `python -m tests.bench.space_loops [OF EACH] [SEED]`.

Each is put together again from its printed lengths and angles by code of its own, and once more with each miter,
bevel, roll and swing out by a hundredth of a degree, which must be seen. Ends in 1 where anything is wrong.
"""

from __future__ import annotations

import sys

from tests.laws import elbow_loops, hopper_loops, rail_loops
from tests.laws.loop import faults

KINDS = (("rail", rail_loops.loops), ("elbow", elbow_loops.loops), ("hopper", hopper_loops.loops))


def main() -> int:
    """0 where nothing is wrong."""
    count, seed = (*map(int, sys.argv[1:]), *(500, 7)[len(sys.argv) - 1 :])[:2]
    wrong = 0
    for kind, loops in KINDS:
        made = list(loops(count, seed))
        found = list(faults(kind, made))
        moved = sum(len(one.moved) for one in made)
        least = min(by for one in made for _, by in one.moved)
        says = f"{count} of {kind} from seed {seed} on, furthest off {max(one.missed for one in made):.1g} mm"
        print(*found, f"{says}; {moved} numbers moved, least seen {least:.1g} mm: {len(found)} wrong", sep="\n")  # noqa: T201
        wrong += len(found)
    return int(wrong > 0)


if __name__ == "__main__":
    raise SystemExit(main())
