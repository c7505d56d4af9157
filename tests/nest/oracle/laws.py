"""What holds for the plan of any job: no way that is shown beside it is cheaper, and the virtual saw finds it whole."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from mitertool.job import Solution
from mitertool.nest import Alternative
from tests.virtual_saw import packets, random_jobs, work

SAME = 1e-6
"""Money, minutes and mm to which costs are one: sums in another order differ by less."""


def of_a_job(seed: int, folder: Path) -> Iterator[str]:
    """All that is wrong with the plan of a job drawn by lot."""
    drawn = random_jobs.job(seed)
    solved = packets.solution(folder, drawn.text, drawn.saw)
    yield from beaten(solved)
    yield from work.faults(work.by_lot(seed, folder))


def beaten(solved: Solution) -> Iterator[str]:
    """Every way shown that is cheaper than the chosen one, by what the plan says that it makes least."""
    assert solved.plan
    chosen, *others = solved.plan.alternatives
    for other in others:
        if _less(_worth(other), _worth(chosen)):
            yield f"{other.name} {_worth(other)} beside the chosen {_worth(chosen)}"


def _worth(one: Alternative) -> tuple[float, ...]:
    """Money where it is added up; else steel, then the time of the work, or its set-ups where nobody gives rates."""
    if one.money is not None:
        return (one.money,)
    return (one.cost, one.swings + one.tilts + one.rolls if one.minutes is None else one.minutes)


def _less(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    for a, b in zip(one, other, strict=True):
        if abs(a - b) > SAME:
            return a < b
    return False
