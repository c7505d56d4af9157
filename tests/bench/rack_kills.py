"""Kills a booking run at random moments, so many times as the first argument says, and checks the rack each time.

python -m tests.bench.rack_kills 300
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from tests.rack.killed import full, killed_at_random


def main() -> int:
    """Tell what did not hold; 0 where all did."""
    times = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "rack.sqlite"
        full(path)
        found = killed_at_random(path, times, seed=7)
    lines = [f"{times} kills, {len(found)} of them left a rack that does not hold", *found]
    sys.stdout.write("\n".join(lines) + "\n")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
