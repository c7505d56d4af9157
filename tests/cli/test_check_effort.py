"""How much `check` looks for bars: where no row of stock is counted the longest bar alone tells whether they do.

Lengths by hand: a bar of 6000 with a kerf of 2 gives two pieces of 2998, and takes no piece of 6001.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.cli.check import search_effort
from mitertool.job import load, solve

PIECES = '[job]\nname = "J"\nunits = "mm"\n[nest]\nkerf = 2\n[[piece]]\nmark = "A"\nsection = "FLAT 60x10"\n'


@pytest.mark.parametrize(
    ("length", "bars", "effort", "codes"),
    [
        (2998, "", 0.0, ()),
        (6001, "", 0.0, ("too-long",)),
        (2998, "quantity = 2", 0.05, ()),
        (2998, "quantity = 1", 0.05, ("stock-short",)),
    ],
)
def test_what_is_told(tmp_path: Path, length: int, bars: str, effort: float, codes: tuple[str, ...]) -> None:
    stock = f'[[stock]]\nsection = "FLAT 60x10"\nlength = 6000\n{bars}\n'
    (tmp_path / "job.toml").write_text(f"{PIECES}length = {length}\nquantity = 4\n{stock}", encoding="utf-8")
    job = load(tmp_path / "job.toml")
    assert search_effort(job) == effort
    assert tuple(problem.code for problem in solve(job, effort=effort).found) == codes
