"""Many loops and chains in space by lot: `python -m tests.bench.space_loops [RAILS] [SEED]`.

Each is put together again from its printed lengths and angles by `tests.laws.chain`, and once more with each miter,
bevel and roll out by a hundredth of a degree, which must be seen. Ends in 1 where anything is wrong.
"""

from __future__ import annotations

import sys

from tests.laws.space_loops import faults


def main() -> int:
    """0 where nothing is wrong."""
    rails, seed = (*map(int, sys.argv[1:]), *(500, 7)[len(sys.argv) - 1 :])[:2]
    found = list(faults(rails, seed))
    for says in found:
        print(says)  # noqa: T201
    print(f"{rails} rails from seed {seed} on: {len(found)} wrong")  # noqa: T201
    return int(bool(found))


if __name__ == "__main__":
    raise SystemExit(main())
