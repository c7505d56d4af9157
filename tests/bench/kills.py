"""Deeds of mitertool ended at COUNT moments each: every one leaves the old or the new, whole, and nothing beside it.

python -m tests.bench.kills 300 SEED [DEED ...]

Half of the moments lie at a step of the writing (tests/kills/steps.py), half come by the clock, a third of these while
a new process loads or later, each by lot; the signal is SIGKILL, SIGINT and SIGTERM in turn. After each the folder is
looked at, and the deed is done once more.
"""

from __future__ import annotations

import signal
import sys
import tempfile
from collections import Counter
from pathlib import Path
from random import Random

from tests.kills.deeds import DEEDS
from tests.kills.killed import Moment, Tried

SIGNALS = (signal.SIGKILL, signal.SIGINT, signal.SIGTERM)


def _moment(number: int, tried: Tried, lot: Random) -> Moment:
    sent = SIGNALS[number % 3]
    if tried.steps and number % 2:
        return Moment(sent, lot.randint(1, tried.steps))
    new = number // 2 % 3 == 0
    return Moment(sent, clock=lot.uniform(0, tried.seconds[new]), new=new)


def main() -> int:
    """Tell how the folders stood, and what was wrong; 0 where nothing was."""
    signal.signal(signal.SIGINT, signal.default_int_handler)  # a run behind a shell ignores it, and all that it begins
    count, seed, *names = sys.argv[1:] or ("300", "1")
    lot, wrong = Random(int(seed)), 0
    for name in names or DEEDS:
        stood: Counter[str] = Counter()
        with tempfile.TemporaryDirectory() as place:
            tried = Tried.of(name, Path(place))
            for number in range(int(count)):
                moment = _moment(number, tried, lot)
                trial = tried.disturbed(moment)
                stood[f"{signal.Signals(moment.number).name} {trial.stands}"] += 1
                if trial.wrong:
                    wrong += 1
                    sys.stdout.write(f"{trial.wrong}\n")
                    sys.stdout.flush()
        told = ", ".join(f"{how} {times}" for how, times in sorted(stood.items()))
        sys.stdout.write(f"{name}, {tried.steps} steps, {count} moments: {told}\n")
        sys.stdout.flush()
    sys.stdout.write(f"{wrong} left something else than the old or the new\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
