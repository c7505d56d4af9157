"""Jobs drawn by lot cut on the virtual saw by what plan.json tells and by the cut sheet alone; nothing is wrong.

`python -m tests.bench.virtual_saw 600` walks as many as wanted, from any seed on.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.virtual_saw import random_jobs, work

JOBS = 50
AT_ONCE = 5

SPREAD = 60
"""Jobs among which every kind of saw and section must be."""


@pytest.mark.parametrize("first", range(0, JOBS, AT_ONCE))
def test_what_falls_off_is_what_is_drawn(first: int, tmp_path: Path) -> None:
    jobs = {seed: work.by_lot(seed, tmp_path) for seed in range(first, first + AT_ONCE)}
    wrong = {seed: [*work.faults(job), *work.sheet_faults(job)] for seed, job in jobs.items()}
    assert {seed: faults for seed, faults in wrong.items() if faults} == {}


def test_a_bar_that_lies_the_other_way_over_shows_its_own_vise(tmp_path: Path) -> None:
    """An angle whose second bar begins heel up, as the first one ends, with settings that the first one has too."""
    job = work.by_lot(1035, tmp_path)
    lies = {bar.lies.words for bar in job.bars}
    assert {"heel at the bottom, fixed-jaw side", "heel at the top, moving-jaw side"} <= lies
    assert list(work.sheet_faults(job)) == []


def test_the_lot_falls_on_every_kind_of_saw_and_section() -> None:
    """What the jobs are spread over, so that none of it drops out unseen."""
    drawn = [random_jobs.job(seed) for seed in range(SPREAD)]
    files = [job.saw + job.text for job in drawn]
    wanted = (
        *('fixed_jaw = "left"', 'fixed_jaw = "right"', "square = 90", "square = 0\npositive", "two_sided = true"),
        *('positive = "feed-side"', 'positive = "discharge-side"', 'kind = "hinged"', 'kind = "column"', "offset ="),
        *("counts_kerf = true", "counts_kerf = false", "[tilt]", "bevel =", "opposite =", "[[frame]]", "lay = 90"),
        *(f'shape = "{shape}"' for shape in random_jobs.SHAPES),
        *(
            "feed_side_most = 0\n",
            "discharge_side_most = 0\n",
            'units = "in"',
            "turn =",
            "[cost]",
            "wedge_least",
            "second_kerf",
        ),
        *(
            "meets =",
            "\nkerf =",
            "grip =",
            "blade_offset = 0.3543",
            "blade_offset = 9",
            "decimals = 3",
            "root_gap = 1",
            "[arm]",
        ),
    )
    rare = {words: count for words in wanted if (count := sum(words in file for file in files)) < 2}
    assert rare == {}
    assert any("bevel =" in job.text and "[tilt]" not in job.saw for job in drawn)
    assert any("[feed]" not in job.saw for job in drawn)
