"""How often a job asks the saw: every cut once, however many marks, poses and bars it comes on."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from tests.job.test_solve import WITH_SAW, piece, solved, stock

TWO_WAY = """
[saw]
name = "s"
kind = "column"
kerf = 2
[scale]
square = 0
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 60
[vise]
fixed_jaw = "left"
"""

ONE_WAY = TWO_WAY.replace("discharge_side_most = 60", "discharge_side_most = 0")

JOB = (
    WITH_SAW
    + piece("A", "SHS 50x50x3", "left = 45\nright = 45\nquantity = 6", 900)
    + piece("B", "SHS 50x50x3", "left = 45\nright = 45\nquantity = 4", 700)
    + piece("C", "SHS 50x50x3", "left = 45\nright = 0\nquantity = 4", 800)
    + stock("SHS 50x50x3", 2500)
)
"""Ends on the bar: left 45, right 45, right 0, in every pose of a square tube."""


SEVERAL = "mitertool.saw.setting.reach", "mitertool.saw.setting.asked"
"""The modules in which a saw answers."""


def count(monkeypatch: pytest.MonkeyPatch, name: str, arguments: int) -> list[tuple[Any, ...]]:
    """The first arguments of every call of a function of those modules, from here on."""
    found: list[tuple[Any, ...]] = []
    for module in map(import_module, SEVERAL):
        plain = getattr(module, name, None)
        if plain:

            def noted(*all_of_them: Any, plain: Any = plain) -> Any:
                found.append(all_of_them[:arguments])
                return plain(*all_of_them)

            monkeypatch.setattr(module, name, noted)
    return found


def key(setting: Any) -> tuple[Any, ...]:
    """What tells settings of one saw apart: the section as it lies, rolled where it is, and the angles."""
    return setting.section, setting.swing, setting.tilt


@pytest.mark.parametrize("saw", [TWO_WAY, ONE_WAY], ids=["two ways", "one way"])
def test_each_way_to_set_a_cut_is_solved_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, saw: str) -> None:
    """14 pieces on five bars or more. On the bar there are slopes of 1, -1 and 0, as it lies and half a turn over: six
    ways to set a saw, each solved no more than once for the cards, the plan and the lists together."""
    solves = count(monkeypatch, "reasons", 1)
    solution = solved(tmp_path, JOB, saw)
    assert sum(run.bar.count for run in solution.runs) >= 5
    assert all(run.stops for run in solution.runs)
    ways = [key(setting) for (setting,) in solves]
    assert len(ways) == len(set(ways)) <= 6


def test_bars_ask_for_no_cut_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Left 45, right 45 and right 0 are all the cuts of three marks and 14 pieces; bars take what the plan has set."""
    asked = count(monkeypatch, "answered", 4)
    solution = solved(tmp_path, JOB, TWO_WAY)
    assert sum(run.bar.count for run in solution.runs) >= 5
    assert len(asked) == len(set(asked)) == 3
