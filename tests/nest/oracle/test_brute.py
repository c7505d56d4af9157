"""The brute force itself, against jobs worked by hand.

A tube 40 wide, kerf 2, trim 10, grip 50. A frame side of 300 on the centerline leads with slope -1 and trails with +1,
or turned +1 and -1; two that share a cut take 10 + 20 + 600 + 2.83 + 20 + 2.83 + 50 = 705.7 of a bar.
"""

from __future__ import annotations

from dataclasses import replace
from math import inf

import pytest

from tests.nest.oracle.brute import best
from tests.nest.oracle.model import Job, Piece, Rates, Section, Shop, Stock

SIDE = Piece("tube", 300, 1, 1, "IZXY")
SHOP = Shop(kerf=2, trim=10, grip=50)
DEAR_SWINGS = replace(SHOP, rates=Rates(swing=20, roll=30, load=3, recut=1))


def job(pieces: tuple[Piece, ...], length: float, shop: Shop = SHOP, quantity: int | None = None) -> Job:
    """Bars of a length, at 1000 each."""
    sections = {"tube": Section(40, over=True), "leg": Section(40, over=False)}
    return Job(pieces, sections, (Stock(pieces[0].section, length, 1000, quantity),), shop)


def test_three_sides_a_bar() -> None:
    """-1 +1 -1 +1 | +1 -1 +1 -1: three swings a bar and none between."""
    assert best(job((SIDE,) * 6, 1100), ("bar by bar",)) == (2000, 6)


def test_an_arm_that_goes_one_way_rolls_the_bar() -> None:
    """Slopes -1, +1, -1 with the arm at 45: the bar is laid in for the first, and rolled twice."""
    assert best(job((SIDE,) * 2, 1000, replace(SHOP, discharge_most=0)), ("bar by bar",)) == (1000, 2)


def test_a_bar_is_filled_to_its_end() -> None:
    need = 10 + 20 + 600 + 20 + 2 * 8**0.5 + 50
    assert best(job((SIDE,) * 2, need), ("bar by bar",))[0] == 1000
    assert best(job((SIDE,) * 2, need - 0.001), ("bar by bar",))[0] == 2000


def test_blanks_save_the_swings_where_a_recut_is_cheap() -> None:
    """Bar by bar: a load and two swings, 43. Blanks with both ends at -1 are recut at +1, or rolled at -1, which is
    where the arm stands: a load and two recuts, 5. A blank is 300 + 2.83 + 40 long."""
    assert best(job((SIDE,) * 2, 1000, DEAR_SWINGS), ("bar by bar",))[0] == pytest.approx(1043)
    assert best(job((SIDE,) * 2, 1000, DEAR_SWINGS))[0] == pytest.approx(1005)
    need = 10 + 20 + 2 * (340 + 8**0.5) + 8**0.5 + 20 + 8**0.5 + 50
    assert best(job((SIDE,) * 2, need, DEAR_SWINGS), ("by setting",))[0] == pytest.approx(1005)
    assert best(job((SIDE,) * 2, need - 0.01, DEAR_SWINGS, 1), ("by setting",)) == (inf, inf)


def test_an_angle_has_one_pose_and_is_not_rolled() -> None:
    """Slopes -1, +1 twice, nothing shared: two kerfs and a wedge of 40 between; three swings."""
    leg = replace(SIDE, section="leg", poses="I")
    need = 10 + 20 + 600 + 2 * 8**0.5 + 40 + 20 + 8**0.5 + 50
    assert best(job((leg,) * 2, need), ("bar by bar",)) == (1000, 3)
    assert best(job((leg,) * 2, need - 0.01), ("bar by bar",))[0] == 2000
    over = replace(SHOP, over_the_tip=True)
    assert best(job((leg,) * 2, need - 8**0.5, over), ("bar by bar",)) == (1000, 3)


def test_stock_that_runs_out() -> None:
    assert best(job((SIDE,) * 4, 750, quantity=1)) == (inf, inf)
